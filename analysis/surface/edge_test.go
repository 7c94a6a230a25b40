package surface

import (
	"context"
	"math"
	"slices"
	"testing"

	"runnel/geo/grid"
	"runnel/geo/survey"

	"github.com/paulmach/orb"
)

func TestABreakKeepsASharpEdge(t *testing.T) {
	roof := func(x, _ float64) float64 { return -0.5 * math.Abs(x-30.3) }
	f := grid.Square(60, 60, 0, 60, 1)
	var s survey.Survey
	for i := range 12 {
		y := 2.5 + 5*float64(i)
		for _, x := range []float64{2, 14, 22, 39, 47, 58} {
			s.Spots = append(s.Spots, survey.Spot{At: orb.Point{x, y}, Z: roof(x, y)})
		}
	}
	ridge := survey.Line{At: orb.LineString{{30.3, 0}, {30.3, 60}}, Z: []float64{0, 0}, Use: survey.Break}
	want := shaped(f, roof)
	blunt := worst(made(t, s, f, 0), want, nil)
	s.Lines = append(s.Lines, ridge)
	g := made(t, s, f, 0)
	// The four cells around a point of the ridge cannot hold it without rising by up to
	// a quarter of the cell times the change of slope.
	if far := worst(g, want, nil); far > 0.25 || blunt < 1 {
		t.Errorf("with its ridge as a break a roof is missed by %.3f m, without by %.3f m", far, blunt)
	}
	if far := worst(g, want, func(x, _ int) bool { return x < 22 || x > 38 }); far > 0.03 {
		t.Errorf("eight cells from its ridge a roof is missed by %.3f m", far)
	}
}

func TestBeyondTheEdgeNothingIsKnown(t *testing.T) {
	f := grid.Square(60, 60, 0, 60, 1)
	s := contoured(t, f, 1)
	if g := made(t, s, f, 0.2); slices.ContainsFunc(g.V, grid.IsNoData) {
		t.Error("contours cut to a rectangle do not fill it")
	}
	s.Lines = append(s.Lines, survey.Line{At: orb.LineString{{10, 10}, {50, 10}, {30, 50}}, Use: survey.Edge})
	g := made(t, s, f, 0.2)
	if grid.IsNoData(g.At(30, 40)) || !grid.IsNoData(g.At(2, 30)) || !grid.IsNoData(g.At(30, 55)) {
		t.Error("the edge of the survey is not that of the ground")
	}
	far := grid.Square(300, 60, 0, 60, 1)
	if g := made(t, contoured(t, f, 1), far, 0.2); !grid.IsNoData(g.At(250, 30)) || grid.IsNoData(g.At(59, 30)) {
		t.Error("ground is made up far from everything that was measured")
	}
}

func TestNoisySpotsAreSmoothedByTheirError(t *testing.T) {
	f := grid.Square(80, 80, 0, 80, 1)
	s := survey.Survey{Sources: []survey.Source{{Form: survey.Points}}}
	gentle := func(x, y float64) float64 { return 2*math.Sin(x/25) + 0.03*y }
	seed := uint32(7)
	for range 3000 {
		var r [4]float64
		for i := range r {
			seed = seed*1664525 + 1013904223
			r[i] = float64(seed>>8) / (1 << 24)
		}
		p := orb.Point{80 * r[0], 80 * r[1]}
		s.Spots = append(s.Spots, survey.Spot{At: p, Z: gentle(p[0], p[1]) + 0.2*(r[2]+r[3]-1)*math.Sqrt(6)})
	}
	rough := missed(made(t, s, f, 0), shaped(f, gentle))
	s.Sources[0].Error = 0.2
	if smooth := missed(made(t, s, f, 0), shaped(f, gentle)); smooth > 0.05 || smooth > rough/2 {
		t.Errorf("spots of 0.2 m error give a ground of %.3f m error, %.3f m where the error is not said", smooth, rough)
	}
}

func missed(a, b grid.Ground) float64 {
	sum := 0.0
	for i := range a.V {
		sum += math.Pow(float64(a.V[i]-b.V[i]), 2)
	}
	return math.Sqrt(sum / float64(len(a.V)))
}

// Another format rounds positions to the micrometre and the ends of closed lines apart.
func TestAMicrometreMakesNoOtherGround(t *testing.T) {
	f := grid.Square(120, 100, 0, 100, 1)
	s := contoured(t, f, 0.5)
	var other survey.Survey
	k := 0.0
	for _, l := range s.Lines {
		l.At = slices.Clone(l.At)
		for i := range l.At {
			k++
			l.At[i][0] += 1e-6 * math.Sin(13*k)
			l.At[i][1] += 1e-6 * math.Sin(78*k)
		}
		other.Lines = append(other.Lines, l)
	}
	for _, o := range []Options{{Drainage: Left}, {Tension: 0.5}} {
		a, err := Make(context.Background(), s, f, o)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Make(context.Background(), other, f, o)
		if far := worst(a.Ground, b.Ground, nil); err != nil || far > 1e-4 {
			t.Errorf("%+v: the ground is off by %g m, %v", o, far, err)
		}
	}
}

// Contours that are cut off at the survey's edge part the ground beyond as they did
// inside: a slope goes on, and no region holds all heights.
func TestContoursGoOnWhereTheyEnd(t *testing.T) {
	f := grid.Square(80, 60, 0, 60, 1)
	var s survey.Survey
	for i := range 7 {
		x := 10*float64(i) + 8.3
		s.Lines = append(s.Lines, survey.Line{At: orb.LineString{{x, 20}, {x, 40}}, Z: []float64{float64(i)}})
	}
	p, err := newProblem(context.Background(), s, f)
	if err != nil {
		t.Fatal(err)
	}
	for i, b := range p.between() {
		if b.hi-b.lo > 2 {
			t.Fatalf("cell %d, %d lies between %g and %g", i%80, i/80, b.lo, b.hi)
		}
	}
}
