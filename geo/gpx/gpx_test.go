package gpx

import (
	"encoding/xml"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

func written(t *testing.T, f File) string {
	t.Helper()
	var b strings.Builder
	if err := Write(&b, f); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The schema of GPX 1.1 (topografix.com/GPX/1/1/gpx.xsd) makes sequences of gpx's
// metadata, wpt, rte and of a point's ele, name, desc.
func TestElementsStandInTheOrderOfTheSchema(t *testing.T) {
	p := Point{At: orb.Point{-26.5, 43.25}, Elevation: 83.9342, Name: "7", About: "bed"}
	text := written(t, File{Name: "Plot", About: "Test", Points: []Point{p}, Routes: []Route{{"Channel", []Point{p, p}}}})
	var order []string
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if err != nil {
			break
		}
		if start, ok := token.(xml.StartElement); ok {
			if start.Name.Space != "http://www.topografix.com/GPX/1/1" {
				t.Errorf("%s is in the namespace %q", start.Name.Local, start.Name.Space)
			}
			order = append(order, start.Name.Local)
		}
	}
	want := "gpx metadata name desc wpt ele name desc rte name rtept ele name desc rtept ele name desc"
	if got := strings.Join(order, " "); got != want {
		t.Errorf("elements are %s\nwant %s", got, want)
	}
	for _, part := range []string{`<wpt lat="43.250000000" lon="-26.500000000">`, "<ele>83.934</ele>", `version="1.1"`, `creator="Runnel"`} {
		if !strings.Contains(text, part) {
			t.Errorf("%s is not in\n%s", part, text)
		}
	}
}

func TestPlacesThatAreNowhereAreRefused(t *testing.T) {
	for _, at := range []orb.Point{{0, 90.1}, {0, -91}, {181, 0}, {-180.5, 0}, {math.NaN(), 0}, {0, math.NaN()}, {math.Inf(1), 0}, {523413, 4811160}} {
		if err := Write(&strings.Builder{}, File{Points: []Point{{At: at}}}); err == nil {
			t.Errorf("%v is written", at)
		}
		if err := Write(&strings.Builder{}, File{Routes: []Route{{"", []Point{{At: at}}}}}); err == nil {
			t.Errorf("%v is written in a route", at)
		}
	}
	// The schema's longitudes are less than 180.
	if text := written(t, File{Points: []Point{{At: orb.Point{180, 0}, Elevation: math.NaN()}}}); !strings.Contains(text, `lon="-180.000000000"`) || strings.Contains(text, "<ele>") {
		t.Errorf("longitude 180 without an elevation is %s", text)
	}
}

func TestAnyTextIsSoundXML(t *testing.T) {
	text := written(t, File{Name: "a <b> & \x00\x1f\"c\"\xff\uFFFE é", Points: []Point{{Name: "]]>\x08", Elevation: math.Inf(1)}}})
	var d document
	if err := xml.Unmarshal([]byte(text), &d); err != nil {
		t.Fatalf("%v in %s", err, text)
	}
	if want := "a <b> &   \"c\"   é"; d.Metadata.Name != want {
		t.Errorf("the name comes back as %q, want %q", d.Metadata.Name, want)
	}
}
