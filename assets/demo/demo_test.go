package demo

import (
	"math"
	"slices"
	"sync"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// made is the site, made once.
var made = sync.OnceValue(Site)

func TestEveryRunMakesTheSameSite(t *testing.T) {
	a, b := made(), Site()
	if !slices.Equal(a.Ground.V, b.Ground.V) {
		t.Error("two runs make different grounds")
	}
	if len(a.Plan.Features) != len(b.Plan.Features) || a.Plan.Last != b.Plan.Last {
		t.Fatal("two runs draw different plans")
	}
	for i, f := range a.Plan.Features {
		if !orb.Equal(f.Geometry, b.Plan.Features[i].Geometry) {
			t.Errorf("%s is drawn in two ways", f.Title())
		}
	}
}

func TestTheGroundLooksLikeASlopingPlot(t *testing.T) {
	g := made().Ground
	low, high, known := grid.Extent(g)
	if known != g.Len() {
		t.Errorf("%d cells of %d have no height", g.Len()-known, g.Len())
	}
	if low < 82 || high > 86 {
		t.Errorf("heights run from %.2f to %.2f m; about 84 was meant", low, high)
	}
	corner := func(x, y int) float64 { return float64(g.At(x, y)) }
	fall := corner(g.W-1, 0) - corner(60, g.H-1)
	run := planar.Distance(g.Centre(g.W-1, 0), g.Centre(60, g.H-1))
	if s := fall / run; s < 0.025 || s > 0.04 {
		t.Errorf("the plot falls %.1f %% from its north-east corner; 2.5 to 4 %% was meant", 100*s)
	}
}

// The ground between what people have dug is smooth: its unevenness stands out
// from the mean of two metres around by a centimetre or two, and no cell is a spike.
func TestOldGrassIsUnevenByCentimetresOnly(t *testing.T) {
	var sum, most, n float64
	for v := 36.0; v < 60; v += 0.7 {
		for u := 34.0; u < 62; u += 0.7 {
			var around float64
			for i := range 8 {
				sin, cos := math.Sincos(float64(i) * math.Pi / 4)
				around += height(u+2*cos, v+2*sin) / 8
			}
			off := height(u, v) - around
			sum, n, most = sum+off*off, n+1, max(most, math.Abs(off))
		}
	}
	if rms := math.Sqrt(sum / n); rms < 0.002 || rms > 0.02 || most > 0.06 {
		t.Errorf("unevenness is %.4f m, at most %.3f m", rms, most)
	}
}

// invert is the lowest cell within half a metre of a place.
func invert(g grid.Ground, p orb.Point) float64 {
	x0, y0, _ := g.Cell(p)
	lowest := math.Inf(1)
	for y := max(0, y0-2); y <= min(g.H-1, y0+2); y++ {
		for x := max(0, x0-2); x <= min(g.W-1, x0+2); x++ {
			if planar.Distance(g.Centre(x, y), p) <= 0.5 {
				lowest = min(lowest, float64(g.At(x, y)))
			}
		}
	}
	return lowest
}

func TestTheDrainFallsAllTheWayAndLeavesTheSite(t *testing.T) {
	s := made()
	line := s.Plan.Of(plan.Drain, plan.AsItIs)[0].Line()
	for i := 2; i < len(line); i++ {
		a, b := invert(s.Ground, line[i-2]), invert(s.Ground, line[i])
		if b >= a {
			t.Errorf("the drain's bed rises from %.3f to %.3f m at point %d", a, b, i)
		}
	}
	if end := line[len(line)-1]; math.Abs(end[1]-s.Ground.Bound().Min[1]) > 0.002 {
		t.Errorf("the drain ends %.3f m north of the south edge", end[1]-s.Ground.Bound().Min[1])
	}
	for _, p := range line[5 : len(line)-5] {
		_, along := nearest(drainLine, orb.Point{p[0] - west, p[1] - south})
		bank := uncut(p[0]-west, p[1]-south)
		if depth := bank - invert(s.Ground, p); depth < 0.4 || depth > 0.62 {
			t.Errorf("the drain is %.2f m deep %.0f m down", depth, along)
		}
	}
}

func TestTheLaneIsCrowned(t *testing.T) {
	s := made()
	for _, p := range laneLine[12:36] {
		crown := grid.Sample(s.Ground, at(p))
		for _, side := range []float64{-2, 2} {
			edge := grid.Sample(s.Ground, at(beside(orb.LineString{{p[0], p[1] + 1}, p, {p[0], p[1] - 1}}, side)[1]))
			if fall := crown - edge; fall < 0.03 || fall > 0.11 {
				t.Errorf("at %v the lane falls %.3f m from its crown to 2 m off", p, fall)
			}
		}
	}
}

func TestTheOldPondIsAHollow(t *testing.T) {
	lip := math.Inf(1)
	for i := range 72 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 36)
		highest := math.Inf(-1) // on the way out from the middle
		for r := 0.0; r < 9; r += 0.25 {
			highest = max(highest, height(72.5+r*cos, 16.5+r*sin))
		}
		lip = min(lip, highest)
	}
	if depth := lip - height(72.5, 16.5); depth < 0.07 || depth > 0.14 {
		t.Errorf("the pond is %.3f m deep; ten centimetres were meant", depth)
	}
}

func TestEveryFeatureIsSoundAndLiesOnTheGround(t *testing.T) {
	s := made()
	seen := map[plan.ID]bool{}
	for _, f := range s.Plan.Features {
		if err := plan.Check(f); err != nil {
			t.Error(err)
		}
		if seen[f.ID] || int64(f.ID) > s.Plan.Last || f.ID < 1 {
			t.Errorf("%s has number %d, which is not its own", f.Title(), f.ID)
		}
		seen[f.ID] = true
		if got, want := plan.SpecOf(f.Kind).InScheme, f.Scheme != plan.AsItIs; got != want {
			t.Errorf("%s belongs to %q", f.Title(), s.Plan.SchemeName(f.Scheme))
		}
		for _, line := range plan.Lines(f.Geometry) {
			for _, p := range line {
				if math.IsNaN(grid.Sample(s.Ground, p)) {
					t.Errorf("%s has a point off the ground at %.2f, %.2f", f.Title(), p[0]-west, p[1]-south)
				}
			}
		}
	}
}

func TestTheSiteHoldsWhatThePlacesOfItsKindHold(t *testing.T) {
	s := made()
	want := map[plan.Kind]int{plan.Boundary: 1, plan.Roof: 2, plan.Paving: 4, plan.Drain: 1, plan.Kerb: 1, plan.Culvert: 1,
		plan.Well: 1, plan.SepticField: 1, plan.ServiceLine: 1, plan.Tree: 5,
		plan.Downpipe: 3, plan.Inlet: 1, plan.Wall: 1, plan.Cover: 2}
	for kind, n := range want {
		if got := len(s.Plan.Of(kind, plan.AsItIs)); got != n {
			t.Errorf("%d of kind %v, want %d", got, kind, n)
		}
	}
	if len(s.Plan.Schemes) != 2 {
		t.Fatalf("%d schemes, want 2", len(s.Plan.Schemes))
	}
	if islands := s.Plan.Of(plan.Island, s.Plan.Schemes[0].ID); len(islands) != 2 {
		t.Errorf("%d islands in the first scheme, want 2", len(islands))
	}
}
