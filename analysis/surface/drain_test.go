package surface

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/analysis/synthetic"
	"runnel/geo/grid"
	"runnel/geo/survey"
)

// formed returns a ground of w by h cells of 1 m with the heights of f, of east and
// north [m].
func formed(w, h int, f func(x, y float64) float64) grid.Ground {
	g := grid.New[float32](grid.Square(w, h, 0, float64(h), 1))
	for y := range h {
		for x := range w {
			p := g.Centre(x, y)
			g.Set(x, y, float32(f(p[0], p[1])))
		}
	}
	return g
}

// failing is what a testing.T and a rapid.T have in common.
type failing interface{ Fatal(...any) }

// hollows counts the pools of g that no measurement of s asks for, and the others.
func hollows(t failing, g grid.Ground, s survey.Survey) (left, kept int) {
	d := &drainage{ground: g, held: hold(g, s)}
	left, err := d.find(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return left, len(d.pools) - left
}

// farthest returns the most that g is off a point of the lines and spots [m].
func farthest(g grid.Ground, s survey.Survey) float64 {
	off := 0.0
	check := func(p orb.Point, z float64) {
		if d := math.Abs(grid.Sample(g, p) - z); d > off {
			off = d
		}
	}
	for _, l := range s.Lines {
		along(l, 0.5, check)
	}
	for _, p := range s.Spots {
		check(p.At, p.Z)
	}
	return off
}

func drained(t testing.TB, g grid.Ground, s survey.Survey) (grid.Ground, int, int) {
	out := g.Clone()
	sunk, stayed, err := drain(context.Background(), out, s)
	if err != nil {
		t.Fatal(err)
	}
	return out, sunk, stayed
}

// valley falls to the south by a twentieth, and to its middle by a fifth.
func valley(x, y float64) float64 { return 10 + y/20 + math.Abs(x-30.5)/5 }

// dam is a rise across the valley's floor between the contours of 12 and 13 m.
func dam(x, y float64) float64 {
	return 0.4 * math.Exp(-(math.Pow((y-50)/3, 2) + math.Pow((x-30.5)/4, 2)))
}

// vees returns the contours of the valley, each one line bent at the middle.
func vees(levels ...float64) survey.Survey {
	s := survey.Survey{Sources: []survey.Source{{Form: survey.Contours}}}
	for i, z := range levels {
		tip := 20 * (z - 10)
		arm := math.Min(tip/4, 25)
		s.Lines = append(s.Lines, survey.Line{
			At: orb.LineString{{30.5 - arm, tip - 4*arm}, {30.5, tip}, {30.5 + arm, tip - 4*arm}}, Z: []float64{z}, Number: i + 1,
		})
	}
	return s
}

func TestAValleyThatContoursDrawIsLetThrough(t *testing.T) {
	s := vees(11, 12, 13, 14)
	g := formed(61, 100, func(x, y float64) float64 { return valley(x, y) + dam(x, y) })
	if left, _ := hollows(t, g, s); left == 0 {
		t.Fatal("the dam ponds nothing, so there is nothing to let out")
	}
	out, sunk, stayed := drained(t, g, s)
	if left, _ := hollows(t, out, s); left != 0 || sunk == 0 || stayed != 0 {
		t.Errorf("%d hollows are left, %d are said to be out and %d to have stayed", left, sunk, stayed)
	}
	if was, is := farthest(g, s), farthest(out, s); is > max(was, 0.1) {
		t.Errorf("a contour is missed by %.3f m, before by %.3f", is, was)
	}
	// It takes a part of the dam to open it, and the ground beside moves along: no slot.
	deepest, steepest := 0.0, 0.0
	for y := range g.H {
		for x := range g.W {
			move := float64(out.At(x, y) - g.At(x, y))
			deepest = max(deepest, math.Abs(move))
			if x > 0 {
				steepest = max(steepest, math.Abs(move-float64(out.At(x-1, y)-g.At(x-1, y))))
			}
		}
	}
	if deepest > 0.2 || steepest > 0.8*deepest {
		t.Errorf("the ground moves by up to %.3f m, from cell to cell by %.3f; the dam is 0.4 m", deepest, steepest)
	}
}

// A height that was measured on the dam keeps it; then what it ponds is filled.
func TestADamThatIsMeasuredIsFilledBehind(t *testing.T) {
	g := formed(61, 100, func(x, y float64) float64 { return valley(x, y) + dam(x, y) })
	crest := survey.Spot{At: orb.Point{30.5, 50}, Z: grid.Sample(g, orb.Point{30.5, 50})}
	out, sunk, stayed := drained(t, g, survey.Survey{Spots: []survey.Spot{crest}})
	if sunk == 0 || stayed != 0 {
		t.Errorf("%d hollows are let out and %d stay", sunk, stayed)
	}
	if off := math.Abs(grid.Sample(out, crest.At) - crest.Z); off > pointSlack+1e-4 {
		t.Errorf("the spot on the dam is missed by %.4f m", off)
	}
	// Two cells that hold the spot may each go down by twice its slack, not both.
	d := &drainage{ground: g, held: hold(g, survey.Survey{Spots: []survey.Spot{crest}}), shift: make([]float32, g.Len())}
	cells := []int32{49*61 + 30, 50*61 + 30}
	for _, c := range cells {
		if slack := d.held.slack(c); math.Abs(slack-2*pointSlack) > 1e-4 {
			t.Fatalf("a cell that holds half of the spot may move by %v m", slack)
		}
		d.shift[c] = -2 * pointSlack
	}
	d.restrain(cells)
	if both := -(d.shift[cells[0]] + d.shift[cells[1]]) / 2; both > pointSlack+1e-4 || both < pointSlack/2 {
		t.Errorf("the spot goes down by %v m", both)
	}
}

// bowl is a hollow 0.8 m deep in a ground that falls to the south.
func bowl(x, y float64) float64 {
	return 10 + y/50 - 0.8*math.Exp(-(math.Pow(x-30, 2)+math.Pow(y-30, 2))/60)
}

func TestAHollowThatIsMeasuredStays(t *testing.T) {
	g := formed(60, 60, bowl)
	level := 9.9
	var ring orb.LineString
	for i := range 65 {
		// Out from the middle until the bowl is as high as the contour.
		sin, cos := math.Sincos(float64(i%64) * math.Pi / 32)
		r := 0.0
		for bowl(30+r*sin, 30+r*cos) < level {
			r += 0.001
		}
		ring = append(ring, orb.Point{30 + r*sin, 30 + r*cos})
	}
	other := survey.Line{At: orb.LineString{{0, 55}, {60, 55}}, Z: []float64{11.1}}
	for name, s := range map[string]survey.Survey{
		"a closed contour": {Lines: []survey.Line{{At: ring, Z: []float64{level}}, other}},
		"a spot":           {Spots: []survey.Spot{{At: orb.Point{30.5, 30.5}, Z: bowl(30.5, 30.5)}}},
		"a break": {Lines: []survey.Line{{
			At: orb.LineString{{29.5, 30.5}, {31.5, 30.5}}, Z: []float64{bowl(29.5, 30.5), bowl(31.5, 30.5)}, Use: survey.Break,
		}}},
	} {
		out, sunk, stayed := drained(t, g, s)
		if sunk != 0 || stayed != 1 || !slices.Equal(out.V, g.V) {
			t.Errorf("%s: %d hollows are let out and %d stay", name, sunk, stayed)
		}
	}
	if _, sunk, stayed := drained(t, g, survey.Survey{}); sunk != 1 || stayed != 0 {
		t.Errorf("of the hollow that nothing asks for %d are let out and %d stay", sunk, stayed)
	}
	out := survey.Survey{Spots: []survey.Spot{{At: orb.Point{30.5, 30.5}, Z: bowl(30.5, 30.5), Out: true}}}
	if _, sunk, _ := drained(t, g, out); sunk != 1 {
		t.Error("a spot that is left out keeps its hollow")
	}
}

func TestDrainingLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(2, 40).Draw(t, "w"), rapid.IntRange(2, 40).Draw(t, "h")
		g := synthetic.Site(w, h, rapid.Uint64().Draw(t, "seed"))
		for range rapid.IntRange(0, 30).Draw(t, "holes") {
			g.V[rapid.IntRange(0, len(g.V)-1).Draw(t, "hole")] = grid.NoData
		}
		s := levelled(g, rapid.Float64Range(0.05, 1).Draw(t, "interval"))
		spots := survey.Survey{}
		for range rapid.IntRange(0, 20).Draw(t, "spots") {
			at := orb.Point{rapid.Float64Range(0, float64(w)).Draw(t, "east"), rapid.Float64Range(0, float64(h)).Draw(t, "north")}
			if z := grid.Sample(g, at); !math.IsNaN(z) {
				spots.Spots = append(spots.Spots, survey.Spot{At: at, Z: z})
			}
		}
		s.Spots = spots.Spots
		before, _ := hollows(t, g, s)
		was := farthest(g, s)
		out := g.Clone()
		sunk, stayed, err := drain(context.Background(), out, s)
		if err != nil {
			t.Fatal(err)
		}
		left, kept := hollows(t, out, s)
		if left > before || stayed != left+kept || sunk < 0 {
			t.Fatalf("%d hollows before and %d after; %d said to be out, %d to stay", before, left, sunk, stayed)
		}
		if is := farthest(out, s); is > max(was, 0.1*Interval(s), pointSlack)+1e-4 {
			t.Fatalf("a contour is missed by %v m, before by %v", is, was)
		}
		if is := farthest(out, spots); is > pointSlack+1e-4 {
			t.Fatalf("a spot is missed by %v m", is)
		}
		for i := range g.V {
			if grid.IsNoData(g.V[i]) != grid.IsNoData(out.V[i]) {
				t.Fatalf("cell %d has no data before or after only", i)
			}
		}
		if _, stayed, _ := drain(context.Background(), g.Clone(), survey.Survey{}); stayed != 0 {
			t.Fatalf("where nothing is measured %d hollows stay", stayed)
		}
		again, _, _ := drain(context.Background(), out.Clone(), s)
		if left == 0 && again != 0 {
			t.Fatalf("%d hollows are let out of a drained ground", again)
		}
	})
}

// Filling alone lets all hollows out too, lowers nothing and leaves nothing level.
func TestFilledHollowsRunOff(t *testing.T) {
	rough := synthetic.Site(60, 50, 5)
	d := &drainage{ground: rough.Clone(), held: hold(rough, survey.Survey{})}
	if count, err := d.find(context.Background()); err != nil || count < 10 {
		t.Fatalf("%d hollows to fill, %v", count, err)
	}
	covered := slices.Clone(d.pool)
	d.fill()
	for i, z := range d.ground.V {
		if z < rough.V[i] || (covered[i] == none && z != rough.V[i]) {
			t.Fatalf("cell %d is %v m, before %v", i, z, rough.V[i])
		}
	}
	if count, _ := d.find(context.Background()); count != 0 || !slices.Equal(d.flow.Filled.V, d.ground.V) {
		t.Errorf("%d hollows are left", count)
	}
	for i, pool := range covered {
		lower := pool == none
		for at := range d.around(int32(i)) {
			lower = lower || d.ground.V[at] < d.ground.V[i]
		}
		if !lower {
			t.Fatalf("cell %d has no lower neighbour", i)
		}
	}
}

func TestDrainingMovesWithTheGround(t *testing.T) {
	g := formed(61, 100, func(x, y float64) float64 { return valley(x, y) + dam(x, y) })
	s := vees(11, 12, 13, 14)
	low, _, _ := drained(t, g, s)
	for i := range g.V {
		g.V[i] += 50
	}
	for i := range s.Lines {
		s.Lines[i].Z = []float64{s.Lines[i].Z[0] + 50}
	}
	high, _, _ := drained(t, g, s)
	for i := range g.V {
		if d := math.Abs(float64(high.V[i]) - 50 - float64(low.V[i])); d > 1e-4 {
			t.Fatalf("50 m higher up cell %d comes out %v m otherwise", i, d)
		}
	}
}

func TestDrainingAsksNothingOfGroundsWithout(t *testing.T) {
	for name, g := range map[string]grid.Ground{
		"no data": grid.Parse(". . .", ". . ."), "one cell": grid.Parse("1"), "level": grid.Parse("2 2 2", "2 2 2", "2 2 2"),
	} {
		out, sunk, stayed := drained(t, g, survey.Survey{})
		if sunk != 0 || stayed != 0 || grid.Print(out) != grid.Print(g) {
			t.Errorf("%s: %d let out, %d stay, and it is now\n%s", name, sunk, stayed, grid.Print(out))
		}
	}
}

func TestDrainingCanBeStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, _, err := drain(ctx, formed(60, 60, bowl), survey.Survey{}); !errors.Is(err, context.Canceled) {
		t.Errorf("a stopped run ends with %v", err)
	}
}
