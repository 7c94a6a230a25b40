package groundwork

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/accuracy"
	"runnel/app/work"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// plane is the height that the spots and contours of these tests are measured on.
func plane(p orb.Point) float64 { return 100 + 0.04*p[0] - 0.02*p[1] }

// shots are spots on the plane, every 5 m over 100 by 80 m, not quite in rows.
func shots() survey.Survey {
	s := survey.Survey{Sources: []survey.Source{{Name: "points.csv", Form: survey.Points, Unit: "m"}}}
	for y := 0.0; y <= 80; y += 5 {
		for x := 0.0; x <= 100; x += 5 {
			p := orb.Point{1000 + x + math.Sin(3*y+x), 2000 + y + math.Cos(2*x-y)}
			s.Spots = append(s.Spots, survey.Spot{At: p, Z: plane(p), Row: int32(len(s.Spots) + 1), Code: -1})
		}
	}
	s.Sources[0].Count = len(s.Spots)
	return s
}

// blundered has one spot of shots 3 m too high.
func blundered() survey.Survey {
	s := shots()
	s.Spots[180].Z += 3
	return s
}

func TestAPlaneComesBack(t *testing.T) {
	made, err := Make(t.Context(), shots(), Options{Cell: 1, Tension: -1})
	if err != nil {
		t.Fatal(err)
	}
	worst, seen := 0.0, 0
	for i, z := range made.Ground.V {
		at := made.Ground.Centre(i%made.Ground.W, i/made.Ground.W)
		if grid.IsNoData(z) || at[0] < 1005 || at[0] > 1095 || at[1] < 2005 || at[1] > 2075 {
			continue
		}
		seen++
		worst = max(worst, math.Abs(float64(z)-plane(at)))
	}
	if seen < 6000 || worst > 0.02 {
		t.Errorf("the ground is off by %.3f m at worst in %d cells", worst, seen)
	}
	q := made.Survey.Quality
	if q.HeldOut < 20 || q.RMSE > 0.05 || !(q.Error > 0) || !(q.Reach > 0) {
		t.Errorf("the quality is %+v", q)
	}
	if len(made.Faults) != 0 || made.Left != 0 {
		t.Errorf("faults are found in a plane: %+v", made.Faults)
	}
}

func TestABlunderIsFoundAndLeftOutByConsentOnly(t *testing.T) {
	kept, err := Make(t.Context(), blundered(), Options{Cell: 1})
	if err != nil {
		t.Fatal(err)
	}
	left, err := Make(t.Context(), blundered(), Options{Cell: 1, Leave: Proposed})
	if err != nil {
		t.Fatal(err)
	}
	if len(kept.Faults) != 1 || kept.Left != 0 || kept.Survey.Spots[180].Out {
		t.Errorf("%d faults, %d left out without consent: %+v", len(kept.Faults), kept.Left, kept.Faults)
	}
	if left.Left != 1 || !left.Survey.Spots[180].Out {
		t.Errorf("%d are left out by consent", left.Left)
	}
	at := blundered().Spots[180].At
	if z := grid.Sample(left.Ground, at); math.Abs(z-plane(at)) > 0.05 {
		t.Errorf("without the blunder the ground there is %.2f m, want %.2f m", z, plane(at))
	}
	if z := grid.Sample(kept.Ground, at); z < plane(at)+1 {
		t.Errorf("with the blunder the ground there is %.2f m; it was kept", z)
	}
	if left.Survey.Quality.RMSE >= kept.Survey.Quality.RMSE {
		t.Errorf("the root mean square difference is %.3f m with the blunder and %.3f m without", kept.Survey.Quality.RMSE, left.Survey.Quality.RMSE)
	}
}

func TestTheGroundLiesWhereItIsAskedFor(t *testing.T) {
	b := orb.Bound{Min: orb.Point{1010, 2020}, Max: orb.Point{1050.2, 2060}}
	f, err := Frame(shots(), 0.5, b)
	if err != nil {
		t.Fatal(err)
	}
	if want := grid.Square(81, 80, 1010, 2060, 0.5); f != want {
		t.Errorf("the frame is %+v, want %+v", f, want)
	}
	far := orb.Bound{Min: orb.Point{9000, 9000}, Max: orb.Point{9010, 9010}}
	if _, err := Make(t.Context(), shots(), Options{Cell: 1, Bound: far}); err == nil || !strings.Contains(err.Error(), "bounds") {
		t.Errorf("a ground with nothing measured on it: %v", err)
	}
	huge := orb.Bound{Max: orb.Point{1e9, 1e9}}
	if _, err := Frame(shots(), 0.001, huge); err == nil || !strings.Contains(err.Error(), "larger cell") {
		t.Errorf("a ground of 10^24 cells: %v", err)
	}
}

func TestWhatCannotBeMadeIsRefusedInOneSentence(t *testing.T) {
	for name, try := range map[string]func() error{
		"nothing": func() error { _, err := Make(t.Context(), survey.Survey{}, Options{}); return err },
		"cell":    func() error { _, err := Make(t.Context(), shots(), Options{Cell: math.NaN()}); return err },
		"tension": func() error { _, err := Make(t.Context(), shots(), Options{Tension: 2}); return err },
		"bound": func() error {
			_, err := Make(t.Context(), shots(), Options{Bound: orb.Bound{Min: orb.Point{1, 1}}})
			return err
		},
	} {
		if err := try(); err == nil || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestMakingTellsHowFarItIsAndCanBeStopped(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	last, texts := -1.0, map[string]bool{}
	_, err := Make(ctx, shots(), Options{Cell: 1, Progress: func(p work.Progress) {
		if p.Fraction < last {
			t.Errorf("it goes back from %g to %g", last, p.Fraction)
		}
		last, texts[p.Text] = p.Fraction, true
	}})
	if err != nil || len(texts) != 3 || last < 0.9 || last > 1 {
		t.Errorf("it ends at %g after %v: %v", last, texts, err)
	}
	stop()
	if _, err := Make(ctx, shots(), Options{Cell: 1}); !errors.Is(err, context.Canceled) {
		t.Errorf("once it is stopped the error is %v", err)
	}
}

// The doubt keeps its pattern, and the site's own error rules its size.
func TestTheErrorThatIsSetRulesTheDoubt(t *testing.T) {
	made, err := Make(t.Context(), shots(), Options{Cell: 2})
	if err != nil {
		t.Fatal(err)
	}
	site := plan.Site{Ground: made.Ground, Survey: made.Survey, Setting: plan.UsualSetting()}
	site.Setting.SurveyError = 0.1
	once, err := Doubt(t.Context(), &site)
	if err != nil {
		t.Fatal(err)
	}
	site.Setting.SurveyError = 0.2
	twice, err := Doubt(t.Context(), &site)
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range once.V {
		if grid.IsNoData(v) != grid.IsNoData(made.Ground.V[i]) {
			t.Fatalf("cell %d has a doubt of %g m and a height of %g m", i, v, made.Ground.V[i])
		}
		if math.Abs(float64(twice.V[i]-2*v)) > 1e-5 {
			t.Fatalf("cell %d: the doubt is %g m for an error of 0.1 m and %g m for 0.2 m", i, v, twice.V[i])
		}
	}
}

func TestWithoutARecordAllPlacesAreKnownAlike(t *testing.T) {
	g := grid.Parse("5 4 3", "5 4 .", "5 4 3")
	site := plan.Site{Ground: g, Setting: plan.UsualSetting()}
	site.Setting.SurveyError = 0.07
	known, err := KnownOf(t.Context(), &site)
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range known.Doubt.V {
		if want := float32(0.07); !grid.IsNoData(g.V[i]) && v != want || grid.IsNoData(g.V[i]) != grid.IsNoData(v) {
			t.Errorf("cell %d has a doubt of %g m", i, v)
		}
	}
}

func TestSharesAreOfTheKnownGround(t *testing.T) {
	k := Known{Thin: grid.New[accuracy.Thinness](grid.Square(5, 1, 0, 1, 1))}
	copy(k.Thin.V, []accuracy.Thinness{accuracy.Unknown, accuracy.Enough, accuracy.TooLittle, accuracy.Little, accuracy.Enough})
	if tooLittle, little := k.Shares(); tooLittle != 0.25 || little != 0.25 {
		t.Errorf("the shares are %g and %g, want a quarter each", tooLittle, little)
	}
	if tooLittle, little := (Known{}).Shares(); tooLittle != 0 || little != 0 {
		t.Error("nothing has a share")
	}
}
