package gdal

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"runnel/geo/crs"
	"runnel/geo/survey"
)

func surveyed(t testing.TB, path string, o SurveyOptions) (survey.Survey, crs.CRS, []string) {
	t.Helper()
	s, c, notes, err := ReadSurvey(context.Background(), path, o)
	if err != nil {
		t.Fatal(err)
	}
	return s, c, notes
}

// Positions agree within 0.1 mm, and within 0.01 mm where nothing is turned from
// degrees; heights are the same.
func TestTheSameContoursInSixFormatsReadAlike(t *testing.T) {
	shape := as(t, "ESRI Shapefile", "knoll.shp")
	for name, c := range map[string]struct {
		path   string
		within float64
		o      SurveyOptions
	}{
		"GeoJSON":    {knollGeoJSON(t), 1e-5, SurveyOptions{}},
		"Shapefile":  {shape, 1e-5, SurveyOptions{}},
		"GeoPackage": {as(t, "GPKG", "knoll.gpkg"), 1e-5, SurveyOptions{}},
		"FlatGeobuf": {as(t, "FlatGeobuf", "knoll.fgb", "SPATIAL_INDEX=NO"), 1e-5, SurveyOptions{}},
		"DXF":        {knollDXF(t), 1e-5, SurveyOptions{System: "EPSG:32610", Layers: []string{"CONTOURS"}}},
		"KML":        {knollKML(t), 1e-4, SurveyOptions{To: utm10(t)}},
	} {
		c.o.Form = survey.Contours
		s, system, notes := surveyed(t, c.path, c.o)
		if system.Code != 32610 || len(s.Lines) != 3 || len(s.Spots) != 0 || s.Sources[0].Count != 3 || s.Sources[0].Name != filepath.Base(c.path) {
			t.Errorf("%s: %d lines, %d points in %v, %+v, %q", name, len(s.Lines), len(s.Spots), system, s.Sources, notes)
			continue
		}
		for i, want := range knoll() {
			got := s.Lines[i]
			if got.Use != survey.Contour || got.Level() != want.Level() || got.Number != i+1 || len(got.At) != len(want.At) {
				t.Errorf("%s: line %d is a %v at %v with %d points", name, i, got.Use, got.Z, len(got.At))
				continue
			}
			for k, p := range want.At {
				if d := math.Hypot(got.At[k][0]-p[0], got.At[k][1]-p[1]); d > c.within {
					t.Errorf("%s: point %d of line %d is %g m off", name, k, i, d)
				}
			}
		}
	}
}

func look(t testing.TB, path string) Look {
	t.Helper()
	l, err := LookAt(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestALookSaysWhatAFileHolds(t *testing.T) {
	l := look(t, knollGeoJSON(t))
	if len(l.Layers) != 1 || l.System.Code != 32610 || l.Degrees || l.Table != nil {
		t.Fatalf("%+v", l)
	}
	y := l.Layers[0]
	if y.Name != "knoll" || y.Lines != 3 || y.Points != 0 || y.Areas != 0 || y.HasZ || y.Height != "elev" {
		t.Errorf("%+v", y)
	}
	if math.Abs(y.Bound.Min[0]-500060) > 0.001 || math.Abs(y.Bound.Max[1]-5200140) > 0.001 {
		t.Errorf("bound %v", y.Bound)
	}
	want := FieldLook{Name: "elev", Number: true, Low: 100.5, High: 101.5, Set: 3, Samples: []string{"100.5", "101", "101.5"}}
	if f := y.Fields[1]; f.Name != want.Name || !f.Number || f.Low != want.Low || f.High != want.High || f.Set != 3 || !slices.Equal(f.Samples, want.Samples) {
		t.Errorf("field %+v, want %+v", f, want)
	}
	l = look(t, knollKML(t))
	if y := l.Layers[0]; !l.Degrees || l.System.Code != 4326 || !y.HasZ || y.Height != ZHeight {
		t.Errorf("KML: %+v", l)
	}
}

func TestALookAtADXFSaysItsOwnLayersAndWhatIsLeftOut(t *testing.T) {
	path := knollDXF(t)
	l := look(t, path)
	if len(l.Layers) != 2 || l.System.Known() || l.Degrees {
		t.Fatalf("%+v", l)
	}
	if y := l.Layers[0]; y.Name != "CONTOURS" || y.Lines != 3 || !y.HasZ || y.Height != ZHeight {
		t.Errorf("%+v", y)
	}
	if y := l.Layers[1]; y.Name != "FENCE" || y.Lines != 1 || y.HasZ || y.Height != "" {
		t.Errorf("%+v", y)
	}
	if !noted(l.Notes, "3 texts and dimensions, 2 blocks") {
		t.Errorf("notes %q", l.Notes)
	}
	s, _, notes := surveyed(t, path, SurveyOptions{Form: survey.Contours, System: "EPSG:32610"})
	if len(s.Lines) != 4 || !math.IsNaN(s.Lines[3].Level()) || !noted(notes, "Layer FENCE has no heights") || !noted(notes, "2 blocks") {
		t.Errorf("%d lines, notes %q", len(s.Lines), notes)
	}
	s, _, _ = surveyed(t, path, SurveyOptions{Form: survey.Points, System: "EPSG:32610", Uses: map[string]survey.Use{"fence": survey.Edge, "CONTOURS": survey.Contour}})
	if s.Lines[0].Use != survey.Contour || s.Lines[3].Use != survey.Edge || s.Lines[3].Z != nil {
		t.Errorf("uses %v and %v with %v", s.Lines[0].Use, s.Lines[3].Use, s.Lines[3].Z)
	}
	if _, _, _, err := ReadSurvey(context.Background(), path, SurveyOptions{Form: survey.Contours}); !errors.Is(err, ErrNoSystem) || !strings.Contains(err.Error(), "EPSG:32633") {
		t.Errorf("without a system: %v", err)
	}
	if _, _, _, err := ReadSurvey(context.Background(), path, SurveyOptions{Form: survey.Contours, System: "EPSG:32610", Layers: []string{"none"}}); err == nil {
		t.Error("a layer that is not there is read")
	}
}

// A drawing of release 12 says no classes.
func TestADXFOfOldIsReadAlike(t *testing.T) {
	text := "0\nSECTION\n2\nENTITIES\n" +
		"0\nPOLYLINE\n8\nC\n66\n1\n10\n0\n20\n0\n30\n12.5\n70\n0\n0\nVERTEX\n8\nC\n10\n1\n20\n2\n30\n12.5\n0\nVERTEX\n8\nC\n10\n3\n20\n4\n30\n12.5\n0\nSEQEND\n8\nC\n" +
		"0\nPOINT\n8\nSPOT\n10\n5\n20\n6\n30\n7.5\n" +
		"0\nTEXT\n8\nT\n10\n1\n20\n2\n30\n0\n40\n1\n1\n12.5\n" +
		"0\nINSERT\n8\nB\n2\nTREE\n10\n1\n20\n2\n30\n0\n" +
		"0\n3DFACE\n8\nF\n10\n0\n20\n0\n30\n1\n11\n1\n21\n0\n31\n1\n12\n1\n22\n1\n32\n1\n13\n0\n23\n1\n33\n1\n" +
		"0\nENDSEC\n0\nEOF\n"
	s, _, notes := surveyed(t, put(t, "old.dxf", text), SurveyOptions{Form: survey.Contours, System: "m"})
	if len(s.Lines) != 1 || s.Lines[0].Level() != 12.5 || len(s.Spots) != 1 || s.Spots[0].Z != 7.5 || s.Sources[0].Codes[s.Spots[0].Code] != "SPOT" {
		t.Errorf("%+v", s)
	}
	if !noted(notes, "1 texts and dimensions, 1 blocks") || !noted(notes, "hatches and faces and are left out: 1") {
		t.Errorf("notes %q", notes)
	}
}

func TestAShapefileWithoutItsIndexIsReadAndNothingWrittenBesideIt(t *testing.T) {
	path := as(t, "ESRI Shapefile", "knoll.shp")
	stem := strings.TrimSuffix(path, ".shp")
	if err := os.Remove(stem + ".shx"); err != nil {
		t.Fatal(err)
	}
	s, _, notes := surveyed(t, path, SurveyOptions{Form: survey.Contours})
	if len(s.Lines) != 3 || s.Lines[2].Level() != 101.5 || !noted(notes, "is missing; it is made anew") {
		t.Errorf("%d lines, notes %q", len(s.Lines), notes)
	}
	if l := look(t, path); l.System.Code != 32610 || len(l.Layers) != 1 || l.Layers[0].Lines != 3 {
		t.Errorf("%+v", l)
	}
	if d, _ := drawn(t, path, utm10(t)); len(d) != 3 {
		t.Errorf("%d parts of a drawing", len(d))
	}
	if _, err := os.Stat(stem + ".shx"); err == nil {
		t.Error("an index is written beside the file")
	}
	if left, _ := filepath.Glob(filepath.Join(os.TempDir(), "runnel*", "drawing.shp")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestAShapefileWithoutItsSystemIsAskedFor(t *testing.T) {
	path := as(t, "ESRI Shapefile", "knoll.shp")
	if err := os.Remove(strings.TrimSuffix(path, ".shp") + ".prj"); err != nil {
		t.Fatal(err)
	}
	if _, _, _, err := ReadSurvey(context.Background(), path, SurveyOptions{Form: survey.Contours}); !errors.Is(err, ErrNoSystem) {
		t.Errorf("error %v", err)
	}
	s, c, _ := surveyed(t, path, SurveyOptions{Form: survey.Contours, System: "EPSG:32610"})
	if len(s.Lines) != 3 || c.Code != 32610 || !strings.Contains(s.Sources[0].System, "EPSG:32610") {
		t.Errorf("%d lines in %v, %+v", len(s.Lines), c, s.Sources)
	}
	s, c, _ = surveyed(t, path, SurveyOptions{Form: survey.Contours, System: OwnSystem, To: utm10(t)})
	if len(s.Lines) != 3 || c.Code != 32610 {
		t.Errorf("as the site's own: %d lines in %v", len(s.Lines), c)
	}
	s, c, _ = surveyed(t, path, SurveyOptions{Form: survey.Contours, System: "ft"})
	if want := knoll()[0].At[0][0] * 0.3048; c.Known() || c.Metre != 1 || math.Abs(s.Lines[0].At[0][0]-want) > 1e-6 || math.Abs(s.Lines[0].Level()-100.5*0.3048) > 1e-9 {
		t.Errorf("as feet from a place of its own: %v in %+v", s.Lines[0].At[0], c)
	}
}

func TestTextsOfAShapefileThatSaysNoEncodingAreReadable(t *testing.T) {
	path := as(t, "ESRI Shapefile", "knoll.shp")
	stem := strings.TrimSuffix(path, ".shp")
	os.Remove(stem + ".cpg")
	whole, err := os.ReadFile(stem + ".dbf")
	if err != nil {
		t.Fatal(err)
	}
	whole[29] = 0
	whole = []byte(strings.Replace(string(whole), "elev\x00\x00", "H\xC3\xB6he\x00", 1)) // UTF-8
	if err := os.WriteFile(stem+".dbf", whole, 0o644); err != nil {
		t.Fatal(err)
	}
	if l := look(t, path); l.Layers[0].Height != "Höhe" {
		t.Errorf("as UTF-8: %+v", l.Layers[0])
	}
	whole = []byte(strings.Replace(string(whole), "H\xC3\xB6he\x00", "H\xF6he\x00\x00", 1)) // Windows-1252
	if err := os.WriteFile(stem+".dbf", whole, 0o644); err != nil {
		t.Fatal(err)
	}
	if l := look(t, path); l.Layers[0].Height != "Höhe" {
		t.Errorf("as Windows-1252: %+v", l.Layers[0])
	}
	if s, _, _ := surveyed(t, path, SurveyOptions{Form: survey.Contours, Height: "höhe"}); s.Lines[0].Level() != 100.5 {
		t.Errorf("level %v", s.Lines[0].Z)
	}
}

// What a person says goes before what the file says, but never unsaid.
func TestAFileThatNamesItsSystemIsNotOverriddenInSilence(t *testing.T) {
	path, other := knollGeoJSON(t), crs.CRS{Code: 32611, Metre: 1}
	for name, o := range map[string]SurveyOptions{
		"another":               {System: "EPSG:32611"},
		"the site's own":        {System: OwnSystem, To: other},
		"lengths of its own":    {System: "m"},
		"the same, of the site": {System: OwnSystem, To: utm10(t)},
		"nothing":               {},
	} {
		o.Form = survey.Contours
		_, _, notes := surveyed(t, path, o)
		if told := noted(notes, "as you say"); told != (name != "nothing" && name != "the same, of the site") {
			t.Errorf("%s: notes %q", name, notes)
		}
	}
}

func TestALookTellsCellsFromPointsInRows(t *testing.T) {
	grid, points := "", "1 2 3\n"
	for y := range 5 {
		for x := range 6 {
			grid += fmt.Sprintf("%d %d %.1f\n", 500000+2*x, 5200000-2*y, float64(x+y))
			points += fmt.Sprintf("%.2f %.2f %.1f\n", 500000+2.13*float64(x)+0.3*float64(y%3), 5200000-1.7*float64(y)-0.4*float64(x%4), float64(x))
		}
	}
	if !look(t, put(t, "a.xyz", grid)).Grid || look(t, put(t, "a.xyz", points)).Grid || look(t, put(t, "a.txt", grid)).Grid {
		t.Error("cells and points are not told apart")
	}
}
