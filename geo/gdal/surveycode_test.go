package gdal

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/survey"
	"runnel/geo/table"
)

func TestPointsOfOneCodeAreALine(t *testing.T) {
	path := put(t, "p.csv", "n,e,z,code\n0,0,1,GS\n0,10,1.1,KB1\n5,0,2,KB2 start\n0,20,1.2,kb1\n5,10,,KB2\n9,9,3,TB\n0,0,,ED\n0,30,,ED\n30,30,,ED\n1,1,1,GS\n")
	o := SurveyOptions{Form: survey.Points, System: "m", Uses: map[string]survey.Use{"KB": survey.Kerb, "TB": survey.Break, "ED": survey.Edge}}
	s, c, notes := surveyed(t, path, o)
	if c.Known() || c.Metre != 1 || len(s.Lines) != 3 || len(s.Spots) != 3 {
		t.Fatalf("%d lines, %d points in %+v, notes %q", len(s.Lines), len(s.Spots), c, notes)
	}
	first, second, edge := s.Lines[0], s.Lines[1], s.Lines[2]
	if first.Use != survey.Kerb || !first.At.Equal(orb.LineString{{10, 0}, {20, 0}}) || first.Height(0) != 1.1 || first.Height(1) != 1.2 || first.Number != 1 {
		t.Errorf("KB1 is %+v", first)
	}
	if second.Use != survey.Kerb || !second.At.Equal(orb.LineString{{0, 5}, {10, 5}}) || second.Height(0) != 2 || !math.IsNaN(second.Height(1)) {
		t.Errorf("KB2 is %+v", second)
	}
	if edge.Use != survey.Edge || len(edge.At) != 4 || edge.At[3] != edge.At[0] || edge.Z != nil {
		t.Errorf("the edge is %+v", edge)
	}
	if codes := s.Sources[0].Codes; codes[s.Spots[0].Code] != "GS" || codes[s.Spots[2].Code] != "TB" || s.Spots[0].Row != 2 || s.Spots[1].Row != 11 {
		t.Errorf("points %+v of codes %q", s.Spots, codes)
	}
	if !noted(notes, "7 points are joined to 3 lines") || !noted(notes, "1 codes that should draw a line") {
		t.Errorf("notes %q", notes)
	}
	o.Uses = nil
	if s, _, _ = surveyed(t, path, o); len(s.Lines) != 0 || len(s.Spots) != 10 {
		t.Errorf("without uses: %d lines, %d points", len(s.Lines), len(s.Spots))
	}
}

func TestATableIsReadInItsOwnUnitsAndSystem(t *testing.T) {
	path := put(t, "p.csv", "1,849495.80,636002.22,407.35,GS\n2,849478.94,636014.00,406.89,GS\n")
	// NAD83 / Oregon GIC Lambert (ft): its coordinates are international feet.
	s, c, notes := surveyed(t, path, SurveyOptions{Form: survey.Points, System: "EPSG:2992"})
	if c.Code != 32610 || len(s.Spots) != 2 || s.Sources[0].Unit != "ft" || math.Abs(s.Spots[0].Z-407.35*0.3048) > 1e-9 || !noted(notes, "taken to be in feet") {
		t.Errorf("%+v in %v, notes %q", s, c, notes)
	}
	// The two points are 11.78 ft and 16.86 ft apart; the zone's scale and the
	// Lambert's differ by less than a thousandth.
	want := math.Hypot(11.78, 16.86) * 0.3048
	if d := math.Hypot(s.Spots[1].At[0]-s.Spots[0].At[0], s.Spots[1].At[1]-s.Spots[0].At[1]); math.Abs(d/want-1) > 0.001 {
		t.Errorf("%.4f m apart, want %.4f", d, want)
	}
	s, _, _ = surveyed(t, path, SurveyOptions{Form: survey.Points, System: "EPSG:2992", Unit: "us-ft", Error: 0.03})
	if s.Sources[0].Unit != "us-ft" || math.Abs(s.Spots[0].Z-407.35*1200/3937) > 1e-9 || s.Sources[0].Error != 0.03 {
		t.Errorf("%+v", s)
	}
	s, _, _ = surveyed(t, path, SurveyOptions{Form: survey.Points, System: "m", Columns: &table.Columns{Name: 0, X: 1, Y: 2, Z: -1, Code: -1}})
	if s.Spots[0].At != (orb.Point{849495.80, 636002.22}) || !math.IsNaN(s.Spots[0].Z) || s.Spots[0].Code != -1 {
		t.Errorf("by other columns: %+v", s.Spots[0])
	}
}

func TestTheHeightOfATableMayBeNamed(t *testing.T) {
	path := put(t, "p.csv", "x,y,z,Floor level\n1,2,10,9\n3,4,20,19\n")
	s, _, _ := surveyed(t, path, SurveyOptions{Form: survey.Points, System: "m", Height: "floor level"})
	if s.Spots[0].Z != 9 || s.Spots[1].Z != 19 {
		t.Errorf("%+v", s.Spots)
	}
	if _, _, _, err := ReadSurvey(t.Context(), path, SurveyOptions{Form: survey.Points, System: "m", Height: "roof"}); err == nil || !strings.Contains(err.Error(), `it has no column "roof"`) {
		t.Errorf("error %v", err)
	}
}

func TestTheNameOfAColumnMaySayItsUnit(t *testing.T) {
	for name, want := range map[string]float64{"elev_ft": 0.3048, "Height (ft)": 0.3048, "z [m]": 1, "elev us-ft": 1200.0 / 3937, "elev": 0, "ft": 0, "cut_left": 0} {
		if got := unitInName(name); math.Abs(got-want) > 1e-12 {
			t.Errorf("%q: %g m, want %g", name, got, want)
		}
	}
	s, _, notes := surveyed(t, put(t, "p.csv", "x,y,elev_ft\n1,2,10\n3,4,20\n"), SurveyOptions{Form: survey.Points, System: "m"})
	if math.Abs(s.Spots[0].Z-3.048) > 1e-12 || !noted(notes, "Its heights are in feet") {
		t.Errorf("%+v, notes %q", s.Spots[0], notes)
	}
}

// EPSG:6339 is NAD83(2011) / UTM zone 10N and EPSG:6360 NAVD88 height in US survey feet.
func TestACompoundSystemSaysUnitAndDatumOfTheHeights(t *testing.T) {
	wkt := ""
	if err := do(func() error {
		flat, err := parseCRS("EPSG:26910")
		if err != nil {
			return err
		}
		defer flat.Destroy()
		whole, err := flat.ToWKT()
		wkt = `COMPD_CS["a",` + whole + `,VERT_CS["NAVD88 height (ftUS)",VERT_DATUM["North American Vertical Datum 1988",2005],UNIT["US survey foot",0.304800609601219],AXIS["Gravity-related height",UP]]]`
		return err
	}); err != nil {
		t.Fatal(err)
	}
	s, c, notes := surveyed(t, put(t, "p.csv", "x,y,z\n500000,5200000,100\n500001,5200000,101\n"), SurveyOptions{Form: survey.Points, System: wkt})
	if c.Code != 26910 || s.Sources[0].Datum != "NAVD88 height (ftUS)" || s.Sources[0].Unit != "us-ft" || math.Abs(s.Spots[0].Z-100*1200.0/3937) > 1e-9 {
		t.Errorf("%+v in %v, notes %q", s, c, notes)
	}
}

func TestDegreesAreKnownByTheirNamesOrAskedFor(t *testing.T) {
	s, c, notes := surveyed(t, put(t, "p.csv", "lat,lon,alt\n46.9000,-123.0000,5\n46.9001,-123.0001,6\n"), SurveyOptions{Form: survey.Points})
	if c.Code != 32610 && c.Code != 32611 || len(s.Spots) != 2 || !noted(notes, "longitude and latitude on WGS 84") {
		t.Errorf("%+v in %v, notes %q", s, c, notes)
	}
	path := put(t, "p.csv", "x,y,z\n-123.0000,46.9000,5\n-123.0001,46.9001,6\n")
	if l := look(t, path); !l.Degrees || l.System.Known() || l.Table == nil || l.Layers[0].Points < 1 {
		t.Errorf("%+v", l)
	}
	if _, _, _, err := ReadSurvey(t.Context(), path, SurveyOptions{Form: survey.Points}); err == nil || !strings.Contains(err.Error(), "look like longitude and latitude") {
		t.Errorf("error %v", err)
	}
	if l := look(t, put(t, "p.csv", "x,y,z\n10,20,5\n50,60,6\n")); l.Degrees {
		t.Error("a plot of 40 m is taken for degrees")
	}
}

func TestATrackIsPointsInItsOrder(t *testing.T) {
	path := put(t, "walk.gpx", `<?xml version="1.0"?><gpx version="1.1" creator="a" xmlns="http://www.topografix.com/GPX/1/1">
<wpt lat="46.9" lon="-123.0"><ele>9.5</ele><name>gate</name></wpt>
<rte><rtept lat="46.9" lon="-123.001"><ele>8</ele></rtept><rtept lat="46.9" lon="-123.002"/></rte>
<trk><trkseg><trkpt lat="46.9" lon="-123.003"><ele>3</ele></trkpt><trkpt lat="46.9" lon="-123.001"><ele>1</ele></trkpt><trkpt lat="46.9" lon="-123.002"><ele>2</ele></trkpt></trkseg></trk></gpx>`)
	l := look(t, path)
	names := map[string]int{}
	for _, y := range l.Layers {
		names[y.Name] = y.Points
		if y.Height != "ele" || y.Lines != 0 {
			t.Errorf("%+v", y)
		}
	}
	if len(names) != 3 || names["waypoints"] != 1 || names["route_points"] != 2 || names["track_points"] != 3 {
		t.Errorf("layers %v", names)
	}
	s, c, notes := surveyed(t, path, SurveyOptions{Form: survey.Points})
	if c.Code != 32610 && c.Code != 32611 || len(s.Lines) != 0 || len(s.Spots) != 6 || !noted(notes, "off by several metres") {
		t.Fatalf("%+v in %v, notes %q", s, c, notes)
	}
	var z []float64
	for _, p := range s.Spots {
		z = append(z, p.Z)
	}
	if z[0] != 9.5 || z[1] != 8 || !math.IsNaN(z[2]) || z[3] != 3 || z[4] != 1 || z[5] != 2 {
		t.Errorf("heights %v", z)
	}
	s, _, _ = surveyed(t, path, SurveyOptions{Form: survey.Points, Layers: []string{"track_points"}})
	if len(s.Spots) != 3 {
		t.Errorf("%d points of the track", len(s.Spots))
	}
}

// A French map in a system whose longitudes and latitudes are in grads stays in it:
// its lengths are true within a thousandth there.
func TestASystemInGradsIsMeasuredRight(t *testing.T) {
	path := put(t, "p.csv", "x,y,z\n185329.5,2431921.2,25\n185341.4,2431928.3,26\n")
	_, c, notes := surveyed(t, path, SurveyOptions{Form: survey.Points, System: "EPSG:27572"})
	if c.Code != 27572 {
		t.Errorf("it is brought to %v, notes %q", c, notes)
	}
}

func TestWebMercatorIsBroughtToTrueLengths(t *testing.T) {
	path := put(t, "p.csv", "x,y,z\n-13692000,5925000,25\n-13692100,5925000,26\n")
	s, c, _ := surveyed(t, path, SurveyOptions{Form: survey.Points, System: "EPSG:3857"})
	// At latitude 46.9° lengths are drawn 1/cos 46.9° = 1.463 times too long.
	if d := math.Hypot(s.Spots[1].At[0]-s.Spots[0].At[0], s.Spots[1].At[1]-s.Spots[0].At[1]); c.Code != 32610 && c.Code != 32611 || math.Abs(d-100/1.463) > 0.3 {
		t.Errorf("%.3f m in %v", d, c)
	}
}

func TestHeightsAreGuessedAmongFields(t *testing.T) {
	line := func(fields string) string {
		return `{"type":"Feature","properties":{` + fields + `},"geometry":{"type":"LineString","coordinates":[[-123,46.9],[-123.001,46.9]]}}`
	}
	lines := func(fields ...string) string {
		var all []string
		for range 3 {
			for _, f := range fields {
				all = append(all, line(f))
			}
		}
		return put(t, "a.geojson", collection(all...))
	}
	for want, path := range map[string]string{
		"ELEV":      lines(`"id":1,"ELEV":10`, `"id":2,"ELEV":11`),
		"hoehe_m":   lines(`"type":10,"hoehe_m":10.3`, `"type":20,"hoehe_m":11.9`),
		"VAL":       lines(`"id":5,"VAL":10,"length":103.5`, `"id":10,"VAL":12,"length":93.1`, `"id":15,"VAL":14,"length":83.1`),
		"Cota":      lines(`"Cota":"10,5","a":1`, `"Cota":"11,0","a":2`),
		"Z_m":       lines(`"contour_id":1,"Z_m":4,"geoidheight":30`, `"contour_id":2,"Z_m":5,"geoidheight":30`),
		"contour_z": lines(`"contour_z":1`, `"contour_z":2`),
		"":          lines(`"id":5,"shape_leng":10.37,"colour":7`, `"id":10,"shape_leng":12,"colour":8`),
	} {
		if l := look(t, path); l.Layers[0].Height != want {
			t.Errorf("%q is taken, want %q: %+v", l.Layers[0].Height, want, l.Layers[0].Fields)
		}
	}
}

func TestASiteWithoutASystemTakesCoordinatesAsTheyAre(t *testing.T) {
	bare := crs.CRS{Metre: 1}
	s, c, notes := surveyed(t, put(t, "p.csv", "x,y,z\n10,20,5\n50,60,6\n"), SurveyOptions{Form: survey.Contours, To: bare})
	if c != bare || s.Spots[1].At != (orb.Point{50, 60}) || s.Sources[0].Form != survey.Points || !noted(notes, "taken as they are") {
		t.Errorf("%+v in %+v, notes %q", s, c, notes)
	}
	s, _, _ = surveyed(t, knollGeoJSON(t), SurveyOptions{Form: survey.Contours, To: bare})
	if len(s.Lines) != 3 || math.Abs(s.Lines[0].At[0][0]-500140) > 1e-6 {
		t.Errorf("%+v", s.Lines)
	}
	for _, text := range []string{"x,y,z\n-123.0000,46.9000,5\n-123.0001,46.9001,6\n", "lon,lat,z\n-123,46.9,5\n-123.0001,46.9001,6\n"} {
		if _, _, _, err := ReadSurvey(t.Context(), put(t, "p.csv", text), SurveyOptions{Form: survey.Points, To: bare}); err == nil || !strings.Contains(err.Error(), "give the site one") {
			t.Errorf("degrees: %v", err)
		}
	}
	s, c, _ = surveyed(t, put(t, "p.csv", "x,y,z\n10,20,5\n50,60,6\n"), SurveyOptions{Form: survey.Points, To: utm10(t), System: "ft"})
	if c.Code != 32610 || math.Abs(s.Spots[0].At[0]-3.048) > 1e-12 {
		t.Errorf("feet of a place of its own on a site: %+v", s.Spots[0])
	}
}
