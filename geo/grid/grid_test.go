package grid

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func TestTheZeroGridIsEmpty(t *testing.T) {
	var g Ground
	if g.Len() != 0 || len(g.V) != 0 {
		t.Fatal("the zero Grid has cells")
	}
	if _, _, ok := g.Cell(orb.Point{0, 0}); ok {
		t.Error("a point lies in the zero Grid")
	}
	if g.Check() == nil {
		t.Error("the zero Frame passes as a ground")
	}
}

func TestACellHoldsItsOwnCentre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Frame{
			W: rapid.IntRange(1, 500).Draw(t, "w"), H: rapid.IntRange(1, 500).Draw(t, "h"),
			West: rapid.Float64Range(-1e6, 1e6).Draw(t, "west"), North: rapid.Float64Range(-1e6, 1e7).Draw(t, "north"),
			DX: rapid.Float64Range(0.05, 30).Draw(t, "dx"), DY: rapid.Float64Range(0.05, 30).Draw(t, "dy"),
		}
		x, y := rapid.IntRange(0, f.W-1).Draw(t, "x"), rapid.IntRange(0, f.H-1).Draw(t, "y")
		gotX, gotY, ok := f.Cell(f.Centre(x, y))
		if !ok || gotX != x || gotY != y {
			t.Fatalf("centre of (%d, %d) is in (%d, %d), %v", x, y, gotX, gotY, ok)
		}
		if !f.Bound().Contains(f.Centre(x, y)) {
			t.Fatal("a centre lies outside the frame's bound")
		}
	})
}

func TestTheFarEdgesBelongToTheLastCells(t *testing.T) {
	f := Square(3, 2, 10, 20, 0.5)
	b := f.Bound()
	for _, c := range []struct {
		at   orb.Point
		x, y int
		in   bool
	}{
		{orb.Point{b.Min[0], b.Max[1]}, 0, 0, true},
		{orb.Point{b.Max[0], b.Min[1]}, 2, 1, true},
		{orb.Point{b.Max[0] + 1e-6, b.Min[1]}, 0, 0, false},
		{orb.Point{math.NaN(), 20}, 0, 0, false},
	} {
		if x, y, ok := f.Cell(c.at); ok != c.in || x != c.x || y != c.y {
			t.Errorf("%v is in (%d, %d) %v, want (%d, %d) %v", c.at, x, y, ok, c.x, c.y, c.in)
		}
	}
}

func TestFramesThatCannotHoldAGroundAreReported(t *testing.T) {
	for name, f := range map[string]Frame{
		"200 million that fit in memory": Square(200_000, 200_000, 0, 0, 1),
		"needs one at least":             Square(0, 5, 0, 0, 1),
		"must be more than 0":            Square(5, 5, 0, 0, -1),
		"give real coordinates":          Square(5, 5, math.NaN(), 0, 1),
	} {
		if err := f.Check(); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%+v: %v; want a sentence with %q", f, err, name)
		}
	}
}

func TestSampleIsExactOnAPlane(t *testing.T) {
	g := New[float32](Square(20, 15, 100, 215, 0.5))
	plane := func(p orb.Point) float64 { return 3 + 0.25*(p[0]-100) - 0.5*(p[1]-210) }
	for y := range g.H {
		for x := range g.W {
			g.Set(x, y, float32(plane(g.Centre(x, y))))
		}
	}
	for _, p := range []orb.Point{{103.1, 212.3}, {104.72, 211.01}, {109, 208.9}} {
		if got, want := Sample(g, p), plane(p); math.Abs(got-want) > 1e-5 {
			t.Errorf("height at %v is %v, want %v", p, got, want)
		}
	}
	if !math.IsNaN(Sample(g, orb.Point{99, 210})) {
		t.Error("there is a height outside the ground")
	}
}

func TestSampleBesideNoDataIsTheCellsOwnHeight(t *testing.T) {
	g := Parse("1 2", "3 .")
	if got := Sample(g, orb.Point{0.9, 1.1}); got != 1 {
		t.Errorf("height is %v, want the cell's own 1", got)
	}
	if got := Sample(g, orb.Point{1.5, 0.5}); !math.IsNaN(got) {
		t.Errorf("height in a cell of no data is %v", got)
	}
}

func TestExtentLeavesOutNoData(t *testing.T) {
	low, high, known := Extent(Parse(". 4", "-2 ."))
	if low != -2 || high != 4 || known != 2 {
		t.Errorf("extent is %v to %v in %d cells, want -2 to 4 in 2", low, high, known)
	}
	if low, _, known := Extent(Parse(". .")); !math.IsNaN(low) || known != 0 {
		t.Errorf("an empty ground has low %v in %d cells", low, known)
	}
}

func TestStepsGoRoundClockwiseFromNorth(t *testing.T) {
	for d := range 8 {
		// A compass bearing of 45 d degrees, with rows growing to the south.
		sin, cos := math.Sincos(float64(d) * math.Pi / 4)
		if StepX[d] != int(math.Round(sin)) || StepY[d] != -int(math.Round(cos)) {
			t.Errorf("direction %d steps (%d, %d)", d, StepX[d], StepY[d])
		}
		back := Dir(d).Back()
		if StepX[back] != -StepX[d] || StepY[back] != -StepY[d] {
			t.Errorf("direction %d does not come back by %d", d, back)
		}
	}
	lengths := Frame{W: 2, H: 2, DX: 3, DY: 4}.StepLengths()
	if lengths != [8]float64{4, 5, 3, 5, 4, 5, 3, 5} {
		t.Errorf("steps on 3 by 4 m cells are %v m", lengths)
	}
}

func TestPrintedGridsParseBack(t *testing.T) {
	g := Parse("1 2.5 .", "-4 5 6")
	if got := Print(Parse(strings.Split(strings.TrimSpace(Print(g)), "\n")...)); got != Print(g) {
		t.Errorf("came back as\n%s", got)
	}
	clone := g.Clone()
	clone.Set(0, 0, 9)
	if g.At(0, 0) != 1 {
		t.Error("a clone shares its cells")
	}
}
