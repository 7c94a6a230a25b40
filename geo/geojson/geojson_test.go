package geojson

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"

	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

func lonlat(t testing.TB) func(orb.Point) (orb.Point, error) {
	t.Helper()
	move, done, err := gdal.NewTransform(zone, crs.LonLat())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(done)
	return move
}

var zone = crs.CRS{Code: 32610, Name: "WGS 84 / UTM zone 10N", Metre: 1}

var clockwise = orb.Polygon{
	{{500000, 5200000}, {500000, 5200010}, {500010, 5200010}, {500010, 5200000}, {500000, 5200000}},
	{{500002, 5200002}, {500004, 5200002}, {500004, 5200004}, {500002, 5200002}},
}

func verge() *plan.Site {
	return &plan.Site{Plan: plan.Plan{
		Schemes: []plan.Scheme{{ID: 2, Name: "Wide loop"}},
		Features: []plan.Feature{
			{ID: 4, Kind: plan.Channel, Scheme: 2, Name: "North arm", Geometry: orb.LineString{{500000, 5200000}, {500001.5, 5200000.25}},
				Fields: map[string]plan.Value{"bed_width": {Number: 0.8}}},
			{ID: 5, Kind: plan.Roof, Geometry: clockwise},
			{ID: 6, Kind: plan.Tree, Geometry: orb.Point{500003, 5200004}, Fields: map[string]plan.Value{"plant": {Text: "alder <glutinous> & \"co\""}}},
			{ID: 7, Kind: plan.Well},
		},
	}}
}

func encoded(t testing.TB, s *plan.Site) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, s, lonlat(t)); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestWrittenCollectionReadsAsGeoJSON(t *testing.T) {
	text := encoded(t, verge())
	if !bytes.HasSuffix(text, []byte("]}\n")) || bytes.Contains(text, []byte(`"crs"`)) {
		t.Errorf("the text ends in %q, or names a system", text[len(text)-4:])
	}
	got, err := geojson.UnmarshalFeatureCollection(text)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Features) != 4 {
		t.Fatalf("%d features", len(got.Features))
	}
	channel := got.Features[0]
	if channel.ID != 4.0 {
		t.Errorf("the id is %v", channel.ID)
	}
	for name, want := range map[string]any{"kind": "channel", "name": "North arm", "scheme": "Wide loop", "bed_width": 0.8,
		"side_left": plan.Feature{Kind: plan.Channel}.Num("side_left")} {
		if channel.Properties[name] != want {
			t.Errorf("%s is %v, want %v", name, channel.Properties[name], want)
		}
	}
	units := channel.Properties["units"].(map[string]any)
	if units["bed_width"] != "m" || units["side_left"] != "H:V" || units["water_level"] != nil {
		t.Errorf("the units are %v", units)
	}
	if _, given := channel.Properties["water_level"]; given {
		t.Error("a level that is not set is written")
	}
	p := channel.Geometry.(orb.LineString)[0]
	if math.Abs(p[0]+123) > 1e-7 || math.Abs(p[1]-46.95) > 0.01 { // the middle of zone 10 is 123 degrees west
		t.Errorf("the channel starts at %v", p)
	}
	if roof := got.Features[1]; roof.Properties["scheme"] != "" || roof.Properties["runoff"] != 0.9 {
		t.Errorf("the roof's properties are %v", roof.Properties)
	}
	if got.Features[2].Properties["plant"] != "alder <glutinous> & \"co\"" {
		t.Errorf("the plant is %v", got.Features[2].Properties["plant"])
	}
	if got.Features[3].Geometry != nil {
		t.Errorf("a feature without geometry has %v", got.Features[3].Geometry)
	}
}

// RFC 7946 section 3.1.6: the outline is counter-clockwise, holes clockwise, so
// by the shoelace formula the outline's area is above nought.
func TestOutlinesFollowTheRightHandRule(t *testing.T) {
	before := clockwise.Clone()
	got, err := geojson.UnmarshalFeatureCollection(encoded(t, verge()))
	if err != nil {
		t.Fatal(err)
	}
	area := got.Features[1].Geometry.(orb.Polygon)
	if planar.Area(area[0]) <= 0 || planar.Area(area[1]) >= 0 {
		t.Errorf("the areas are %v and %v", planar.Area(area[0]), planar.Area(area[1]))
	}
	if !orb.Equal(before, clockwise) {
		t.Error("writing turns the site's own outline")
	}
	lonLat := func(p orb.Point) (orb.Point, error) { return orb.Point{-123 + p[0]*1e-5, 47 + p[1]*1e-5}, nil }
	rapid.Check(t, func(r *rapid.T) {
		east, north := rapid.Float64Range(-9, 9).Draw(r, "east"), rapid.Float64Range(-9, 9).Draw(r, "north")
		size := rapid.SampledFrom([]float64{-3, -0.1, 0.1, 3}).Draw(r, "size") // below nought it runs clockwise
		ring := orb.Ring{{east, north}, {east + math.Abs(size), north}, {east, north + size}, {east, north}}
		s := &plan.Site{Plan: plan.Plan{Features: []plan.Feature{{ID: 1, Kind: plan.Roof, Geometry: orb.Polygon{ring}}}}}
		var b bytes.Buffer
		if err := Write(&b, s, lonLat); err != nil {
			r.Fatal(err)
		}
		got, err := geojson.UnmarshalFeatureCollection(b.Bytes())
		if err != nil {
			r.Fatal(err)
		}
		if o := got.Features[0].Geometry.(orb.Polygon)[0].Orientation(); o != orb.CCW {
			r.Fatalf("%v is wound %v", ring, o)
		}
	})
}

func TestCoordinatesHaveEightDecimalsAtMost(t *testing.T) {
	var tree struct {
		Features []struct {
			Geometry struct{ Coordinates json.RawMessage }
		}
	}
	if err := json.Unmarshal(encoded(t, verge()), &tree); err != nil {
		t.Fatal(err)
	}
	numbers := 0
	for _, f := range tree.Features {
		for _, number := range strings.FieldsFunc(string(f.Geometry.Coordinates), func(r rune) bool { return strings.ContainsRune("[], ", r) }) {
			numbers++
			if _, decimals, _ := strings.Cut(number, "."); len(decimals) > 8 {
				t.Errorf("%s has more than eight decimals", number)
			}
		}
	}
	if numbers < 20 {
		t.Errorf("%d numbers were looked at", numbers)
	}
}

func TestLengthsAreWrittenToTheMillimetre(t *testing.T) {
	s := verge()
	s.Plan.Features[0].Fields = map[string]plan.Value{"bed_start": {Number: 83.84400000000001}, "side_left": {Number: 1.0 / 3}}
	got := string(encoded(t, s))
	if !strings.Contains(got, `"bed_start":83.844,`) || !strings.Contains(got, `"side_left":0.3333333333333333`) {
		t.Errorf("it holds %s", got)
	}
}

func TestGDALReadsTheSameSite(t *testing.T) {
	s := verge()
	path := filepath.Join(t.TempDir(), "verge.geojson")
	if err := os.WriteFile(path, encoded(t, s), 0o644); err != nil {
		t.Fatal(err)
	}
	drawn, _, err := gdal.ReadDrawn(t.Context(), path, gdal.DrawnOptions{To: zone})
	if err != nil {
		t.Fatal(err)
	}
	if len(drawn) != 3 {
		t.Fatalf("%d features, want 3", len(drawn))
	}
	for i, want := range s.Plan.Features[:3] {
		if kind := drawn[i].Fields["kind"]; kind != plan.SpecOf(want.Kind).Name {
			t.Errorf("%s is of kind %q", want.Title(), kind)
		}
		features, wrong := gdal.Features(drawn[i:i+1], want.Kind, want.Scheme)
		if len(features) != 1 || len(wrong) != 0 {
			t.Fatalf("%s: %v, errors %v", want.Title(), features, wrong)
		}
		got := features[0]
		if got.Name != want.Name || got.Geometry.GeoJSONType() != want.Geometry.GeoJSONType() {
			t.Errorf("got %+v, want %+v", got, want)
		}
		for _, line := range plan.Lines(got.Geometry) {
			for _, p := range line {
				if d := nearestPoint(want.Geometry, p); d > 0.002 { // eight decimals of a degree are 1.1 mm
					t.Errorf("%s: %v is %.3f m off", want.Title(), p, d)
				}
			}
		}
		for _, field := range plan.SpecOf(want.Kind).Fields {
			if g, w := got.Num(field.Name), want.Num(field.Name); field.Type == plan.Number && g != w && !(math.IsNaN(g) && math.IsNaN(w)) {
				t.Errorf("%s: %s is %v, want %v", want.Title(), field.Name, g, w)
			}
		}
	}
}

func nearestPoint(g orb.Geometry, p orb.Point) float64 {
	least := math.Inf(1)
	for _, line := range plan.Lines(g) {
		for _, q := range line {
			least = min(least, planar.Distance(p, q))
		}
	}
	return least
}

func TestACurveComesBackWithItsKnots(t *testing.T) {
	s := verge()
	path := plan.Feature{ID: 8, Kind: plan.Path, Scheme: 2}.Through(orb.LineString{{500000, 5200000}, {500008, 5200006}, {500017, 5200001}})
	bed := plan.Feature{ID: 9, Kind: plan.Planting, Scheme: 2}.Through(plan.Circle(orb.Point{500020, 5200020}, 4))
	s.Plan.Features = []plan.Feature{path, bed}
	file := filepath.Join(t.TempDir(), "verge.geojson")
	if err := os.WriteFile(file, encoded(t, s), 0o600); err != nil {
		t.Fatal(err)
	}
	drawn, _, err := gdal.ReadDrawn(t.Context(), file, gdal.DrawnOptions{To: zone})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range s.Plan.Features {
		got, wrong := gdal.Features(drawn[i:i+1], want.Kind, 2)
		if len(wrong) > 0 || len(got) != 1 || len(got[0].Knots) != len(want.Knots) || plan.Check(got[0]) != nil {
			t.Fatalf("%s comes back as %+v, %v", want.Title(), got, wrong)
		}
		for j, knot := range want.Knots {
			if d := planar.Distance(knot, got[0].Knots[j]); d > 0.002 {
				t.Errorf("%s: knot %d is %.4f m off", want.Title(), j, d)
			}
		}
	}
}

func TestAnEmptySiteIsAnEmptyCollection(t *testing.T) {
	if got := string(encoded(t, &plan.Site{})); got != "{\"type\":\"FeatureCollection\",\"features\":[]}\n" {
		t.Errorf("got %q", got)
	}
}

func TestWriteRefusesWhatGeoJSONCannotHold(t *testing.T) {
	still := func(p orb.Point) (orb.Point, error) { return p, nil }
	for want, f := range map[string]plan.Feature{
		"has no longitude and latitude": {Kind: plan.Tree, Geometry: orb.Point{581308, 4500000}},
		"point 2, at NaN":               {Kind: plan.Path, Geometry: orb.LineString{{1, 2}, {math.NaN(), 2}}},
		"is open":                       {Kind: plan.Roof, Geometry: orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 1}}}},
		"too few points":                {Kind: plan.Roof, Geometry: orb.Polygon{{{0, 0}, {1, 0}, {0, 0}}}},
		"one point only":                {Kind: plan.Path, Geometry: orb.LineString{{1, 2}}},
		"of no known kind":              {Kind: 99, Geometry: orb.Point{1, 2}},
		"no known kind; remove it":      {Geometry: orb.Point{1, 2}},
		"drawn as a MultiPoint":         {Kind: plan.Tree, Geometry: orb.MultiPoint{{1, 2}}},
	} {
		var b bytes.Buffer
		f.ID = 1
		err := Write(&b, &plan.Site{Plan: plan.Plan{Features: []plan.Feature{f}}}, still)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
}

func TestARingThatCrossesItselfIsWrittenAsDrawn(t *testing.T) {
	bow := orb.Polygon{{{0, 0}, {2, 2}, {2, 0}, {0, 2}, {0, 0}}}
	var b bytes.Buffer
	s := &plan.Site{Plan: plan.Plan{Features: []plan.Feature{{ID: 1, Kind: plan.Roof, Geometry: bow}}}}
	if err := Write(&b, s, func(p orb.Point) (orb.Point, error) { return p, nil }); err != nil {
		t.Fatal(err)
	}
	got, err := geojson.UnmarshalFeatureCollection(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if !orb.Equal(got.Features[0].Geometry, bow) {
		t.Errorf("got %v, want %v", got.Features[0].Geometry, bow)
	}
}
