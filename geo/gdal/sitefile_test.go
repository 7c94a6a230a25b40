package gdal

import (
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/geo"
	"runnel/geo/crs"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/weather"
)

func utm10(t testing.TB) crs.CRS {
	t.Helper()
	c, err := systemNamed("EPSG:32610")
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// plot is a small site with a feature of every shape, two schemes and a ground
// with a hole in it.
func plot(t testing.TB) *plan.Site {
	g := grid.Parse("3.25 3.5 .", "2 1.125 4", "5 6 -7.0625")
	g.Frame = grid.Square(3, 3, 500000.1, 5200000.7, 0.3)
	return &plan.Site{
		Name: "Long verge", CRS: utm10(t), Ground: g,
		Setting: plan.Setting{Soil: "silt loam", RunDays: geo.Range{Low: 14, Likely: 30, High: 60}, Cover: "gravel",
			Storm: 25.5, StormHours: 0.75, YearRain: 812, SurveyError: 0.031, SurveyReach: 3.5},
		Plan: plan.Plan{
			Schemes: []plan.Scheme{{ID: 7, Name: "Wide loop"}, {ID: 2, Name: "Straight"}},
			Last:    40,
			Features: []plan.Feature{
				{ID: 9, Kind: plan.Channel, Scheme: 7, Name: "North arm", Geometry: orb.LineString{{500000, 5200000}, {500001.5, 5200000.25}},
					Fields: map[string]plan.Value{"bed_width": {Number: 0.6}, "water_level": {Number: 1.0625}}},
				{ID: 3, Kind: plan.Roof, Geometry: orb.Polygon{
					{{500000, 5200000}, {500010, 5200000}, {500010, 5200010}, {500000, 5200000}},
					{{500006, 5200002}, {500007, 5200003}, {500007, 5200002}, {500006, 5200002}}}},
				{ID: 12, Kind: plan.Well, Name: "O'Dell's; well", Geometry: orb.Point{500002, 5200003}},
				{ID: 4, Kind: plan.Drain, Geometry: orb.LineString{{500000, 5200000}, {500004, 5200000}},
					Fields: map[string]plan.Value{"owner": {Text: "private"}}},
			},
		},
	}
}

func sameSite(t testing.TB, got, want *plan.Site) {
	t.Helper()
	if len(got.Ground.V) != len(want.Ground.V) {
		t.Fatalf("ground of %d cells, want %d", len(got.Ground.V), len(want.Ground.V))
	}
	for i := range want.Ground.V {
		if g, w := got.Ground.V[i], want.Ground.V[i]; math.Float32bits(g) != math.Float32bits(w) && !(g != g && w != w) {
			t.Fatalf("cell %d is %v, want %v", i, g, w)
		}
	}
	a, b := *got, *want
	if a.Ground.Frame != b.Ground.Frame {
		t.Fatalf("frame %+v, want %+v", a.Ground.Frame, b.Ground.Frame)
	}
	a.Ground, b.Ground = grid.Ground{}, grid.Ground{}
	if !a.Weather.Same(b.Weather) {
		t.Fatalf("weather %+v, want %+v", a.Weather, b.Weather)
	}
	a.Weather, b.Weather = weather.Record{}, weather.Record{}
	if !reflect.DeepEqual(a, b) {
		t.Fatalf("got  %+v\nwant %+v", a, b)
	}
}

func TestSavedSiteOpensAsItWas(t *testing.T) {
	comesBack(t, filepath.Join(t.TempDir(), "verge.gpkg"), plot(t))
}

// comesBack saves a site twice, the second time over the first, and holds it to what
// opens then.
func comesBack(t *testing.T, path string, want *plan.Site) {
	t.Helper()
	for range 2 {
		if err := SaveSite(path, want); err != nil {
			t.Fatal(err)
		}
		got, err := OpenSite(path)
		if err != nil {
			t.Fatal(err)
		}
		sameSite(t, got, want)
	}
}

func TestSavingOverReplacesWhatChanged(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	s := plot(t)
	if err := SaveSite(path, s); err != nil {
		t.Fatal(err)
	}
	s.Plan.Features = append(s.Plan.Features[1:3:3], plan.Feature{ID: 41, Kind: plan.Tree, Geometry: orb.Point{1, 2}})
	s.Plan.Features[0] = s.Plan.Features[0].With("runoff", plan.Value{Number: 0.7})
	s.Plan.Schemes, s.Plan.Last, s.Name = nil, 41, ""
	s.Ground = grid.Parse("1")
	other, err := systemNamed("EPSG:2193")
	if err != nil {
		t.Fatal(err)
	}
	s.CRS = other
	if err := SaveSite(path, s); err != nil {
		t.Fatal(err)
	}
	got, err := OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	sameSite(t, got, s)
	s.Plan.Features[0] = s.Plan.Features[0].Without("runoff")
	s.Plan.Features[0].Fields = nil
	s.Ground = grid.Ground{}
	if err := SaveSite(path, s); err != nil {
		t.Fatal(err)
	}
	if got, err = OpenSite(path); err != nil {
		t.Fatal(err)
	}
	sameSite(t, got, s)
}

func TestAwkwardSitesComeBack(t *testing.T) {
	bow := orb.Polygon{{{0, 0}, {2, 2}, {2, 0}, {0, 2}, {0, 0}}}
	open := orb.Polygon{{{0, 0}, {2, 0}, {2, 2}}}
	cases := map[string]plan.Site{
		"the zero site":         {},
		"no reference system":   {CRS: crs.CRS{Metre: 1}, Ground: grid.Parse("1 2", "3 .")},
		"a ring crosses itself": {Plan: plan.Plan{Features: []plan.Feature{{ID: 1, Kind: plan.Roof, Geometry: bow}}, Last: 1}},
		"a ring is open":        {Plan: plan.Plan{Features: []plan.Feature{{ID: 1, Kind: plan.Roof, Geometry: open}}, Last: 1}},
		"no geometry":           {Plan: plan.Plan{Features: []plan.Feature{{ID: 1, Kind: plan.Roof}}, Last: 1}},
		"a shape that does not suit": {Plan: plan.Plan{Features: []plan.Feature{{ID: 1, Kind: plan.Roof,
			Geometry: orb.LineString{{0, 0}, {1, 1}}}}, Last: 1}},
		"schemes of one name": {Plan: plan.Plan{Schemes: []plan.Scheme{{ID: 1, Name: "A"}, {ID: 2, Name: "A"}},
			Features: []plan.Feature{{ID: 3, Kind: plan.Path, Scheme: 2, Geometry: orb.LineString{{0, 0}, {1, 1}}}}, Last: 3}},
		"a ground of one row":          {Ground: grid.Parse("1 2 . 4 5")},
		"a ground of no data at all":   {Ground: grid.Parse(". .", ". .")},
		"cells that are not square":    {Ground: grid.Ground{Frame: grid.Frame{W: 2, H: 1, West: 1, North: 2, DX: 1.0 / 3, DY: 0.7}, V: []float32{1, -9999}}},
		"quotes and letters of a kind": {Name: `"Ölweide"; DROP TABLE 'roof' -- 水`},
	}
	for name, s := range cases {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "site.gpkg")
			if err := SaveSite(path, &s); err != nil {
				t.Fatal(err)
			}
			got, err := OpenSite(path)
			if err != nil {
				t.Fatal(err)
			}
			sameSite(t, got, &s)
		})
	}
}

func TestNaNCoordinatesAreKept(t *testing.T) {
	path := filepath.Join(t.TempDir(), "site.gpkg")
	line := orb.LineString{{0, 0}, {math.NaN(), 1}, {2, 2}}
	s := plan.Site{Plan: plan.Plan{Features: []plan.Feature{{ID: 1, Kind: plan.Path, Geometry: line}}, Last: 1}}
	if err := SaveSite(path, &s); err != nil {
		t.Fatal(err)
	}
	got, err := OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	back := got.Plan.Features[0].Line()
	if len(back) != 3 || !math.IsNaN(back[1][0]) || back[1][1] != 1 || back[2] != line[2] {
		t.Fatalf("got %v, want %v", back, line)
	}
}

func TestWhatCannotBeSavedLeavesTheOldFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "site.gpkg")
	good := plot(t)
	if err := SaveSite(path, good); err != nil {
		t.Fatal(err)
	}
	point := orb.Point{1, 2}
	for want, features := range map[string][]plan.Feature{
		"no known kind":             {{ID: 1, Kind: 200, Geometry: point}},
		"is of no known kind":       {{ID: 1, Geometry: point}},
		"numbers start at 1":        {{Kind: plan.Well, Geometry: point}},
		"number of another feature": {{ID: 5, Kind: plan.Well}, {ID: 5, Kind: plan.Tree}},
	} {
		bad := good.Clone()
		bad.Plan.Features = features
		if err := SaveSite(path, &bad); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
	bad := good.Clone()
	bad.CRS = crs.CRS{Code: 999999}
	if err := SaveSite(path, &bad); err == nil || !strings.Contains(err.Error(), "EPSG:999999") {
		t.Errorf("error %v, want one with the code", err)
	}
	got, err := OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	sameSite(t, got, good)
	if left, _ := os.ReadDir(filepath.Dir(path)); len(left) != 1 {
		t.Errorf("the folder holds %d files after a failed save, want 1", len(left))
	}
}

func TestAnySiteComesBack(t *testing.T) {
	folder := t.TempDir()
	rapid.Check(t, func(r *rapid.T) {
		s := anySite(r)
		path := filepath.Join(folder, "any.gpkg") // over the one before
		if err := SaveSite(path, s); err != nil {
			r.Fatal(err)
		}
		got, err := OpenSite(path)
		if err != nil {
			r.Fatal(err)
		}
		sameSite(t, got, s)
	})
}

func anySite(r *rapid.T) *plan.Site {
	s := &plan.Site{Name: anyText(r), CRS: rapid.SampledFrom([]crs.CRS{{Metre: 1}, {Code: 2193, Name: "x", Metre: 1}}).Draw(r, "crs")}
	for _, f := range plan.SettingFigures() {
		*f.Of(&s.Setting) = rapid.Float64Min(0).Draw(r, f.Name)
	}
	for _, f := range plan.SettingTexts() {
		*f.Of(&s.Setting) = anyText(r)
	}
	s.Setting.RunDays = geo.Range{Low: rapid.Float64().Draw(r, "low"), Likely: rapid.Float64().Draw(r, "likely"), High: rapid.Float64().Draw(r, "high")}
	s.Weather = anyWeather(r)
	w, h := rapid.IntRange(0, 5).Draw(r, "w"), rapid.IntRange(1, 5).Draw(r, "h")
	if w > 0 {
		s.Ground = grid.New[float32](grid.Square(w, h, 1.0/3, rapid.Float64Range(-1e6, 1e7).Draw(r, "north"), rapid.Float64Range(0.01, 100).Draw(r, "cell")))
		for i := range s.Ground.V {
			s.Ground.V[i] = rapid.SampledFrom([]float32{grid.NoData, 0, 1.1, -9999, 8848.86, 1e-30}).Draw(r, "z")
		}
	}
	for range rapid.IntRange(0, 3).Draw(r, "schemes") {
		s.Plan.Schemes = append(s.Plan.Schemes, plan.Scheme{ID: plan.SchemeID(s.Plan.NextID()), Name: anyText(r)})
	}
	for range rapid.IntRange(0, 8).Draw(r, "features") {
		spec := rapid.SampledFrom(plan.Specs()).Draw(r, "kind")
		f := plan.Feature{ID: plan.ID(s.Plan.NextID()), Kind: spec.Kind, Name: anyText(r), Geometry: anyShape(r, spec.Shape)}
		if spec.InScheme && len(s.Plan.Schemes) > 0 {
			f.Scheme = rapid.SampledFrom(s.Plan.Schemes).Draw(r, "scheme").ID
		}
		for _, field := range spec.Fields {
			if rapid.Bool().Draw(r, "set") {
				f = f.With(field.Name, anyValue(r, field))
			}
		}
		s.Plan.Features = append(s.Plan.Features, f)
	}
	if n := len(s.Plan.Features); n > 1 {
		s.Plan.Features[0], s.Plan.Features[n-1] = s.Plan.Features[n-1], s.Plan.Features[0]
	}
	return s
}

// anyWeather is a record of no days, or of two and more; figures are not known here and there.
func anyWeather(r *rapid.T) weather.Record {
	days := rapid.IntRange(1, 12).Draw(r, "days")
	if days == 1 {
		return weather.Record{}
	}
	w := weather.Record{
		Name: anyText(r), Source: anyText(r), Latitude: rapid.SampledFrom([]float64{-90, 0, 43.1, math.NaN()}).Draw(r, "latitude"),
		Elevation: rapid.SampledFrom([]float64{-12, 0, 431.0 / 3, math.NaN()}).Draw(r, "elevation"), WindHeight: rapid.Float64Range(0, 300).Draw(r, "wind height"),
		First: time.Date(rapid.IntRange(1700, 2190).Draw(r, "year"), 2, 25, 0, 0, 0, 0, time.UTC), Days: weather.Unknown(days),
	}
	for i := range w.Days {
		for _, q := range weather.Quantities() {
			if rapid.Bool().Draw(r, "known") {
				*q.Of(&w.Days[i]) = rapid.Float64Range(0, 9).Draw(r, q.Name)
			}
		}
		if d := &w.Days[i]; d.Low > d.High || d.DampLow > d.DampHigh {
			*d = weather.Unknown(1)[0]
		}
	}
	return w
}

func anyText(r *rapid.T) string {
	return rapid.StringOf(rapid.SampledFrom([]rune("aZ09 '\"%;\\é水\n"))).Draw(r, "text")
}

func anyValue(r *rapid.T, field plan.Field) plan.Value {
	switch field.Type {
	case plan.Number:
		return plan.Value{Number: rapid.Float64Range(field.Low, field.High).Draw(r, "number")}
	case plan.Choice:
		return plan.Value{Text: rapid.SampledFrom(field.Of).Draw(r, "word")}
	}
	return plan.Value{Text: anyText(r)}
}

func anyShape(r *rapid.T, shape plan.Shape) orb.Geometry {
	point := rapid.Custom(func(r *rapid.T) orb.Point {
		return orb.Point{rapid.Float64Range(-1e7, 1e7).Draw(r, "x"), rapid.Float64Range(-1e7, 1e7).Draw(r, "y")}
	})
	switch shape {
	case plan.PointShape:
		return point.Draw(r, "point")
	case plan.LineShape:
		return orb.LineString(rapid.SliceOfN(point, 2, 6).Draw(r, "line"))
	}
	ring := orb.Ring(rapid.SliceOfN(point, 3, 6).Draw(r, "ring"))
	return orb.Polygon{append(ring, ring[0])}
}
