package certainty_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"runnel/analysis/certainty"
	"runnel/analysis/flow"
	"runnel/analysis/synthetic"
	"runnel/geo/grid"
)

// shares returns the answer, which must be one.
func shares(t interface{ Fatal(...any) }, ground grid.Ground, s certainty.Survey) []float32 {
	share, err := certainty.Of(context.Background(), ground, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return share.V
}

// valley falls to the south along its middle column, its sides rising by rise
// [m] a cell.
func valley(w, h int, rise, fall float64) grid.Ground {
	g := grid.New[float32](grid.Square(w, h, 0, float64(h), 1))
	for y := range h {
		for x := range w {
			g.Set(x, y, float32(10+rise*math.Abs(float64(x-w/2))-fall*float64(y)))
		}
	}
	return g
}

func TestTheBedOfASteepValleyIsCertainAndItsSidesAreDry(t *testing.T) {
	g := valley(21, 30, 2, 0.1)
	share := shares(t, g, certainty.Survey{Error: 0.05, Reach: 3, Draws: 60, Seed: 1, Least: 25})
	for y := 2; y < g.H; y++ {
		for x := range g.W {
			want := float32(0)
			if x == g.W/2 {
				want = 1
			}
			if got := share[y*g.W+x]; got != want {
				t.Errorf("cell (%d, %d) carries flow in %g of the draws, want %g", x, y, got, want)
			}
		}
	}
}

func TestNothingIsCertainOnAPlane(t *testing.T) {
	g := valley(41, 60, 0, 0.001)
	share := shares(t, g, certainty.Survey{Error: 0.05, Reach: 4, Draws: 100, Seed: 2, Least: 20})
	if most := slices.Max(share); most > 0.95 || most < 0.2 {
		t.Errorf("the surest cell of a plane carries flow in %g of the draws", most)
	}
}

func TestTheMoreTheSurveyIsOffTheLessSureIsAGentleValley(t *testing.T) {
	g := valley(41, 60, 0.01, 0.02)
	bed := func(sd float64) (sum float64) {
		share := shares(t, g, certainty.Survey{Error: sd, Reach: 3, Draws: 40, Seed: 3, Least: 400})
		for y := 20; y < g.H; y++ {
			sum += float64(share[y*g.W+g.W/2]) / 40
		}
		return sum
	}
	last := 1.0
	if got := bed(0.0001); got < 0.99 {
		t.Errorf("with next to no error the bed is sure by %g", got)
	}
	for _, sd := range []float64{0.02, 0.05, 0.2} {
		got := bed(sd)
		if got > last-0.05 {
			t.Errorf("with an error of %g m the bed is sure by %g, with less by %g", sd, got, last)
		}
		last = got
	}
}

func TestWithoutErrorThePathsAreThoseOfTheSurvey(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := grid.New[float32](grid.Square(rapid.IntRange(1, 12).Draw(t, "w"), rapid.IntRange(1, 12).Draw(t, "h"), 0, 0, 2))
		for i := range g.V {
			g.V[i] = float32(rapid.IntRange(0, 9).Draw(t, "z"))
			if i > 0 && g.V[i] == 9 {
				g.V[i] = grid.NoData
			}
		}
		g.V[0] = 3
		inlets := []int32{int32(rapid.IntRange(0, g.Len()-1).Draw(t, "inlet"))}
		least := rapid.Float64Range(1, 40).Draw(t, "least")
		share := shares(t, g, certainty.Survey{Reach: 5, Draws: 7, Least: least, Inlets: inlets})
		plain, err := flow.Route(context.Background(), g, flow.Options{Inlets: inlets})
		if err != nil {
			t.Fatal(err)
		}
		for i, got := range share {
			want := float32(0)
			if float64(plain.Cells.V[i])*4 >= least {
				want = 1
			}
			if grid.IsNoData(g.V[i]) != grid.IsNoData(got) || !grid.IsNoData(got) && got != want {
				t.Fatalf("cell %d: share %g, want %g of height %g", i, got, want, g.V[i])
			}
		}
	})
}

// What is carried to a cell in every draw makes it sure.
func TestWhatACulvertBringsCounts(t *testing.T) {
	g := grid.New[float32](grid.Square(9, 9, 0, 9, 1))
	carry := func(f *flow.Flow) { f.Cells.V[40] += 1000 }
	share := shares(t, g, certainty.Survey{Error: 0.05, Reach: 2, Draws: 10, Seed: 1, Least: 500, Carry: carry})
	for c, v := range share {
		if want := float32(0); c != 40 && v != want || c == 40 && v != 1 {
			t.Errorf("cell %d: share %g", c, v)
		}
	}
}

func TestSharesLieFromNoughtToOneAndAreWholeDraws(t *testing.T) {
	g := synthetic.Rounded(synthetic.Site(80, 60, 5))
	for i, v := range shares(t, g, certainty.Survey{Error: 0.03, Reach: 2.5, Draws: 8, Seed: 4, Least: 50}) {
		if !(v >= 0 && v <= 1) || v*8 != float32(math.Round(float64(v*8))) {
			t.Fatalf("cell %d has a share of %g", i, v)
		}
	}
}

func TestOneWorkerAndManyGiveTheSameSharesAndAnotherSeedGivesOthers(t *testing.T) {
	g := synthetic.Site(150, 140, 5)
	s := certainty.Survey{Error: 0.05, Reach: 5, Draws: 9, Seed: 6, Least: 200}
	many := shares(t, g, s)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if !slices.Equal(shares(t, g, s), many) {
		t.Error("one worker gives other shares")
	}
	s.Seed++
	if slices.Equal(shares(t, g, s), many) {
		t.Error("another seed gives the same shares")
	}
}

func TestProgressGrowsToAllOfTheWork(t *testing.T) {
	var told []float64
	s := certainty.Survey{Error: 0.05, Draws: 5, Least: 9}
	if _, err := certainty.Of(context.Background(), synthetic.Site(30, 30, 1), s, func(v float64) { told = append(told, v) }); err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(told, []float64{0.2, 0.4, 0.6, 0.8, 1}) {
		t.Errorf("told %v", told)
	}
}

func TestItStopsSoonAfterItIsCancelled(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	calls := 0
	_, err := certainty.Of(ctx, synthetic.Site(50, 50, 1), certainty.Survey{Error: 0.05, Draws: 60_000, Least: 9}, func(float64) {
		calls++
		stop()
	})
	if !errors.Is(err, context.Canceled) || calls > 2*runtime.GOMAXPROCS(0) {
		t.Errorf("after %d draws: %v", calls, err)
	}
}

func TestASurveyThatCannotBeIsOneSentence(t *testing.T) {
	good := certainty.Survey{Error: 0.05, Reach: 2, Draws: 3, Least: 9}
	for word, spoil := range map[string]func(s *certainty.Survey, g *grid.Ground){
		"error is -1 m":     func(s *certainty.Survey, _ *grid.Ground) { s.Error = -1 },
		"error is NaN m":    func(s *certainty.Survey, _ *grid.Ground) { s.Error = math.NaN() },
		"error is +Inf m":   func(s *certainty.Survey, _ *grid.Ground) { s.Error = math.Inf(1) },
		"error is -0.5 m":   func(s *certainty.Survey, _ *grid.Ground) { s.Reach = -0.5 },
		"error is NaN m; g": func(s *certainty.Survey, _ *grid.Ground) { s.Reach = math.NaN() },
		"0 draws":           func(s *certainty.Survey, _ *grid.Ground) { s.Draws = 0 },
		"-4 draws":          func(s *certainty.Survey, _ *grid.Ground) { s.Draws = -4 },
		"70000 draws":       func(s *certainty.Survey, _ *grid.Ground) { s.Draws = 70_000 },
		"begin at 0 m²":     func(s *certainty.Survey, _ *grid.Ground) { s.Least = 0 },
		"begin at NaN m²":   func(s *certainty.Survey, _ *grid.Ground) { s.Least = math.NaN() },
		"one at least":      func(_ *certainty.Survey, g *grid.Ground) { *g = grid.Ground{} },
		"one a cell":        func(_ *certainty.Survey, g *grid.Ground) { g.V = g.V[1:] },
		"no cell":           func(_ *certainty.Survey, g *grid.Ground) { *g = grid.Parse(". .") },
		"is no cell":        func(s *certainty.Survey, _ *grid.Ground) { s.Inlets = []int32{99} },
	} {
		s, g := good, valley(5, 5, 1, 1)
		spoil(&s, &g)
		_, err := certainty.Of(context.Background(), g, s, nil)
		if err == nil || !strings.Contains(err.Error(), word) {
			t.Errorf("%v; want a sentence with %q", err, word)
		}
	}
}

// BenchmarkOf is one draw on each worker; 100 draws take 100 times as long, shared
// among the processors.
func BenchmarkOf(b *testing.B) {
	g := synthetic.Site(1000, 1000, 7)
	for _, reach := range []float64{0, 3, 30} {
		b.Run(fmt.Sprintf("1Mcell-reach%g", reach), func(b *testing.B) {
			s := certainty.Survey{Error: 0.05, Reach: reach, Draws: 20, Seed: 1, Least: 500}
			for b.Loop() {
				if _, err := certainty.Of(context.Background(), g, s, nil); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(b.Elapsed().Seconds()*100/float64(s.Draws*b.N), "s/100draws")
		})
	}
}
