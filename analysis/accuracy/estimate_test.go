package accuracy

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/surface"
	"runnel/geo/grid"
	"runnel/geo/survey"
)

// plane returns the ground 100 + x/10 + y/20, whatever is measured, as a maker that
// knows the truth makes it.
func plane(_ context.Context, _ survey.Survey, f grid.Frame) (grid.Ground, error) {
	g := grid.New[float32](f)
	for y := range f.H {
		for x := range f.W {
			c := f.Centre(x, y)
			g.Set(x, y, float32(onPlane(c)))
		}
	}
	return g, nil
}

func onPlane(p orb.Point) float64 { return 100 + p[0]/10 + p[1]/20 }

// shots is a survey of n points of the plane, each off by noise [m].
func shots(n int, noise float64, seed uint64) survey.Survey {
	random := rand.New(rand.NewPCG(seed, 1))
	s := survey.Survey{Sources: []survey.Source{{Name: "shots.csv", Form: survey.Points}}}
	for i := range n {
		p := orb.Point{1 + 98*random.Float64(), 1 + 98*random.Float64()}
		s.Spots = append(s.Spots, survey.Spot{At: p, Z: onPlane(p) + noise*random.NormFloat64(), Row: int32(i + 1)})
	}
	return s
}

// held is an estimate of a survey with a maker.
func held(s survey.Survey, m maker) *estimate {
	return &estimate{check: check{Survey: s, ctx: context.Background()}, ground: grid.New[float32](grid.Square(100, 100, 0, 100, 1)), remake: m}
}

func qualityOf(t *testing.T, e *estimate) survey.Quality {
	t.Helper()
	q, err := e.quality()
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// The noise of n points that are kept back has a standard error of σ/√(2n) in its RMSE
// and of σ/√n in its mean.
func TestTheErrorOfAPlaneIsTheNoiseOfItsPoints(t *testing.T) {
	for _, n := range []int{60, 500, 5000, 40_000} {
		const noise = 0.2
		q := qualityOf(t, held(shots(n, noise, 5), plane))
		k := float64(q.HeldOut)
		if math.Abs(q.RMSE-noise) > 4*noise/math.Sqrt(2*k) || math.Abs(q.Bias) > 4*noise/math.Sqrt(k) {
			t.Errorf("%d points: RMSE %g m and bias %g m of %d kept back, want %g m and 0", n, q.RMSE, q.Bias, q.HeldOut, noise)
		}
		if math.Abs(q.Error-q.RMSE) > 1e-9 || math.Abs(q.Worst) < 1.9*noise || math.Abs(q.Worst) > 6*noise {
			t.Errorf("%d points: error %g m, worst %g m", n, q.Error, q.Worst)
		}
		if want := max(min(n, 55), n/10); q.HeldOut < want*8/10 || q.HeldOut > max(n, 2*want) {
			t.Errorf("%d of %d points were kept back", q.HeldOut, n)
		}
	}
}

func TestWhatIsKeptBackIsNotMadeOf(t *testing.T) {
	s := shots(3000, 0.1, 3)
	calls := 0
	e := held(s, func(ctx context.Context, rest survey.Survey, f grid.Frame) (grid.Ground, error) {
		calls++
		out := 0
		for i, p := range rest.Spots {
			if p.Out {
				out++
			}
			if s.Spots[i].Out {
				t.Fatal("the survey itself was changed")
			}
		}
		if out < 200 || out > 400 {
			t.Errorf("%d of 3000 points are kept back, want a tenth", out)
		}
		if f != grid.Square(100, 100, 0, 100, 1) {
			t.Errorf("the ground is made on %+v", f)
		}
		return plane(ctx, rest, f)
	})
	if qualityOf(t, e); calls != 1 {
		t.Errorf("%d grounds were made, want 1", calls)
	}
}

// Several rounds together have no more cells than the ground.
func TestAFewPointsAreKeptBackInRoundsOnACoarserGrid(t *testing.T) {
	cells, calls := 0, 0
	e := held(shots(120, 0.1, 3), func(ctx context.Context, rest survey.Survey, f grid.Frame) (grid.Ground, error) {
		cells, calls = cells+f.Len(), calls+1
		return plane(ctx, rest, f)
	})
	var told []float64
	e.progress = func(share float64) { told = append(told, share) }
	q := qualityOf(t, e)
	if calls < 8 || cells > 12_000 || q.HeldOut < 100 {
		t.Errorf("%d rounds of %d cells in all, %d points", calls, cells, q.HeldOut)
	}
	if !slices.IsSorted(told) || len(told) != calls || told[calls-1] != 1 {
		t.Errorf("told %v", told)
	}
}

// Of contours the lowest and the highest stay, and no two that follow each other are
// kept back at once; the ground between them is off by 1/√3 of what it is at them.
func TestContoursAreKeptBackLevelByLevel(t *testing.T) {
	s := slope(40)
	e := held(s, func(_ context.Context, rest survey.Survey, f grid.Frame) (grid.Ground, error) {
		for i, l := range rest.Lines {
			if l.Out && (i == 0 || i == len(rest.Lines)-1 || rest.Lines[i-1].Out || rest.Lines[i+1].Out) {
				t.Errorf("line %d is kept back", i)
			}
		}
		g := grid.New[float32](f)
		for i := range g.V {
			g.V[i] = 90
		}
		return g, nil
	})
	e.ground = grid.New[float32](grid.Square(100, 400, 0, 400, 1))
	q := qualityOf(t, e)
	if q.HeldOut < 10 || math.Abs(q.Error-q.RMSE/math.Sqrt(3)) > 1e-9 || q.Bias > -10 || q.Worst > -40 || q.Worst < -48 {
		t.Errorf("%+v", q)
	}
}

// The map as drawn: 90 % within half the interval is 0.304 intervals.
func TestAMapTooSmallToKeepBackHasTheErrorOfItsInterval(t *testing.T) {
	for n, want := range map[int]float64{2: 0.304, 3: 0.304} {
		s := slope(n)
		for i := range s.Lines {
			s.Lines[i].At = s.Lines[i].At[:3]
		}
		if q := qualityOf(t, held(s, plane)); q.HeldOut != 0 || math.Abs(q.Error-want) > 5e-4 {
			t.Errorf("%d contours: %+v, want an error of %g m", n, q, want)
		}
	}
	s := shots(7, 0.01, 1)
	s.Sources[0].Error = 0.07
	e := held(s, plane)
	e.ground, _ = plane(e.ctx, s, e.ground.Frame)
	if q := qualityOf(t, e); q.HeldOut != 0 || q.Error < 1 || q.Error > 2 {
		t.Errorf("seven points on a relief of 15 m: %+v", q)
	}
}

// A surface that goes through its points has their noise and so is off the one kept
// back by more than that point's own, and by less than twice.
func TestTheSurfaceItselfIsJudged(t *testing.T) {
	const noise = 0.1
	s := shots(800, noise, 9)
	f := grid.Square(100, 100, 0, 100, 1)
	made, err := surface.Make(context.Background(), s, f, surface.Options{Tension: 0.2, Drainage: surface.Left})
	if err != nil {
		t.Fatal(err)
	}
	q, err := Estimate(context.Background(), s, made, nil)
	if err != nil {
		t.Fatal(err)
	}
	if q.RMSE < noise*0.8 || q.RMSE > noise*2 || q.Tension != 0.2 || q.HeldOut < 60 || !(q.Reach > 0.5 && q.Reach < 20) {
		t.Errorf("%+v", q)
	}
	raster := survey.Survey{Sources: []survey.Source{{Form: survey.Raster, Cell: 5}, {Form: survey.Raster, Cell: 1}}}
	if q, err := Estimate(context.Background(), raster, made, nil); err != nil || q.Error != OfRaster(5, 0).Error || q.HeldOut != 0 {
		t.Errorf("of rasters: %+v, %v", q, err)
	}
}

func TestTheReachIsNoMoreThanAFewMeasurements(t *testing.T) {
	e := held(slope(40), func(_ context.Context, _ survey.Survey, f grid.Frame) (grid.Ground, error) {
		return grid.New[float32](f), nil
	})
	e.ground = grid.New[float32](grid.Square(100, 400, 0, 400, 1))
	if q := qualityOf(t, e); q.Reach > widest*15 || q.Reach < 5 {
		t.Errorf("contours 10 m apart: %+v", q)
	}
}

func TestAnErrorThatWasGivenIsTheLeast(t *testing.T) {
	s := shots(1000, 0.02, 1)
	s.Sources[0].Error = 0.5
	if q := qualityOf(t, held(s, plane)); q.Error != 0.5 || q.RMSE > 0.03 {
		t.Errorf("%+v", q)
	}
}

func TestAnEstimateGivesUpWithOneSentence(t *testing.T) {
	e := held(shots(500, 0.1, 1), func(context.Context, survey.Survey, grid.Frame) (grid.Ground, error) {
		return grid.Ground{}, context.Canceled
	})
	if _, err := e.quality(); !errors.Is(err, context.Canceled) || strings.Contains(err.Error(), "\n") {
		t.Error(err)
	}
}

// A field that is the mean of white noise over a bell correlates by exp(-(h/reach)²).
func TestTheReachIsThatOfAKnownField(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 4))
	for _, want := range []float64{6, 12, 20} {
		const n = 120
		white := make([]float64, 4*n*n)
		for i := range white {
			white[i] = random.NormFloat64()
		}
		width := want / 2
		var of []difference
		for range 2500 {
			p := orb.Point{60 + 120*random.Float64(), 60 + 120*random.Float64()}
			sum := 0.0
			for x := int(p[0] - 4*width); float64(x) < p[0]+4*width; x++ {
				for y := int(p[1] - 4*width); float64(y) < p[1]+4*width; y++ {
					if x >= 0 && y >= 0 && x < 2*n && y < 2*n {
						sum += white[y*2*n+x] * math.Exp(-(square(float64(x)-p[0])+square(float64(y)-p[1]))/(2*width*width))
					}
				}
			}
			of = append(of, difference{p, sum})
		}
		if got := reach(of, 2); got < want*0.7 || got > want*1.4 {
			t.Errorf("the reach is found as %g m, want %g m", got, want)
		}
	}
	var of []difference
	for range 2000 {
		of = append(of, difference{orb.Point{100 * random.Float64(), 100 * random.Float64()}, random.NormFloat64()})
	}
	if got := reach(of, 4); got != 0 {
		t.Errorf("white noise reaches %g m", got)
	}
}
