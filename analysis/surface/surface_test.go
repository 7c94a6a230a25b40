package surface

import (
	"context"
	"errors"
	"math"
	"runtime"
	"slices"
	"sync/atomic"
	"testing"

	"runnel/analysis/terrain"
	"runnel/geo/grid"
	"runnel/geo/survey"

	"github.com/paulmach/orb"
)

func shaped(f grid.Frame, z func(x, y float64) float64) grid.Ground {
	g := grid.New[float32](f)
	for y := range g.H {
		for x := range g.W {
			c := g.Centre(x, y)
			g.Set(x, y, float32(z(c[0], c[1])))
		}
	}
	return g
}

// contourAt returns a contour at height z through points.
func contourAt(z float64, at ...orb.Point) survey.Line {
	return survey.Line{At: at, Z: []float64{z}}
}

// circles returns contours round (50, 50) of radius r(z), every interval from lo to hi.
func circles(lo, hi, interval float64, radius func(z float64) float64) (s survey.Survey) {
	for z := lo; z < hi; z += interval {
		var at orb.LineString
		n := max(int(radius(z)*2), 8)
		for i := range n + 1 {
			sin, cos := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
			at = append(at, orb.Point{50 + radius(z)*cos, 50 + radius(z)*sin})
		}
		s.Lines = append(s.Lines, survey.Line{At: at, Z: []float64{z}})
	}
	return s
}

func made(t testing.TB, s survey.Survey, f grid.Frame, tension float64) grid.Ground {
	t.Helper()
	m, err := Make(context.Background(), s, f, Options{Tension: tension, Drainage: Left})
	if err != nil {
		t.Fatal(err)
	}
	return m.Ground
}

func worst(a, b grid.Ground, from func(x, y int) bool) float64 {
	far := 0.0
	for y := range a.H {
		for x := range a.W {
			if from == nil || from(x, y) {
				d := math.Abs(float64(a.At(x, y)) - float64(b.At(x, y)))
				if math.IsNaN(d) {
					return math.Inf(1)
				}
				far = max(far, d)
			}
		}
	}
	return far
}

func TestAPlaneComesBack(t *testing.T) {
	plane := func(x, y float64) float64 { return 0.04*x - 0.02*y }
	var s survey.Survey
	for z := -2.0; z <= 4; z += 0.5 {
		s.Lines = append(s.Lines, contourAt(z, orb.Point{z / 0.04, 0}, orb.Point{(z + 2) / 0.04, 100}))
	}
	f := grid.Square(100, 100, 0, 100, 1)
	if far := worst(made(t, s, f, 0), shaped(f, plane), nil); far > 1e-6 {
		t.Errorf("a plane is missed by %g m", far)
	}
	s = survey.Survey{}
	for _, p := range []orb.Point{{3.2, 4.1}, {95, 7}, {12, 88.8}, {60, 70}} {
		s.Spots = append(s.Spots, survey.Spot{At: p, Z: plane(p[0], p[1])})
	}
	if far := worst(made(t, s, f, 0), shaped(f, plane), nil); far > 1e-5 {
		t.Errorf("a plane through four spots is missed by %g m", far)
	}
}

func TestConeAndParaboloidComeBack(t *testing.T) {
	f := grid.Square(100, 100, 0, 100, 1)
	cone := func(x, y float64) float64 { return 10 - 0.2*math.Hypot(x-50, y-50) }
	s := circles(0.5, 10, 0.5, func(z float64) float64 { return (10 - z) / 0.2 })
	outside := func(x, y int) bool {
		return math.Hypot(float64(x)-49.5, float64(y)-49.5) > 6 && math.Hypot(float64(x)-49.5, float64(y)-49.5) < 46
	}
	for _, tension := range []float64{0, 0.5} {
		if far := worst(made(t, s, f, tension), shaped(f, cone), outside); far > 0.06 {
			t.Errorf("tension %g: a cone is missed by %g m, more than 0.06 m", tension, far)
		}
	}
	bowl := func(x, y float64) float64 { return 0.004 * (math.Pow(x-50, 2) + math.Pow(y-50, 2)) }
	s = circles(0.5, 10, 0.5, func(z float64) float64 { return math.Sqrt(z / 0.004) })
	inside := func(x, y int) bool { return math.Hypot(float64(x)-49.5, float64(y)-49.5) < 48 }
	if far := worst(made(t, s, f, 0), shaped(f, bowl), inside); far > 0.05 {
		t.Errorf("a paraboloid is missed by %g m", far)
	}
}

func TestTopsAreRoundedAndBounded(t *testing.T) {
	f := grid.Square(100, 100, 0, 100, 1)
	for _, tension := range []float64{0, 0.5, 0.9} {
		s := circles(1, 5.5, 1, func(z float64) float64 { return 8 * (6 - z) })
		g := made(t, s, f, tension)
		if top := g.At(50, 50); top <= 5.05 || top > 6.01 {
			t.Errorf("tension %g: the top above a contour of 5 m is %.3f m", tension, top)
		}
		for i := range s.Lines {
			s.Lines[i].Z = []float64{-s.Lines[i].Z[0]}
		}
		if floor := made(t, s, f, tension).At(50, 50); floor >= -5.05 || floor < -6.01 {
			t.Errorf("tension %g: the floor below a contour of -5 m is %.3f m", tension, floor)
		}
	}
}

// rolling is ground with hills, V's and steep and flat parts.
func rolling(x, y float64) float64 {
	return 3*math.Sin(x/17)*math.Cos(y/13) + 0.06*x + 1.5*math.Exp(-math.Pow((x-60)/6, 2))*math.Sin(y/9)
}

func contoured(t testing.TB, f grid.Frame, interval float64) (s survey.Survey) {
	t.Helper()
	cs, err := terrain.Contours(context.Background(), shaped(f, rolling), interval)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range cs {
		for _, l := range c.Lines {
			s.Lines = append(s.Lines, survey.Line{At: l, Z: []float64{c.Level}})
		}
	}
	return s
}

func TestContoursAreHonoured(t *testing.T) {
	f := grid.Square(120, 110, 0, 110, 1)
	s := contoured(t, f, 0.5)
	for _, tension := range []float64{0, 0.5, 0.9} {
		g := made(t, s, f, tension)
		for _, l := range s.Lines {
			for _, p := range l.At {
				if off := grid.Sample(g, p) - l.Level(); math.Abs(off) > 0.05 && p[0] > 1 && p[1] > 1 && p[0] < 119 && p[1] < 109 {
					t.Fatalf("tension %g: the ground at %v on the contour of %g m is off by %.3f m", tension, p, l.Level(), off)
				}
			}
		}
	}
}

func TestTurningAndLiftingTheData(t *testing.T) {
	f := grid.Square(90, 90, 0, 90, 1)
	s := contoured(t, f, 1)
	g := made(t, s, f, 0.3)
	turned, lifted := survey.Survey{}, survey.Survey{}
	for _, l := range s.Lines {
		var at orb.LineString
		for _, p := range l.At {
			at = append(at, orb.Point{90 - p[1], p[0]})
		}
		turned.Lines = append(turned.Lines, survey.Line{At: at, Z: l.Z})
		lifted.Lines = append(lifted.Lines, survey.Line{At: l.At, Z: []float64{l.Z[0] + 2500}})
	}
	h := made(t, turned, f, 0.3)
	back := grid.New[float32](f)
	for y := range 90 {
		for x := range 90 {
			back.Set(x, y, h.At(y, 89-x))
		}
	}
	if far := worst(g, back, nil); far > 2e-3 {
		t.Errorf("turned data give a ground that is off by %g m", far)
	}
	h = made(t, lifted, f, 0.3)
	for i := range h.V {
		h.V[i] -= 2500
	}
	if far := worst(g, h, nil); far > 2e-3 {
		t.Errorf("lifted data give a ground that is off by %g m", far)
	}
}

func TestOneWorkerGivesTheSameBits(t *testing.T) {
	f := grid.Square(150, 140, 0, 140, 1)
	s := contoured(t, f, 0.5)
	many := made(t, s, f, -1)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if one := made(t, s, f, -1); !slices.Equal(one.V, many.V) {
		t.Error("one worker and many give different grounds")
	}
}

func TestProgressGoesUpToOne(t *testing.T) {
	f := grid.Square(70, 70, 0, 70, 1)
	last := 0.0
	_, err := Make(context.Background(), contoured(t, f, 1), f, Options{Tension: -1, Progress: func(share float64) {
		if share < last || share > 1 {
			t.Errorf("after %g the share done is %g", last, share)
		}
		last = share
	}})
	if err != nil || last != 1 {
		t.Errorf("ended with %g done, %v", last, err)
	}
}

func TestBadInputIsRefused(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	f := grid.Square(50, 50, 0, 50, 1)
	s := contoured(t, f, 1)
	if _, err := Make(ctx, s, f, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled run returns %v", err)
	}
	for name, bad := range map[string]survey.Survey{
		"nothing": {}, "no height": {Lines: []survey.Line{{At: orb.LineString{{0, 0}, {9, 9}}, Z: []float64{math.NaN()}}}},
		"elsewhere": {Spots: []survey.Spot{{At: orb.Point{1e6, 1e6}, Z: 3}}},
	} {
		if _, err := Make(context.Background(), bad, f, Options{}); err == nil {
			t.Errorf("%s: a ground is made", name)
		}
	}
	one := survey.Survey{Spots: []survey.Spot{{At: orb.Point{20, 20}, Z: 3}}}
	if g := made(t, one, f, 0.2); math.Abs(float64(g.At(20, 29))-3) > 1e-4 {
		t.Errorf("one spot of 3 m gives %v m", g.At(20, 29))
	}
	if _, err := Make(context.Background(), one, grid.Square(1, 3, 20, 22, 1), Options{Tension: -1}); err != nil {
		t.Errorf("a ground of three cells: %v", err)
	}
}

// A spent context ends once it has been asked so many times.
type spent struct {
	context.Context
	left atomic.Int64
}

func (c *spent) Err() error {
	if c.left.Add(-1) < 0 {
		return context.Canceled
	}
	return nil
}

func TestMakeEndsWheneverItIsCancelled(t *testing.T) {
	f := grid.Square(60, 60, 0, 60, 1)
	s := contoured(t, f, 1)
	for asked := int64(1); ; asked += 1 + asked/8 {
		ctx := &spent{Context: context.Background()}
		ctx.left.Store(asked)
		switch _, err := Make(ctx, s, f, Options{Tension: -1}); {
		case err == nil:
			if asked < 100 {
				t.Errorf("it asks %d times or less", asked)
			}
			return
		case !errors.Is(err, context.Canceled):
			t.Fatalf("cancelled when asked for the %d-th time it returns %v", asked, err)
		}
	}
}
