package gdal

import (
	"math"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
	"runnel/geo/survey"
)

// unknown stands for NaN in a survey that is compared, since no number equals NaN.
const unknown = -12345.6789

// comparable returns a survey with NaN as a number that equals itself.
func comparable(s survey.Survey) survey.Survey {
	known := func(z float64) float64 {
		if math.IsNaN(z) {
			return unknown
		}
		return z
	}
	lines := append([]survey.Line(nil), s.Lines...)
	for i := range lines {
		lines[i].Z = append([]float64(nil), lines[i].Z...)
		for j, z := range lines[i].Z {
			lines[i].Z[j] = known(z)
		}
	}
	spots := append([]survey.Spot(nil), s.Spots...)
	for i := range spots {
		spots[i].Z = known(spots[i].Z)
	}
	s.Lines, s.Spots, s.Quality.Bias = lines, spots, known(s.Quality.Bias)
	return s
}

// measured is a survey with something of every sort.
func measured() survey.Survey {
	return survey.Survey{
		Sources: []survey.Source{
			{Name: "contours; α.shp", Form: survey.Contours, System: "EPSG:2263", Unit: "us-ft", Datum: "NAVD88 height", Count: 3, Error: 0.25},
			{Name: "shots.csv", Form: survey.Points, Count: 5, Codes: []string{"GRD", "2x4", "", "a\"b,c"}},
			{Name: "dtm.tif", Form: survey.Raster, System: "EPSG:32610", Unit: "m", Count: 900, Cell: 0.5},
		},
		Lines: []survey.Line{
			{At: orb.LineString{{500000, 5200000}, {500001.1, 5200000.2}, {500002, 5199999}}, Z: []float64{12.3}, Number: 7},
			{At: orb.LineString{{1, 2}, {3, 4}}, Z: []float64{0.1, math.NaN()}, Number: 8, Use: survey.Break, Out: true},
			{At: orb.LineString{{1, 2}, {3, 4}}, Number: 9, Use: survey.Edge, Source: 1},
			{At: orb.LineString{{5, 6}, {7, 8}}, Z: []float64{math.NaN()}, Use: survey.Kerb, Source: 1},
			{At: orb.LineString{{5, 6}, {7, 8}}, Z: []float64{3, 3}, Use: survey.Kerb, Source: 1},
		},
		Spots: []survey.Spot{
			{At: orb.Point{500000, 5200000}, Z: 1.0000000001, Row: 2, Source: 1, Code: 0},
			{At: orb.Point{500001, 5200000}, Z: math.NaN(), Row: 3, Source: 1, Code: 3, Out: true},
			{At: orb.Point{500002, 5200000}, Z: -3, Row: math.MaxInt32, Source: 1, Code: 3},
			{At: orb.Point{0, 0}, Z: 0, Row: 1, Source: 0, Code: -1},
			{At: orb.Point{500003, 5200000}, Z: 8, Row: 5, Source: 1, Code: -1},
		},
		Patches: []survey.Patch{
			{Outline: orb.Polygon{{{0, 0}, {9, 0}, {9, 9}, {0, 0}}, {{6, 2}, {7, 3}, {7, 2}, {6, 2}}}, Why: survey.Building},
			{Outline: orb.Polygon{{{0, 0}, {9, 0}, {9, 9}, {0, 0}}}, Why: survey.Trees},
			{Outline: orb.Polygon{{{1, 0}, {9, 0}, {9, 9}, {1, 0}}}},
		},
		Quality: survey.Quality{Tension: 0.3, HeldOut: 400, RMSE: 0.04, Bias: math.NaN(), Worst: 0.5, Error: 0.06, Reach: 12},
	}
}

func surveyComesBack(t *testing.T, path string, s *plan.Site) {
	t.Helper()
	if err := SaveSite(path, s); err != nil {
		t.Fatal(err)
	}
	got, err := OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	if g, w := comparable(got.Survey), comparable(s.Survey); !reflect.DeepEqual(g, w) {
		t.Fatalf("got  %+v\nwant %+v", g, w)
	}
	rest := *s
	rest.Survey, got.Survey = survey.Survey{}, survey.Survey{}
	sameSite(t, got, &rest)
}

func TestASurveyComesBackWithItsSite(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	s := plot(t)
	for name, next := range map[string]func() survey.Survey{
		"whole":   measured,
		"nothing": func() survey.Survey { return survey.Survey{} },
		"left out": func() survey.Survey {
			m := measured()
			m.Spots[0].Out, m.Lines[0].Out = true, true
			return m
		},
		"fewer": func() survey.Survey {
			m := measured()
			m.Lines, m.Patches = m.Lines[2:4], nil
			return m
		},
		"patches alone": func() survey.Survey { return survey.Survey{Patches: measured().Patches} },
	} {
		t.Log(name)
		s.Survey = next()
		for range 2 {
			surveyComesBack(t, path, s)
		}
	}
	other, err := systemNamed("EPSG:2193")
	if err != nil {
		t.Fatal(err)
	}
	s.CRS, s.Survey = other, measured()
	surveyComesBack(t, path, s)
}

// TestEveryPartOfASurveyIsKept finds a field of the survey's structs that the file
// forgets: each is set alone to something that is not its zero.
func TestEveryPartOfASurveyIsKept(t *testing.T) {
	filled := survey.Survey{Sources: make([]survey.Source, 2), Lines: make([]survey.Line, 1), Spots: make([]survey.Spot, 1), Patches: make([]survey.Patch, 1)}
	n := 0
	fill(t, reflect.ValueOf(&filled).Elem(), &n)
	filled.Sources, filled.Lines[0].Source, filled.Spots[0].Source, filled.Spots[0].Code = filled.Sources[:2:2], 1, 1, 0
	filled.Lines[0].Use, filled.Patches[0].Why, filled.Sources[0].Form, filled.Sources[1].Form = survey.Edge, survey.Trees, survey.Points, survey.Contours
	filled.Lines[0].Z = []float64{1.5, 2.5}
	s := plot(t)
	s.Survey = filled
	surveyComesBack(t, filepath.Join(t.TempDir(), "verge.gpkg"), s)
}

// fill sets every field to a value of its own that is not zero.
func fill(t *testing.T, v reflect.Value, n *int) {
	*n++
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fill(t, v.Field(i), n)
		}
	case reflect.Slice:
		if v.Len() == 0 {
			v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		}
		for i := range v.Len() {
			fill(t, v.Index(i), n)
		}
	case reflect.Array:
		for i := range v.Len() {
			fill(t, v.Index(i), n)
		}
	case reflect.String:
		v.SetString(strings.Repeat("n", *n%7+1))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Float64:
		v.SetFloat(float64(*n) + 0.125)
	case reflect.Int, reflect.Int16, reflect.Int32:
		v.SetInt(int64(*n%100 + 1))
	case reflect.Uint8:
		v.SetUint(1)
	default:
		t.Fatalf("a survey has a %v now; teach this test of it", v.Kind())
	}
}

func TestManySpotsComeBack(t *testing.T) {
	const most = chunkSpots
	for _, runs := range [][]int{{1}, {most}, {most + 1}, {most - 1, 1, 2 * most}, {1, 1, 1, most, 3}} {
		s := plot(t)
		s.Survey.Sources = []survey.Source{{Name: "a", Form: survey.Points, Codes: []string{"x", "y"}}, {Name: "b", Form: survey.Points}}
		for r, n := range runs {
			for i := range n {
				p := survey.Spot{At: orb.Point{float64(i), 1 / float64(i+1)}, Z: math.Sqrt(float64(i)), Row: int32(i), Source: int16(r % 2), Code: -1}
				if p.Source == 0 {
					p.Code = int16(i/3%3) - 1
				}
				p.Out = i%1000 == 7
				s.Survey.Spots = append(s.Survey.Spots, p)
			}
		}
		surveyComesBack(t, filepath.Join(t.TempDir(), "verge.gpkg"), s)
	}
}

// TestAnUnchangedSurveyIsNotWrittenAgain looks for a mark that another write would
// wipe out.
func TestAnUnchangedSurveyIsNotWrittenAgain(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	s := plot(t)
	s.Survey = measured()
	if err := SaveSite(path, s); err != nil {
		t.Fatal(err)
	}
	change(t, path, "UPDATE survey_lines SET number = 99 WHERE fid = 1")
	numbers := func() int {
		if err := SaveSite(path, s); err != nil {
			t.Fatal(err)
		}
		got, err := OpenSite(path)
		if err != nil {
			t.Fatal(err)
		}
		return got.Survey.Lines[0].Number
	}
	if n := numbers(); n != 99 {
		t.Errorf("the line is numbered %d; the table was written again", n)
	}
	s.Survey.Spots = append([]survey.Spot(nil), s.Survey.Spots...)
	s.Survey.Spots[0].Z += 1e-9
	if n := numbers(); n != 7 {
		t.Errorf("the line is numbered %d after a change, want 7", n)
	}
}

// TestTheSurveysLayersAreOfTheirKind sees that other programs find measured geometry.
func TestTheSurveysLayersAreOfTheirKind(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	s := plot(t)
	s.Survey = measured()
	if err := SaveSite(path, s); err != nil {
		t.Fatal(err)
	}
	err := do(func() error {
		set, err := openForUpdate(path)
		if err != nil {
			return err
		}
		defer set.Close()
		for _, table := range surveyTables() {
			if layer := set.LayerByName(table.name); layer.Type() != table.shape {
				t.Errorf("%s is of type %v, want %v", table.name, layer.Type(), table.shape)
			}
		}
		f := set.LayerByName(spotsTable).NextFeature()
		if got := f.Geometry().Geometry(0); got.CoordinateDimension() != 3 || got.Z(0) != 1.0000000001 {
			t.Errorf("the first point has %d coordinates and the height %v", got.CoordinateDimension(), got.Z(0))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
