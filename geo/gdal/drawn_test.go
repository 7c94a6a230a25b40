package gdal

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/plan"
)

func drawn(t testing.TB, path string, to crs.CRS) ([]Drawn, []string) {
	t.Helper()
	d, notes, err := ReadDrawn(context.Background(), path, DrawnOptions{To: to})
	if err != nil {
		t.Fatal(err)
	}
	return d, notes
}

func put(t testing.TB, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func collection(features ...string) string {
	return `{"type":"FeatureCollection","features":[` + strings.Join(features, ",") + "]}"
}

func feature(geometry string) string {
	return `{"type":"Feature","properties":{"a":1},"geometry":` + geometry + "}"
}

func TestReadDrawnSplitsAndMovesFeatures(t *testing.T) {
	to, err := systemNamed("EPSG:32632")
	if err != nil {
		t.Fatal(err)
	}
	d, notes := drawn(t, filepath.Join("..", "..", "testdata", "drawing.geojson"), to)
	if len(d) != 4 || len(notes) != 0 {
		t.Fatalf("%d parts, notes %q, want 4 and none", len(d), notes)
	}
	line := d[0].Geometry.(orb.LineString)
	// 0.0004 degrees of longitude at latitude 45 are 31.54 m, less the zone's scale (TestEllipsoidMeasuresADegree).
	if length := math.Hypot(line[1][0]-line[0][0], line[1][1]-line[0][1]); math.Abs(length-31.54) > 0.02 {
		t.Errorf("the drain is %.3f m long, want 31.54", length)
	}
	if d[0].Z != 3 || !math.IsNaN(d[1].Z) {
		t.Errorf("heights %v and %v, want 3 and none", d[0].Z, d[1].Z)
	}
	if d[1].Number != 2 || d[2].Number != 2 || d[1].Fields["name"] != "Shed" || d[2].Fields["name"] != "Shed" {
		t.Errorf("the parts of the roof are %+v and %+v", d[1], d[2])
	}
	if d[3].Scheme != "Wide loop" || d[0].Fields["Bed_Width"] != "0.5" || d[0].Layer == "" {
		t.Errorf("fields %v and %v", d[0].Fields, d[3])
	}
}

func TestReadDrawnTellsOfEveryFeatureItLeavesOut(t *testing.T) {
	path := put(t, "a.geojson", collection(
		feature(`{"type":"Point","coordinates":[NaN,1]}`),
		feature(`{"type":"Point","coordinates":[10.5,45]}`),
		feature(`{"type":"LineString","coordinates":[[10,45],[NaN,45],[10,46]]}`),
		feature(`null`),
		feature(`{"type":"Polygon","coordinates":[[[10,45],[10.1,45],[10.1,45.1],[10,45.1]]]}`),
		feature(`{"type":"Point","coordinates":[581308,4500000]}`),
		feature(`{"type":"Polygon","coordinates":[]}`),
		feature(`{"type":"Spiral","coordinates":[10,45]}`),
		feature(`{"type":"GeometryCollection","geometries":[{"type":"Point","coordinates":[10,45]},{"type":"MultiPoint","coordinates":[[10,45],[11,45]]}]}`),
	))
	d, notes := drawn(t, path, crs.LonLat())
	var kept []int
	for _, one := range d {
		kept = append(kept, one.Number)
	}
	if fmt.Sprint(kept) != "[2 5 9 9 9]" {
		t.Errorf("features %v are kept, want 2, 5 and three parts of 9", kept)
	}
	for number, want := range map[int]string{1: "not a number", 3: "not a number", 4: "no geometry", 5: "outline was open",
		6: "no longitude and latitude", 7: "no geometry", 8: "no geometry"} {
		found := false
		for _, note := range notes {
			found = found || strings.HasPrefix(note, fmt.Sprintf("Feature %d of", number)) && strings.Contains(note, want)
		}
		if !found {
			t.Errorf("no note on feature %d says %q: %q", number, want, notes)
		}
	}
	if ring := d[1].Geometry.(orb.Polygon)[0]; len(ring) != 5 || ring[0] != ring[4] {
		t.Errorf("the open ring is %v, want it closed", ring)
	}
}

func TestReadDrawnTellsOfManyWithoutDrowning(t *testing.T) {
	features := []string{feature(`{"type":"Point","coordinates":[10,45]}`)}
	for range 50 {
		features = append(features, feature("null"))
	}
	_, notes := drawn(t, put(t, "a.geojson", collection(features...)), crs.LonLat())
	if len(notes) != mostNotes+1 || !noted(notes, "30 more") {
		t.Errorf("%d notes, the last %q; want %d and that there are 30 more", len(notes), notes[len(notes)-1], mostNotes+1)
	}
}

// vector writes geometries in well-known text by another driver.
func vector(t testing.TB, driver, name, system string, wkt ...string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	err := do(func() error {
		d, err := gdal.GetDriverByName(driver)
		if err != nil {
			return err
		}
		set := d.Create(path, 0, 0, 0, gdal.Unknown, nil)
		if handle(set) == nil {
			return errors.New("the test file cannot be made")
		}
		defer set.Close()
		var sr gdal.SpatialReference
		if system != "" {
			if sr, err = parseCRS(system); err != nil {
				return err
			}
			defer sr.Destroy()
		}
		layer := set.CreateLayer("things", sr, gdal.GT_Unknown, nil)
		for _, text := range wkt {
			shape, err := gdal.CreateFromWKT(text, gdal.SpatialReference{})
			if err != nil {
				return err
			}
			f := layer.Definition().Create()
			f.SetGeometryDirectly(shape)
			err = layer.Create(f)
			f.Destroy()
			if err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return path
}

func TestReadDrawnFlattensArcsAndHeights(t *testing.T) {
	path := vector(t, "GPKG", "arcs.gpkg", "EPSG:32610",
		"CIRCULARSTRING (0 0, 1 1, 2 0)",
		"POLYGON Z ((0 0 5, 1 0 5, 1 1 5, 0 0 5))",
		"LINESTRING Z (0 0 1, 1 0 2)",
		"TIN Z (((0 0 0, 0 1 0, 1 1 0, 0 0 0)))")
	d, notes := drawn(t, path, utm10(t))
	if len(d) != 3 {
		t.Fatalf("%d features, notes %q", len(d), notes)
	}
	arc := d[0].Geometry.(orb.LineString)
	for _, p := range arc {
		if math.Abs(math.Hypot(p[0]-1, p[1])-1) > 1e-6 {
			t.Fatalf("%v is off the arc", p)
		}
	}
	if len(arc) < 10 {
		t.Errorf("the arc has %d points", len(arc))
	}
	if d[1].Z != 5 || !math.IsNaN(d[2].Z) {
		t.Errorf("heights %v and %v, want 5 and none", d[1].Z, d[2].Z)
	}
	if !noted(notes, "tin, which cannot be drawn") {
		t.Errorf("notes %q", notes)
	}
}

func TestReadDrawnOfOtherFormats(t *testing.T) {
	for _, c := range []struct{ driver, name, system string }{
		{"ESRI Shapefile", "things.shp", "EPSG:32610"},
		{"GeoJSON", "things.geojson", "EPSG:4326"},
		{"DXF", "things.dxf", ""},
		{"FlatGeobuf", "things.fgb", "EPSG:32610"},
		{"LIBKML", "things.kml", "EPSG:4326"},
	} {
		t.Run(c.driver, func(t *testing.T) {
			d, _ := drawn(t, vector(t, c.driver, c.name, c.system, "LINESTRING (10 45, 11 46)"), crs.CRS{Code: max(4326, utmOr(c.system)), Metre: 1})
			if len(d) != 1 {
				t.Fatalf("%d features", len(d))
			}
			line := d[0].Geometry.(orb.LineString)
			if len(line) != 2 || math.Abs(line[1][0]-11) > 1e-6 || math.Abs(line[1][1]-46) > 1e-6 {
				t.Errorf("the line is %v", line)
			}
		})
	}
}

func utmOr(system string) int {
	if system == "EPSG:32610" {
		return 32610
	}
	return 0
}

func TestReadDrawnRefusesInPlainWords(t *testing.T) {
	cases := map[string]struct {
		path, want string
		to         crs.CRS
	}{
		"a table without positions": {put(t, "a.csv", "date,rain\n2012-01-01,4\n"), "no row with two numbers", utm10(t)},
		"no feature can be taken":   {put(t, "a.geojson", collection(feature("null"))), "nothing in it can be taken", utm10(t)},
		"not a drawing":             {put(t, "a.geojson", "{"), "cannot be read as a drawing", utm10(t)},
		"degrees without a site's system": {put(t, "a.geojson", collection(feature(`{"type":"Point","coordinates":[1,2]}`))),
			"give the site one", crs.CRS{Metre: 1}},
		"inline text": {collection(), "not a file on this computer", utm10(t)},
		"a raster":    {filepath.Join("..", "..", "testdata", "verge.asc"), "bring it in as a raster", utm10(t)},
	}
	for name, c := range cases {
		if _, _, err := ReadDrawn(context.Background(), c.path, DrawnOptions{To: c.to}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", name, err, c.want)
		}
	}
}

func TestASavedSiteCanBeReadAsADrawing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	s := plot(t)
	if err := SaveSite(path, s); err != nil {
		t.Fatal(err)
	}
	d, notes := drawn(t, path, s.CRS)
	if len(notes) != 0 {
		t.Errorf("notes %q", notes)
	}
	sorted, rest := byKind(d)
	if len(rest) != 0 || len(sorted) != 4 {
		t.Fatalf("%d kinds and %d of none, want 4 and 0", len(sorted), len(rest))
	}
	features, wrong := Features(sorted[plan.Channel], plan.Channel, 7)
	if len(wrong) != 0 || len(features) != 1 {
		t.Fatalf("%d channels, errors %v", len(features), wrong)
	}
	want := s.Plan.Features[0]
	if got := features[0]; got.Name != want.Name || got.Num("bed_width") != 0.6 || got.Num("water_level") != 1.0625 || !orb.Equal(got.Geometry, want.Geometry) {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

func TestADrawingMayBeSaidToBeInASystem(t *testing.T) {
	path := put(t, "trees.csv", "x,y\n-122.5,43.4\n")
	to := utm10(t)
	if d, _ := drawn(t, path, to); !d[0].Unplaced {
		t.Error("a table that names no system counts as placed")
	}
	read := func(system string) ([]Drawn, []string, error) {
		return ReadDrawn(context.Background(), path, DrawnOptions{To: to, System: system})
	}
	d, _, err := read("EPSG:4326")
	// 0.5 degrees of longitude east of the zone's middle, 123° west, at latitude 43.4 are about 40.5 km.
	if at, _ := d[0].Geometry.(orb.Point); err != nil || d[0].Unplaced || math.Abs(at[0]-540_500) > 100 {
		t.Errorf("in degrees it lies at %v; %v", at, err)
	}
	if d, _, err := read(OwnSystem); err != nil || d[0].Unplaced || d[0].Geometry != (orb.Point{-122.5, 43.4}) {
		t.Errorf("in the site's own system it is %+v; %v", d, err)
	}
	if _, _, err := read("EPSG:99999999"); err == nil || !strings.Contains(err.Error(), "not a known reference system") {
		t.Errorf("a system that is not known: %v", err)
	}
	path = put(t, "a.geojson", inEPSG("32611", "[523440,4811080]"))
	if _, notes, err := read("EPSG:32610"); err != nil || len(notes) != 1 || !strings.Contains(notes[0], "as you say") {
		t.Errorf("a file that says otherwise: %q, %v", notes, err)
	}
}

func TestADXFIsReadByItsOwnLayers(t *testing.T) {
	entity := func(kind, layer, rest string) string { return "0\n" + kind + "\n8\n" + layer + "\n" + rest }
	path := put(t, "site.dxf", "0\nSECTION\n2\nENTITIES\n"+
		entity("LINE", "WALLS", "10\n523440\n20\n4811080\n11\n523450\n21\n4811080\n")+
		entity("POINT", "TREES", "10\n523441\n20\n4811081\n")+
		entity("TEXT", "TREES", "10\n523442\n20\n4811082\n40\n1\n1\nOak\n")+
		"0\nENDSEC\n0\nEOF\n")
	d, _ := drawn(t, path, utm10(t))
	var layers []string
	for _, one := range d {
		layers = append(layers, one.Layer)
	}
	if got := strings.Join(layers, "; "); got != "WALLS; TREES; TREES, texts" {
		t.Errorf("the layers are %s", got)
	}
}
