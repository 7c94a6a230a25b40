package gdal

import (
	"context"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"runnel/geo"
	"runnel/geo/crs"
	"runnel/geo/survey"
)

// written is a file of level lines whose heights are texts.
func written(t *testing.T, heights ...string) string {
	t.Helper()
	var all []string
	for i, h := range heights {
		all = append(all, fmt.Sprintf(`{"type":"Feature","properties":{"elev":%q},"geometry":{"type":"LineString","coordinates":[[500000,%d],[500100,%d]]}}`,
			h, 5000000+10*i, 5000000+10*i))
	}
	return put(t, "written.geojson", `{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::32631"}},"features":[`+strings.Join(all, ",")+`]}`)
}

// A foot is 0.3048 m: international yard and pound agreement, 1959.
func TestAHeightMayHaveACommaAndItsUnitBehindIt(t *testing.T) {
	for unit, c := range map[string]struct {
		texts []string
		want  []float64
	}{
		"m":  {[]string{"100,5 m", "101.5 m", "102,5m", "103"}, []float64{100.5, 101.5, 102.5, 103}},
		"ft": {[]string{"330 ft", "100 m", "331,5 FT."}, []float64{330 * geo.Foot, 100, 331.5 * geo.Foot}},
	} {
		path := written(t, c.texts...)
		if l := look(t, path); l.Layers[0].Height != "elev" || !l.Layers[0].Fields[0].Number {
			t.Errorf("%s: a look finds heights in %q", unit, l.Layers[0].Height)
		}
		s, _, notes := surveyed(t, path, SurveyOptions{Form: survey.Contours})
		if s.Sources[0].Unit != unit {
			t.Errorf("heights with %s are in %s, with %q", unit, s.Sources[0].Unit, notes)
		}
		for i, l := range s.Lines {
			if math.Abs(l.Level()-c.want[i]) > 1e-9 {
				t.Errorf("%q is %g m, want %g m", c.texts[i], l.Level(), c.want[i])
			}
		}
	}
	for _, text := range []string{"", "m", "5 kg", "5 6 m", "ft 5"} {
		if v, _, ok := heightIn(text); ok {
			t.Errorf("%q is %g", text, v)
		}
	}
}

func TestAShapefileThatLacksPartsSaysSo(t *testing.T) {
	shape := as(t, "ESRI Shapefile", "levels.shp")
	stem := strings.TrimSuffix(shape, ".shp")
	for _, ending := range []string{".shx", ".dbf"} {
		if err := os.Remove(stem + ending); err != nil {
			t.Fatal(err)
		}
	}
	l := look(t, shape)
	if l.Layers[0].Name != "levels" || !noted(l.Notes, ".dbf is missing") {
		t.Errorf("layer %q, with %q", l.Layers[0].Name, l.Notes)
	}
	s, _, notes := surveyed(t, shape, SurveyOptions{Form: survey.Contours, Height: NoHeight, System: "EPSG:32610"})
	if n := len(s.Lines); !noted(notes, fmt.Sprintf("%d of %d have no height: its .dbf is missing", n, n)) {
		t.Errorf("%d lines, with %q", n, notes)
	}
}

func TestLinksOfAKMLFileAreToldNotFollowed(t *testing.T) {
	kml := func(more string) string {
		return put(t, "net.kml", `<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document><NetworkLink><Link><href>a.kml</href></Link></NetworkLink>`+more+`</Document></kml>`)
	}
	const only = "only links to other files, which are not followed"
	bare := kml("")
	var zone crs.CRS
	if err := do(func() (err error) { zone, err = lookup("EPSG:32631"); return err }); err != nil {
		t.Fatal(err)
	}
	if _, err := LookAt(context.Background(), bare); err == nil || !strings.Contains(err.Error(), only) {
		t.Errorf("a look: %v", err)
	}
	if _, _, _, err := ReadSurvey(context.Background(), bare, SurveyOptions{Form: survey.Contours}); err == nil || !strings.Contains(err.Error(), only) {
		t.Errorf("a survey: %v", err)
	}
	if _, _, err := ReadDrawn(context.Background(), bare, DrawnOptions{To: zone}); err == nil || !strings.Contains(err.Error(), only) {
		t.Errorf("a drawing: %v", err)
	}
	point := kml(`<Placemark><Point><coordinates>3,45,7</coordinates></Point></Placemark>`)
	if l := look(t, point); !noted(l.Notes, "links to other files are not followed") {
		t.Errorf("beside a point: %q", l.Notes)
	}
	if _, notes, err := ReadDrawn(context.Background(), point, DrawnOptions{To: zone}); err != nil || !noted(notes, "links to other files are not followed") {
		t.Errorf("a drawing beside a point: %v, %q", err, notes)
	}
}
