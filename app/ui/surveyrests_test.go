package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"
	"github.com/paulmach/orb"

	"runnel/analysis/certainty"
	"runnel/app/site"
	"runnel/app/view"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// contoured is a survey by contours that was checked.
func contoured() survey.Survey {
	return survey.Survey{
		Sources: []survey.Source{
			{Name: "levels.dxf", Form: survey.Contours, System: "EPSG:2193", Unit: "ft", Datum: "NZVD2016", Count: 1234},
			{Name: "shots.csv", Form: survey.Points, Unit: "m", Count: 87, Error: 0.015},
		},
		Lines: []survey.Line{
			{At: orb.LineString{{0, 0}, {50, 40}}, Z: []float64{5}, Number: 1},
			{At: orb.LineString{{0, 40}, {50, 0}}, Z: []float64{6}, Number: 2, Out: true},
		},
		Patches: []survey.Patch{{Outline: orb.Polygon{{{0, 0}, {4, 0}, {4, 3}, {0, 3}, {0, 0}}}, Why: survey.Building}},
		Quality: survey.Quality{Tension: 0.25, HeldOut: 1410, RMSE: 0.05, Bias: -0.004, Worst: -0.21, Error: 0.034, Reach: 7},
	}
}

// restOn has the site rest on a survey, as bringing it in does.
func (b *bench) restOn(s survey.Survey) {
	b.t.Helper()
	is := b.doc.Site()
	if err := b.doc.Do(&site.SetGround{Ground: is.Ground, CRS: is.CRS, Survey: s}); err != nil {
		b.t.Fatal(err)
	}
	b.settle()
}

// ledgerSays reports whether the ledger says a text, wherever its lines break.
func (b *bench) ledgerSays(text string) bool {
	plain := func(t string) string { return strings.Join(strings.Fields(t), " ") }
	return strings.Contains(plain(texts(b.ledger.object)), plain(text))
}

func TestTheLedgerSaysWhatTheGroundRestsOn(t *testing.T) {
	b := newBench(t)
	b.open()
	b.restOn(contoured())
	for _, want := range []string{
		"What the ground rests on", "levels.dxf", "Contours and lines: 1\u2009234.", "Heights in feet above NZVD2016.", "EPSG:2193",
		"shots.csv", "Measured points: 87.", "a datum that is not known", "Said to be off by 0.015\u00a0m.", "Lines and points that are left out: 1.",
		"1\u2009410", "0.050\u00a0m", "−0.004\u00a0m", "−0.210\u00a0m", "0.098\u00a0m", "Buildings, taken out", "12.0\u00a0m²", "held out", "Work on the survey…",
	} {
		if !b.ledgerSays(want) {
			t.Errorf("the ledger does not say %q:\n%s", want, texts(b.ledger.object))
		}
	}
	b.turnUnits()
	if !b.ledgerSays("0.164\u00a0ft") || b.ledgerSays("0.050\u00a0m") {
		t.Errorf("in feet the ledger says:\n%s", texts(b.ledger.object))
	}
}

func TestTheLedgerSaysWhereTheErrorIsFrom(t *testing.T) {
	b := newBench(t)
	b.open()
	if !b.ledgerSays("Nothing is recorded of the survey") || b.ledgerSays("Work on the survey…") {
		t.Errorf("without a record the ledger says:\n%s", texts(b.ledger.object))
	}
	b.restOn(contoured())
	if !b.ledgerSays("As it was found from the measurements that were held out.") {
		t.Errorf("of an error that was found the ledger says:\n%s", texts(b.ledger.object))
	}
	if err := b.setSetting(func(s *plan.Setting) { s.SurveyError = 0.3 }); err != nil {
		t.Fatal(err)
	}
	b.settle()
	if !b.ledgerSays("Typed in. From the survey it was found to be 0.034\u00a0m.") {
		t.Errorf("of an error that was typed in the ledger says:\n%s", texts(b.ledger.object))
	}
}

func TestHowWellTheGroundIsKnownIsShownOnTheMap(t *testing.T) {
	b := newBench(t)
	b.open()
	b.restOn(contoured())
	if b.scene.Doubt != nil || b.tools.checks[view.Doubts].Checked {
		t.Fatal("it is worked out before it is asked for")
	}
	test.Tap(b.tools.checks[view.Doubts])
	b.until("the doubt", func() bool { return b.scene.Doubt != nil })
	b.settle()
	if shown := texts(b.ledger.object); !strings.Contains(shown, "Too thin to say") || !b.pane.scene.Show.Has(view.Doubts) {
		t.Errorf("the map shows it: %v, and the ledger says:\n%s", b.pane.scene.Show.Has(view.Doubts), shown)
	}
	middle := b.scene.Ground.Bound().Center()
	if said := b.heightAt(middle); !strings.Contains(said, "\u00a0m\u00a0±\u00a00.") {
		t.Errorf("the height under the pointer is %q", said)
	}
	before := b.scene.Doubt
	if err := b.setSetting(func(s *plan.Setting) { s.SurveyError *= 2 }); err != nil {
		t.Fatal(err)
	}
	b.until("the doubt of another error", func() bool { return b.scene.Doubt != nil && b.scene.Doubt != before })
	if now := b.scene.Doubt.Doubt.V[0]; now < 1.9*before.Doubt.V[0] || now > 2.1*before.Doubt.V[0] {
		t.Errorf("twice the error makes %g m of %g m", now, before.Doubt.V[0])
	}
	b.turnLayer(view.Heights)
	b.settle()
	if b.show.Has(view.Doubts) || b.tools.checks[view.Doubts].Checked {
		t.Error("the ground has two colours at a time")
	}
}

// The site's own error still rules, and the pattern is the survey's.
func TestHowSureThePathsAreRestsOnTheSurvey(t *testing.T) {
	b := openWatered(t)
	b.restOn(contoured())
	q, err := withDoubt(t.Context(), certainty.Survey{}, b.doc.Site(), b.scene.Drainage)
	if err != nil || q.Errors == nil {
		t.Fatalf("the doubt of the survey is not taken: %v", err)
	}
	b.askHowSure()
	b.until("how sure the paths are", func() bool { return b.waters.sure.paths != nil })
	if err := b.doc.Do(&site.SetGround{Ground: b.doc.Site().Ground, CRS: b.doc.Site().CRS}); err != nil {
		t.Fatal(err)
	}
	b.settle()
	if b.waters.sure.paths != nil {
		t.Error("with another survey the map still shows how sure the old paths were")
	}
	if q, err := withDoubt(t.Context(), certainty.Survey{}, b.doc.Site(), b.scene.Drainage); err != nil || q.Errors != nil {
		t.Errorf("without a record there is a doubt: %v", err)
	}
}

func TestTheLedgerSaysNoMoreOfASourceThanIsKnown(t *testing.T) {
	b := newBench(t)
	b.open()
	s := contoured()
	s.Sources[0].Name = ""
	s.Sources[1] = survey.Source{Name: "old.tif", Form: survey.Raster, Cell: 1, Count: 9}
	b.restOn(s)
	for _, want := range []string{"A file whose name is not recorded any more", "they were taken to be in metres"} {
		if !b.ledgerSays(want) {
			t.Errorf("the ledger does not say %q:\n%s", want, texts(b.ledger.object))
		}
	}
	rests := &restsPart{w: b.Window}
	if got := rests.origin(s, s.Quality.Error); !strings.Contains(got, "With every contour in") {
		t.Errorf("with contours it says %q", got)
	}
	s.Lines = nil
	if got := rests.origin(s, s.Quality.Error); strings.Contains(got, "contour") {
		t.Errorf("without contours it says %q", got)
	}
}
