package site

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/grid"
	"runnel/geo/survey"
)

// levelled is a survey of two spots with a quality that was found.
func levelled() survey.Survey {
	return survey.Survey{
		Sources: []survey.Source{{Name: "shots.csv", Form: survey.Points, Count: 2}},
		Spots:   []survey.Spot{{Z: 1, Code: -1}, {At: orb.Point{1, 1}, Z: 2, Code: -1}},
		Quality: survey.Quality{HeldOut: 2, Error: 0.07, Reach: 11},
	}
}

func TestAGroundBringsItsSurveyAndItsError(t *testing.T) {
	doc := New(field(), "")
	before := doc.Site()
	e := &SetGround{Ground: grid.Parse("1 2"), CRS: before.CRS, Survey: levelled()}
	if err := doc.Do(e); err != nil {
		t.Fatal(err)
	}
	after := doc.Site()
	if !after.Survey.Is(e.Survey) || after.Setting.SurveyError != 0.07 || after.Setting.SurveyReach != 11 || after.Setting.Soil != before.Setting.Soil {
		t.Errorf("the survey is %+v, the setting %+v", after.Survey, after.Setting)
	}
	doc.Undo()
	if got := doc.Site(); got.Setting != before.Setting || !got.Survey.Empty() || got.Ground.Frame != before.Ground.Frame {
		t.Errorf("undone it is %+v with %+v", got.Setting, got.Survey)
	}
	doc.Redo()
	if got := doc.Site(); got.Setting != after.Setting || !got.Survey.Is(after.Survey) {
		t.Error("done again it is another")
	}
	if err := doc.Do(&SetGround{Ground: grid.Parse("3"), CRS: before.CRS}); err != nil {
		t.Fatal(err)
	}
	if got := doc.Site(); !got.Survey.Empty() || got.Setting.SurveyError != 0.07 {
		t.Errorf("a ground of which nothing is known keeps the survey of the last: %+v, error %v", got.Survey, got.Setting.SurveyError)
	}
}

func TestSettingForKeepsWithinWhatASettingTakes(t *testing.T) {
	s := levelled()
	s.Quality.Error, s.Quality.Reach = 40, 5000
	if got := SettingFor(field().Setting, s); got.SurveyError != SurveyError().High || got.SurveyReach != SurveyReach().High {
		t.Errorf("%+v", got)
	}
	s.Quality.Error, s.Quality.Reach = math.NaN(), 0
	if got := SettingFor(field().Setting, s); got != field().Setting {
		t.Errorf("what was not found changes %+v", got)
	}
}

func TestMendingTheGroundIsOneStep(t *testing.T) {
	start := field()
	start.Survey = levelled()
	doc := New(start, "")
	of := doc.Site().Ground
	mended := of.Clone()
	mended.V[0]--
	patch := survey.Patch{Outline: orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}, Why: survey.Building}
	e := &MendGround{Of: of, Ground: mended, Patches: []survey.Patch{patch}}
	if err := doc.Do(e); err != nil {
		t.Fatal(err)
	}
	s := doc.Site()
	if s.Ground.V[0] != mended.V[0] || !reflect.DeepEqual(s.Survey.Patches, e.Patches) || len(s.Survey.Spots) != 2 || s.Setting != start.Setting {
		t.Errorf("it is %+v", s.Survey)
	}
	if err := doc.Do(&MendGround{Of: of, Ground: mended, Patches: e.Patches}); err == nil || !strings.Contains(err.Error(), "has changed since") {
		t.Errorf("a ground that is another now is mended: %v", err)
	}
	doc.Undo()
	if got := doc.Site(); &got.Ground.V[0] != &of.V[0] || !got.Survey.Is(start.Survey) {
		t.Error("undone it is another ground")
	}
	doc.Redo()
	if got := doc.Site(); &got.Ground.V[0] != &mended.V[0] || len(got.Survey.Patches) != 1 {
		t.Error("done again it is another ground")
	}
	if err := doc.Do(&MendGround{Of: mended, Ground: mended}); err != nil {
		t.Error(err)
	}
	if text, _ := doc.UndoText(); text != "Undo take buildings out of the ground" {
		t.Errorf("%q", text)
	}
}

func TestMendingIsNamed(t *testing.T) {
	v, b, r := survey.Patch{}, survey.Patch{Why: survey.Building}, survey.Patch{Why: survey.Trees}
	for want, patches := range map[string][]survey.Patch{
		"fill voids in the ground": {v, v}, "take buildings out of the ground": {b}, "take trees out of the ground": {r, r},
		"take buildings and trees out of the ground": {b, r},
	} {
		if got := (&MendGround{Patches: patches}).String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestASurveyThatCannotBeIsRefused(t *testing.T) {
	for want, change := range map[string]func(*survey.Survey){
		"the survey: measured point 2 has no place; read its files again":        func(s *survey.Survey) { s.Spots[1].At[1] = math.Inf(1) },
		"the survey: measured point 1 is of no known file; read its files again": func(s *survey.Survey) { s.Spots[0].Source = 1 },
		"the survey: measured point 1 has a code that its file does not list; read its files again": func(s *survey.Survey) {
			s.Spots[0].Code = 0
		},
		"the survey: measured line 1 has 2 heights for 3 points; read its files again": func(s *survey.Survey) {
			s.Lines = []survey.Line{{At: make(orb.LineString, 3), Z: make([]float64, 2)}}
		},
		"the survey: measured line 1 is of no known file; read its files again": func(s *survey.Survey) {
			s.Lines = []survey.Line{{At: make(orb.LineString, 3), Source: -1}}
		},
	} {
		s := levelled()
		change(&s)
		doc := New(field(), "")
		if err := doc.Do(&SetGround{Ground: grid.Parse("1"), CRS: crs.CRS{}, Survey: s}); err == nil || err.Error() != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}
