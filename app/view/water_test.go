package view

import (
	"context"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/geo/grid"
)

// valley is a ground that falls to the south between two sides.
func valley(w, h int) grid.Ground {
	g := grid.New[float32](grid.Square(w, h, 0, float64(h), 1))
	for y := range h {
		for x := range w {
			g.Set(x, y, float32(math.Abs(float64(x-w/2)))+0.2*float32(h-y))
		}
	}
	return g
}

// drained returns the water paths of a ground.
func drained(t rapid.TB, g grid.Ground) []reach {
	t.Helper()
	f, err := flow.Route(context.Background(), g, flow.Options{})
	if err != nil {
		t.Fatal(err)
	}
	all, err := reaches(context.Background(), f.Cells, f.Dir)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestAValleyHasOneLongPathDownItsMiddle(t *testing.T) {
	all := drained(t, valley(61, 80))
	if len(all) == 0 {
		t.Fatal("no path")
	}
	r := all[0]
	for i, p := range r.line {
		if math.Abs(p[0]-30.5) > 1.01 {
			t.Errorf("point %d of the main path is at %v, want on the valley's floor", i, p)
		}
	}
	if last := r.line[len(r.line)-1]; last[1] > 1 {
		t.Errorf("the main path ends at %v, want the south edge", last)
	}
}

func TestAnEvenSlopeIsNotHatchedWithParallelPaths(t *testing.T) {
	g := grid.New[float32](grid.Square(80, 80, 0, 80, 1))
	for i := range g.V {
		g.V[i] = float32(80 - i/80)
	}
	if all := drained(t, g); len(all) != 0 {
		t.Errorf("%d paths on a plane", len(all))
	}
}

func TestWhatDrainsGrowsAlongEveryReach(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 40).Draw(t, "w"), rapid.IntRange(1, 40).Draw(t, "h")
		g := grid.New[float32](grid.Frame{W: w, H: h, North: 10, DX: 1, DY: rapid.SampledFrom([]float64{1, 2.5}).Draw(t, "dy")})
		for i := range g.V {
			g.V[i] = float32(rapid.IntRange(0, 9).Draw(t, "z"))
		}
		bound, largest := g.Bound().Pad(1e-9), math.Inf(1)
		for _, r := range drained(t, g) {
			if len(r.line) != len(r.area) || len(r.line) < 2 {
				t.Fatalf("%d points, %d areas", len(r.line), len(r.area))
			}
			for i, p := range r.line {
				if !bound.Contains(p) || i > 0 && r.area[i] < r.area[i-1] {
					t.Fatalf("point %d at %v drains %g m²", i, p, r.area[i])
				}
			}
			if largest = min(largest, math.Inf(1)); r.largest() > largest+1e-9 {
				t.Fatal("a larger path comes after a smaller one")
			}
			largest = r.largest()
		}
	})
}

func TestLargerPathsAreWiderAndDarker(t *testing.T) {
	scale := newFlowScale(Light().Paths, 10, 10_000)
	before := scale.pen(0)
	for class := 1; class < classes; class++ {
		pen := scale.pen(class)
		if pen.Width <= before.Width || pen.Colour.R >= before.Colour.R {
			t.Errorf("class %d is %+v after %+v", class, pen, before)
		}
		before = pen
	}
	// Four times the area is twice the width above the thinnest.
	f := func(area float64) float64 { return scale.pen(scale.class(area)).Width - scale.Thin }
	if got := f(10_000) / f(2_500); got < 1.6 || got > 2.5 {
		t.Errorf("four times the area is %.2f times the width, want about 2", got)
	}
	if scale.class(0) != 0 || scale.class(1e9) != classes-1 {
		t.Error("areas outside the scale leave it")
	}
}

// bowl is a round pool of the given radius in a plane, brim level 0.
func bowl(n int, radius float64) (wet, ground grid.Ground) {
	ground = grid.New[float32](grid.Square(n, n, 0, float64(n), 1))
	wet = grid.New[float32](ground.Frame)
	for y := range n {
		for x := range n {
			z := math.Hypot(float64(x)+0.5-float64(n)/2, float64(y)+0.5-float64(n)/2) - radius
			ground.Set(x, y, float32(z))
			if wet.Set(x, y, float32(-z)); z >= 0 {
				wet.Set(x, y, grid.NoData)
			}
		}
	}
	return wet, ground
}

func TestTheShoreOfARoundPoolIsRound(t *testing.T) {
	const radius = 9.3
	wet, ground := bowl(30, radius)
	p := newPond(wet, ground)
	for _, scale := range []float64{2, 7, 20} {
		n := int(30 * scale)
		k := testCanvas(n, n, Camera{North: 30, Scale: scale})
		k.clearTo(k.look.Paper)
		look := Pond{Shallow: Colour{A: 255}, Middle: Colour{A: 255}, Deep: Colour{A: 255}}
		if err := k.drawPond(context.Background(), p, look); err != nil {
			t.Fatal(err)
		}
		var sum float64
		for y := range n {
			for x := range n {
				sum += 1 - float64(k.dst.RGBAAt(x, y).G)/float64(k.look.Paper.G)
				r := math.Hypot(float64(x)+0.5-float64(n)/2, float64(y)+0.5-float64(n)/2) / scale
				if dark := k.dst.RGBAAt(x, y).G < 20; math.Abs(r-radius) > 0.25+1.5/scale && dark != (r < radius) {
					t.Fatalf("scale %g: at %.2f m from the middle the picture is %v", scale, r, k.dst.RGBAAt(x, y))
				}
			}
		}
		if got := sum / scale / scale; !withinShare(got, math.Pi*radius*radius, 0.02) {
			t.Errorf("scale %g: the pool covers %.2f m², want %.2f", scale, got, math.Pi*radius*radius)
		}
	}
}

func TestTheEdgeOfACutIsFoundBetweenCells(t *testing.T) {
	ground := grid.New[float32](grid.Square(60, 40, 0, 40, 1))
	proposed := ground.Clone()
	const half = 7.3
	for i := range proposed.V {
		z := math.Abs(float64(i%60)+0.5-30) - half
		proposed.V[i] = float32(min(z*0.5, 0))
	}
	cut := newCut(ground, proposed)
	k := testCanvas(600, 400, Camera{North: 40, Scale: 10})
	k.clearTo(k.look.Paper)
	if err := k.drawPond(context.Background(), cut, Pond{Shallow: Colour{A: 255}, Middle: Colour{A: 255}, Deep: Colour{A: 255}}); err != nil {
		t.Fatal(err)
	}
	var dark float64
	for x := range 600 {
		dark += 1 - float64(k.dst.RGBAAt(x, 200).G)/float64(k.look.Paper.G)
	}
	if got := dark / 10; math.Abs(got-2*half) > 0.25 {
		t.Errorf("the cut is %.2f m wide, want %.2f", got, 2*half)
	}
	if newCut(ground, ground).deepest != 0 || newCut(ground, ground.Clone()).deepest != 0 {
		t.Error("a ground that is not dug has a cut")
	}
}

func TestAPondOfNoWaterDrawsNothing(t *testing.T) {
	for _, wet := range []grid.Ground{{}, grid.Parse(". .", ". ."), grid.Parse("0 0", ". .")} {
		k := testCanvas(20, 20, Camera{North: 2, Scale: 10})
		if err := k.drawPond(context.Background(), newPond(wet, grid.Ground{}), k.look.Pond); err != nil {
			t.Fatal(err)
		}
		for _, v := range k.dst.Pix {
			if v != 0 {
				t.Fatalf("%v is drawn", wet.V)
			}
		}
	}
}

func TestSettlingKeepsTheEndsAndStraightLines(t *testing.T) {
	line := orb.LineString{{0, 0}, {1, 1}, {2, 1}, {3, 2}, {4, 2}, {5, 3}}
	got := settle(line)
	if got[0] != line[0] || got[5] != line[5] {
		t.Errorf("ends at %v and %v", got[0], got[5])
	}
	worst := 0.0
	for _, p := range got {
		worst = max(worst, math.Abs(p[1]-0.6*p[0]))
	}
	if worst > 0.25 {
		t.Errorf("a staircase still strays %.2f from its slope", worst)
	}
}
