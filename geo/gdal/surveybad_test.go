package gdal

import (
	"context"
	"fmt"
	"math"
	socket "net"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/survey"
)

// Each is refused in one sentence that says what to do.
func savedSite(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	if err := SaveSite(path, plot(t)); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestWhatCannotBeASurveyIsRefusedInOneSentence(t *testing.T) {
	raster := tiff{kind: 6, w: 4, h: 4, t: upright, crs: "EPSG:32610", cells: slope(4, 4)}.write(t)
	for name, c := range map[string]struct{ path, want string }{
		"a virtual file":          {put(t, "other.vrt", `<OGRVRTDataSource><OGRVRTLayer name="a"><SrcDataSource>/etc/passwd</SrcDataSource></OGRVRTLayer></OGRVRTDataSource>`), "cannot be read as a drawing"},
		"one that says it is not": {put(t, "other.geojson", `<OGRVRTDataSource><OGRVRTLayer name="a"><SrcDataSource>/etc/passwd</SrcDataSource></OGRVRTLayer></OGRVRTDataSource>`), "cannot be read as a drawing"},
		"a zip":                   {put(t, "knoll.zip", "PK\x03\x04"), "is packed; unpack it"},
		"a KMZ":                   {put(t, "knoll.kmz", "PK\x03\x04"), "is packed; unpack it"},
		"a zip with another name": {put(t, "knoll.kml", "PK\x03\x04\x14\x00"), "whatever its name says; unpack it"},
		"a gzip with that name":   {put(t, "knoll.csv", "\x1f\x8b\x08\x00"), "whatever its name says; unpack it"},
		"a raster":                {raster, "it is a raster, not lines or points; bring it in as a ground"},
		"a grid of text":          {put(t, "knoll.asc", "ncols 2\nnrows 2\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2\n3 4\n"), "bring it in as a raster"},
		"a letter":                {put(t, "letter.txt", "Dear neighbour,\nthe wall is too low.\n"), "no table of points"},
		"thousands set apart":     {put(t, "p.csv", "x;y;z\n1.234,50;2.345,50;1,5\n"), "without marks between the thousands"},
		"commas of two sorts":     {put(t, "p.csv", "x,y,z\n100,5,200,25,30,5\n101,5,201,25,31,5\n"), "put a semicolon or a tab"},
		"a collection of nothing": {put(t, "none.geojson", collection()), "holds no points, lines or areas"},
		"an unknown system":       {put(t, "a.geojson", inEPSG("99999", "[1,2]")), "names a reference system that is not known"},
		"eastings as degrees":     {put(t, "a.geojson", collection(feature(`{"type":"Point","coordinates":[523440,4811080,3]}`))), "is no longitude and latitude"},
		"a site":                  {savedSite(t), "it is a site that Runnel saved, not contours or points; open it"},
		"an inline text":          {"{\"type\":\"Point\"}", "not a file on this computer"},
	} {
		_, _, _, err := ReadSurvey(context.Background(), c.path, SurveyOptions{Form: survey.Contours})
		if err == nil || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: error %v, want %q", name, err, c.want)
		}
		if _, err := LookAt(context.Background(), c.path); err != nil && strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: a look says %q", name, err)
		}
	}
}

func TestASurveyThatMakesNoSenseIsRefused(t *testing.T) {
	path := knollGeoJSON(t)
	for want, o := range map[string]SurveyOptions{
		"contours or points":            {Form: survey.Raster},
		`"miles" is not known`:          {Form: survey.Contours, Unit: "miles"},
		"give 0 or more":                {Form: survey.Contours, Error: -1},
		`it has no field "depth"`:       {Form: survey.Contours, Height: "depth"},
		"is not a reference system":     {Form: survey.Contours, System: "the moon"},
		"it has no layer roads":         {Form: survey.Contours, Layers: []string{"roads"}},
		"EPSG:99999 is not a known ref": {Form: survey.Contours, System: "EPSG:99999"},
	} {
		if _, _, _, err := ReadSurvey(context.Background(), path, o); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	many := strings.Repeat(feature(`{"type":"Point","coordinates":[1,2,3]}`)+",", 2000)
	if _, _, _, err := ReadSurvey(ctx, put(t, "a.geojson", collection(strings.TrimSuffix(many, ","))), SurveyOptions{Form: survey.Points}); err == nil || !strings.Contains(err.Error(), "canceled") {
		t.Errorf("cancelled: %v", err)
	}
}

// A file that is too large is refused by its size: it has holes, so it takes no disk.
func TestASurveyThatIsTooLargeIsRefusedBeforeItIsRead(t *testing.T) {
	for _, path := range []string{knollGeoJSON(t), put(t, "p.csv", "x,y,z\n1,2,3\n1,2,3\n")} {
		if err := os.Truncate(path, 3<<30); err != nil {
			t.Skip("this disk has no files with holes")
		}
		if _, err := LookAt(context.Background(), path); err == nil || !strings.Contains(err.Error(), "3.0 GB") || !strings.Contains(err.Error(), "cut it to the site") {
			t.Errorf("error %v", err)
		}
	}
}

// pointing writes files that point to an address, and to a file beside them.
func pointing(t *testing.T, url string) map[string]string {
	secret := put(t, "secret.kml", `<kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><name>secret</name><Point><coordinates>1,2,3</coordinates></Point></Placemark></kml>`)
	own := `<Placemark><name>own</name><Point><coordinates>-123,46.9,7</coordinates></Point></Placemark>`
	kml := func(inside string) string {
		return `<kml xmlns="http://www.opengis.net/kml/2.2"><Document>` + inside + own + `</Document></kml>`
	}
	return map[string]string{
		"a link to a server":   put(t, "a.kml", kml(`<NetworkLink><Link><href>`+url+`</href></Link></NetworkLink>`)),
		"a link to a file":     put(t, "a.kml", kml(`<NetworkLink><Link><href>`+secret+`</href></Link></NetworkLink>`)),
		"a style on a server":  put(t, "a.kml", kml(`<styleUrl>`+url+`#s</styleUrl><Style id="x"><IconStyle><Icon><href>`+url+`</href></Icon></IconStyle></Style>`)),
		"an overlay":           put(t, "a.kml", kml(`<GroundOverlay><Icon><href>`+url+`</href></Icon></GroundOverlay>`)),
		"an entity of a file":  put(t, "a.kml", `<!DOCTYPE kml [<!ENTITY s SYSTEM "file://`+secret+`">]>`+kml(`<name>&s;</name>`)),
		"a GPX with an entity": put(t, "a.gpx", `<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY s SYSTEM "`+url+`">]><gpx version="1.1"><wpt lat="46.9" lon="-123"><ele>7</ele><name>&s;</name></wpt></gpx>`),
		"a system on a server": put(t, "a.geojson", `{"type":"FeatureCollection","crs":{"type":"URL","properties":{"url":"`+url+`"}},"features":[`+feature(`{"type":"Point","coordinates":[-123,46.9,7]}`)+`]}`),
		"a system by a link":   put(t, "a.geojson", `{"type":"FeatureCollection","crs":{"type":"link","properties":{"href":"`+url+`"}},"features":[`+feature(`{"type":"Point","coordinates":[-123,46.9,7]}`)+`]}`),
		"a system by its name": put(t, "a.geojson", `{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"`+url+`"}},"features":[`+feature(`{"type":"Point","coordinates":[-123,46.9,7]}`)+`]}`),
		"a virtual file":       put(t, "a.vrt", `<OGRVRTDataSource><OGRVRTLayer name="a"><SrcDataSource>`+secret+`</SrcDataSource></OGRVRTLayer></OGRVRTDataSource>`),
		"one on a server":      put(t, "a.vrt", `<OGRVRTDataSource><OGRVRTLayer name="a"><SrcDataSource>/vsicurl/`+url+`</SrcDataSource></OGRVRTLayer></OGRVRTDataSource>`),
	}
}

// Nothing asks a server that listens, and files beside are not opened.
func TestWhatAFilePointsToIsNotFollowed(t *testing.T) {
	server, err := socket.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Skip("no server can be made here")
	}
	defer server.Close()
	var asked atomic.Int32
	go func() {
		for {
			c, err := server.Accept()
			if err != nil {
				return
			}
			asked.Add(1)
			c.Close()
		}
	}()
	for name, path := range pointing(t, "http://"+server.Addr().String()+"/a.kml") {
		l, err := LookAt(context.Background(), path)
		if err != nil && strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", name, err)
		}
		points := 0
		for _, y := range l.Layers {
			points += y.Points
			if strings.Contains(fmt.Sprint(y), "secret") {
				t.Errorf("%s: the look knows the other file: %+v", name, y)
			}
		}
		if points > 1 {
			t.Errorf("%s: %d points", name, points)
		}
		s, _, _, err := ReadSurvey(context.Background(), path, SurveyOptions{Form: survey.Points})
		if err != nil && strings.Contains(err.Error(), "\n") || len(s.Spots) > 1 {
			t.Errorf("%s: %d points, %v", name, len(s.Spots), err)
		}
		if n := asked.Swap(0); n != 0 {
			t.Errorf("%s: the server is asked %d times", name, n)
		}
	}
}

// Entities that stand for ever more of each other.
func TestEntitiesThatGrowAreRefused(t *testing.T) {
	var b strings.Builder
	b.WriteString(`<!DOCTYPE x [<!ENTITY a0 "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa">`)
	for i := 1; i < 12; i++ {
		fmt.Fprintf(&b, `<!ENTITY a%d "%s">`, i, strings.Repeat(fmt.Sprintf("&a%d;", i-1), 10))
	}
	b.WriteString("]>")
	for _, path := range []string{
		put(t, "a.kml", b.String()+`<kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><name>&a11;</name><Point><coordinates>1,2</coordinates></Point></Placemark></kml>`),
		put(t, "a.gpx", `<?xml version="1.0"?>`+b.String()+`<gpx version="1.1"><wpt lat="1" lon="2"><name>&a11;</name></wpt></gpx>`),
	} {
		l, err := LookAt(context.Background(), path)
		if err == nil && len(l.Layers) > 0 && l.Layers[0].Points > 0 && len(l.Layers[0].Fields) > 0 && len(l.Layers[0].Fields[0].Samples) > 0 && len(l.Layers[0].Fields[0].Samples[0]) > 1000 {
			t.Errorf("%+v", l)
		}
		if err != nil && strings.Contains(err.Error(), "\n") {
			t.Errorf("%q", err)
		}
	}
}

func TestLinesWithoutAHeightAreKept(t *testing.T) {
	line := func(z string) string {
		return `{"type":"Feature","properties":{"elev":` + z + `},"geometry":{"type":"LineString","coordinates":[[-123,46.9],[-123.001,46.9]]}}`
	}
	s, _, notes := surveyed(t, put(t, "a.geojson", collection(line("5"), line("null"), line(`"n/a"`), line(`"6,5"`), line(`"high"`))), SurveyOptions{Form: survey.Contours})
	if len(s.Lines) != 5 || s.Lines[0].Level() != 5 || s.Lines[3].Level() != 6.5 || !math.IsNaN(s.Lines[1].Level()) || !math.IsNaN(s.Lines[2].Level()) || s.Lines[1].Use != survey.Contour {
		t.Errorf("%+v, notes %q", s.Lines, notes)
	}
	if !noted(notes, "3 of 5 lines have no height") || !noted(notes, "1 values of elev are not numbers") {
		t.Errorf("notes %q", notes)
	}
	s, _, notes = surveyed(t, put(t, "a.geojson", collection(line("5"))), SurveyOptions{Form: survey.Contours, Height: NoHeight})
	if len(s.Lines) != 1 || s.Lines[0].Known() || !noted(notes, "1 of 1 lines") {
		t.Errorf("%+v, notes %q", s.Lines, notes)
	}
}

func TestALineThatClimbsIsABreakline(t *testing.T) {
	path := put(t, "a.geojson", collection(
		feature(`{"type":"LineString","coordinates":[[-123,46.9,5],[-123.001,46.9,6]]}`),
		feature(`{"type":"LineString","coordinates":[[-123,46.91,5],[-123.001,46.91,5]]}`),
		feature(`{"type":"Polygon","coordinates":[[[-123,46.9,1],[-123.1,46.9,2],[-123,46.95,3],[-123,46.9,1]]]}`)))
	s, _, notes := surveyed(t, path, SurveyOptions{Form: survey.Contours, Height: ZHeight})
	if len(s.Lines) != 3 || s.Lines[0].Use != survey.Break || len(s.Lines[0].Z) != 2 || s.Lines[1].Use != survey.Contour || s.Lines[1].Level() != 5 || s.Lines[2].Use != survey.Edge || s.Lines[2].Height(1) != 2 {
		t.Errorf("%+v", s.Lines)
	}
	if !noted(notes, "1 lines change along them") {
		t.Errorf("notes %q", notes)
	}
	if math.Abs(s.Lines[0].At[0][0]-s.Lines[0].At[1][0]) < 50 || s.Lines[0].At[0] == (orb.Point{}) {
		t.Errorf("not in metres: %v", s.Lines[0].At)
	}
}

// Whatever comes, it is a survey of numbers in metres, or one sentence.
func FuzzReadSurvey(f *testing.F) {
	f.Add([]byte(collection(feature(`{"type":"MultiPolygon","coordinates":[[[[1,2],[3,2],[3,4],[1,2]]]]}`), feature(`{"type":"Point","coordinates":[1,2,3]}`))))
	f.Add([]byte("0\nSECTION\n2\nENTITIES\n0\nLINE\n8\n0\n10\n1\n20\n2\n30\n5\n11\n3\n21\n4\n31\n5\n0\nENDSEC\n0\nEOF\n"))
	f.Add([]byte("0\nSECTION\n2\nENTITIES\n0\nINSERT\n8\n0\n2\nA\n10\n1\n20\n2\n0\nHATCH\n8\n0\n0\nENDSEC\n0\nEOF\n"))
	f.Add([]byte(`<kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><LineString><coordinates>1,2,3 2,3,3</coordinates></LineString></Placemark></kml>`))
	f.Add([]byte(`<?xml version="1.0"?><gpx version="1.1"><trk><trkseg><trkpt lat="1" lon="2"><ele>3</ele></trkpt></trkseg></trk></gpx>`))
	f.Add([]byte("x,y,z,code\n1,2,3,KB1\n2,3,,KB1\n"))
	path := filepath.Join(f.TempDir(), "survey.any")
	f.Fuzz(func(t *testing.T, text []byte) {
		if err := os.WriteFile(path, text, 0o644); err != nil {
			t.Fatal(err)
		}
		_, lookErr := LookAt(context.Background(), path)
		s, _, _, err := ReadSurvey(context.Background(), path, SurveyOptions{Form: survey.Contours, System: "EPSG:32610", Uses: map[string]survey.Use{"KB": survey.Kerb}})
		for _, err := range []error{lookErr, err} {
			if err != nil && strings.Contains(err.Error(), "\n") {
				t.Fatalf("more than one line: %q", err)
			}
		}
		for _, l := range s.Lines {
			if len(l.At) < 2 || len(l.Z) > 1 && len(l.Z) != len(l.At) {
				t.Fatalf("a line of %d points and %d heights", len(l.At), len(l.Z))
			}
		}
		for _, p := range s.Spots {
			if !finite(p.At) || math.IsInf(p.Z, 0) || int(p.Code) >= len(s.Sources[0].Codes) {
				t.Fatalf("%+v", p)
			}
		}
	})
}
