package report

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/accuracy"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

func measuredSite() *plan.Site {
	s := plan.Site{Name: "Yard", Ground: grid.Parse("1 2", "3 4"), Setting: plan.UsualSetting()}
	s.Survey = survey.Survey{
		Sources: []survey.Source{
			{Name: "levels.dxf", Form: survey.Contours, Count: 12, Unit: "ft", Datum: "NAVD88"},
			{Name: "old.tif", Form: survey.Raster, Count: 400, Cell: 0.5, Error: 0.1},
		},
		Lines:   []survey.Line{{Out: true}, {}},
		Patches: []survey.Patch{{Outline: orb.Polygon{{{0, 0}, {4, 0}, {4, 3}, {0, 3}, {0, 0}}}, Why: survey.Building}},
		Quality: survey.Quality{Tension: 0.25, HeldOut: 40, RMSE: 0.05, Bias: -0.004, Worst: -0.21, Error: 0.03, Reach: 7},
	}
	return &s
}

// The accuracy at the 95 % level is 1.96 RMSE: FGDC-STD-007.3-1998, from memory.
func TestTheAccuracyIsSoManyRootMeanSquares(t *testing.T) {
	if got := Accuracy95(survey.Quality{HeldOut: 3, RMSE: 0.05}); math.Abs(got-0.098) > 1e-12 {
		t.Errorf("it is %g m for 0.05 m, want 0.098 m", got)
	}
	if got := Accuracy95(survey.Quality{RMSE: 0.05}); !math.IsNaN(got) {
		t.Errorf("with nothing held out it is %g m", got)
	}
}

func TestEachFigureOfTheSurveyHasItsUnit(t *testing.T) {
	faults := make([]accuracy.Fault, 23)
	for i := range faults {
		faults[i] = accuracy.Fault{Sort: accuracy.Blunder, Says: "Point 7 is 3 m too high; look at its staff"}
	}
	f := OfSurvey(measuredSite(), Thinness{0.125, 0.25}, faults)
	var b strings.Builder
	if err := f.WriteTable(&b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"levels.dxf", "contours", "ft", "NAVD88", "0.50", "1 of the lines and points are left out", "0.050", "-0.004", "-0.210", "0.098",
		"[m]", "12.5", "25.0", "building", "12.0", "and 3 more",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("the table does not say %q:\n%s", want, b.String())
		}
	}
	if n := strings.Count(b.String(), "Point 7"); n != 20 {
		t.Errorf("%d faults are listed, want 20", n)
	}
	b.Reset()
	if err := f.WriteJSON(&b); err != nil {
		t.Fatal(err)
	}
	var back SurveyFigures
	if err := json.Unmarshal([]byte(b.String()), &back); err != nil || len(back.Faults) != 23 || back.Quality.Worst != -0.21 {
		t.Errorf("%v: JSON holds %d faults and %+v", err, len(back.Faults), back.Quality)
	}
}

func TestASiteWithoutARecordSaysWhatToDo(t *testing.T) {
	s := measuredSite()
	s.Survey = survey.Survey{}
	var b strings.Builder
	if err := OfSurvey(s, Thinness{math.NaN(), math.NaN()}, nil).WriteTable(&b); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), NoRecord) || strings.Contains(b.String(), "NaN") {
		t.Errorf("it says\n%s", b.String())
	}
}
