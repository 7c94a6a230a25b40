package surface

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"runnel/geo/grid"
	"runnel/geo/survey"
)

// drawn returns a ground of the plane 2 + 0.1·east − 0.05·north cell by cell, with no
// data where the drawing has a hash.
func drawn(rows ...string) grid.Ground {
	g := grid.New[float32](grid.Square(len(rows[0]), len(rows), 100, 200, 0.5))
	for y, row := range rows {
		for x, c := range row {
			p := g.Centre(x, y)
			g.V[y*g.W+x] = float32(2 + 0.1*(p[0]-100) - 0.05*(p[1]-200))
			if c == '#' {
				g.V[y*g.W+x] = grid.NoData
			}
		}
	}
	return g
}

func TestHolesAreWhatHasHeightsAllRound(t *testing.T) {
	holes := Holes(drawn(
		"#......#..",
		".##....##.",
		".##..#....",
		"....#.#...", // four cells that meet at corners: each a hole of its own
		".....#...#",
		".......###"))
	counts := map[int]int{}
	for _, h := range holes {
		counts[h.Cells]++
	}
	if len(holes) != 5 || counts[4] != 1 || counts[1] != 4 {
		t.Fatalf("%d holes, by cells %v; want one of 4 cells and four of 1", len(holes), counts)
	}
	want := orb.Polygon{{{100.5, 199.5}, {100.5, 198.5}, {101.5, 198.5}, {101.5, 199.5}, {100.5, 199.5}}}
	if !orb.Equal(holes[0].Outline, want) {
		t.Errorf("the first is %v, want %v", holes[0].Outline, want)
	}
}

func TestARingOfNoDataHasAnIsland(t *testing.T) {
	holes := Holes(drawn("......", ".####.", ".#..#.", ".#.##.", ".####.", "......"))
	if len(holes) != 1 || holes[0].Cells != 13 || len(holes[0].Outline) != 2 || planar.Area(holes[0].Outline) != 13*0.25 {
		t.Fatalf("%+v", holes)
	}
}

// TestOutlinesAreSoundAndHoldTheirCells holds outlines of any shape to the rules of OGC
// Simple Features for polygons, by another library, and to the cells that they are of.
func TestOutlinesAreSoundAndHoldTheirCells(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		f := grid.Square(rapid.IntRange(1, 9).Draw(r, "w"), rapid.IntRange(1, 9).Draw(r, "h"), -3, 7, 0.25)
		set := rapid.SliceOfN(rapid.Bool(), f.Len(), f.Len()).Draw(r, "set")
		again := make([]bool, f.Len())
		for _, h := range partsOf(f, set, anywhere) {
			if area := planar.Area(h.Outline); math.Abs(area-float64(h.Cells)*f.CellArea()) > 1e-9 {
				r.Fatalf("%d cells, %v m²", h.Cells, area)
			}
			for i, ring := range h.Outline {
				if want := map[bool]orb.Orientation{true: orb.CCW, false: orb.CW}[i == 0]; ring.Orientation() != want {
					r.Fatalf("ring %d of %v turns the wrong way", i, h.Outline)
				}
			}
			if err := sound(h.Outline); err != nil {
				r.Fatalf("%v: %v", h.Outline, err)
			}
			n := 0
			fillRings(f, h.Outline, func(i int) { again[i] = true; n++ })
			if n != h.Cells {
				r.Fatalf("%d cells come back of %d", n, h.Cells)
			}
		}
		for i := range set {
			if set[i] != again[i] {
				r.Fatalf("cell %d is %v, want %v", i, again[i], set[i])
			}
		}
	})
}

func sound(p orb.Polygon) error {
	var rings []geom.LineString
	for _, ring := range p {
		var flat []float64
		for _, at := range ring {
			flat = append(flat, at[0], at[1])
		}
		rings = append(rings, geom.NewLineString(geom.NewSequence(flat, geom.DimXY)))
	}
	return geom.NewPolygon(rings).Validate()
}

// TestAFilledHoleLiesInThePlaneRoundIt: minimum curvature gives a plane back.
func TestAFilledHoleLiesInThePlaneRoundIt(t *testing.T) {
	rows := []string{"..........", "..........", "..###.....", "..####....", "...###....", "..........", "..........", ".........#"}
	g := drawn(rows...)
	whole := drawn("..........", "..........", "..........", "..........", "..........", "..........", "..........", "..........")
	m, err := FillHoles(t.Context(), g)
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Patches) != 1 || m.Patches[0].Why != survey.Void || m.Cells != 10 {
		t.Fatalf("%d patches of %d cells", len(m.Patches), m.Cells)
	}
	for i, v := range m.Ground.V {
		switch {
		case i == len(m.Ground.V)-1:
			if !grid.IsNoData(v) {
				t.Errorf("the corner, which is no hole, has the height %v", v)
			}
		case !(math.Abs(float64(v-whole.V[i])) <= 1e-3):
			t.Errorf("cell %d is %v, want %v", i, v, whole.V[i])
		}
		if !grid.IsNoData(g.V[i]) && v != g.V[i] {
			t.Errorf("cell %d, which was measured, went from %v to %v", i, g.V[i], v)
		}
	}
	if !grid.IsNoData(g.V[2*10+2]) {
		t.Error("the ground that was given was changed in place")
	}
}

// TestAHouseAndATreeAreTakenOut puts a house with eaves and a tree on a plane.
func TestAHouseAndATreeAreTakenOut(t *testing.T) {
	g := grid.New[float32](grid.Square(60, 40, 0, 40, 1))
	plane := func(p orb.Point) float32 { return float32(10 + 0.03*p[0] - 0.02*p[1]) }
	house := orb.Polygon{{{10, 10}, {20, 10}, {20, 22}, {10, 22}, {10, 10}}}
	eaves := orb.Polygon{{{9, 9}, {21, 9}, {21, 23}, {9, 23}, {9, 9}}}
	tree := Crown(orb.Point{40.2, 20.4}, 8)
	for i := range g.V {
		g.V[i] = plane(g.Centre(i%g.W, i/g.W))
	}
	surfaced := g.Clone()
	lift := 0
	raise := func(i int) { surfaced.V[i] = g.V[i] + 6; lift++ }
	fillRings(g.Frame, eaves, raise)
	fillRings(g.Frame, tree, raise)
	m, err := Bare(t.Context(), surfaced, []Cover{{house, survey.Building}, {tree, survey.Trees}})
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range m.Ground.V {
		if !(math.Abs(float64(v-g.V[i])) <= 0.02) {
			t.Fatalf("cell %v is %v, want %v", g.Centre(i%g.W, i/g.W), v, g.V[i])
		}
	}
	whys := map[survey.Why]int{}
	for _, p := range m.Patches {
		whys[p.Why]++
	}
	if whys[survey.Building] != 1 || whys[survey.Trees] != 1 || len(m.Patches) != 2 {
		t.Errorf("patches %v, want one of each", whys)
	}
	if want := 6 * float64(lift) / float64(m.Cells); math.Abs(m.Sunk-want) > 0.01 || math.Abs(m.Most-6) > 0.02 {
		t.Errorf("it sinks by %v in the mean and %v at most, want %v and 6", m.Sunk, m.Most, want)
	}
}

func TestWhatCannotBeTakenOut(t *testing.T) {
	g := drawn("....", "....", "....")
	everything := orb.Polygon{{{0, 0}, {900, 0}, {900, 900}, {0, 900}, {0, 0}}}
	if _, err := Bare(t.Context(), g, []Cover{{everything, survey.Building}}); err == nil {
		t.Error("a ground that is covered wholly can be bared")
	}
	far := orb.Polygon{{{900, 900}, {910, 900}, {910, 910}, {900, 900}}}
	m, err := Bare(t.Context(), g, []Cover{{far, survey.Building}, {nil, survey.Trees}})
	if err != nil || len(m.Patches) != 0 || &m.Ground.V[0] != &g.V[0] {
		t.Errorf("a cover beyond the ground gives %d patches and %v", len(m.Patches), err)
	}
}

// TestATreeBesideAHouseIsNoGroundToGoBy: the ground under a house comes from the ground
// beyond a tree that touches it, and the tree, which is not taken out, stays.
func TestATreeBesideAHouseIsNoGroundToGoBy(t *testing.T) {
	g := grid.New[float32](grid.Square(60, 40, 0, 40, 1))
	plane := func(i int) float32 {
		p := g.Centre(i%g.W, i/g.W)
		return float32(10 + 0.03*p[0] - 0.02*p[1])
	}
	house := orb.Polygon{{{20, 12}, {32, 12}, {32, 26}, {20, 26}, {20, 12}}}
	for i := range g.V {
		g.V[i] = plane(i)
	}
	fillRings(g.Frame, Crown(orb.Point{36, 20}, 14), func(i int) { g.V[i] = plane(i) + 7 })
	fillRings(g.Frame, house, func(i int) { g.V[i] = plane(i) + 5 })
	m, err := Bare(t.Context(), g, []Cover{{house, survey.Building}})
	if err != nil {
		t.Fatal(err)
	}
	changed := 0
	for i, v := range m.Ground.V {
		switch p := g.Centre(i%g.W, i/g.W); {
		case v != g.V[i]:
			changed++
			if !(math.Abs(float64(v-plane(i))) <= 0.05) {
				t.Fatalf("cell %v is %v, want %v", p, v, plane(i))
			}
		case p[0] > 38 && p[0] < 41 && math.Abs(p[1]-20) < 3 && v != plane(i)+7:
			t.Fatalf("the tree at %v is %v", p, v)
		}
	}
	if changed == 0 || changed > m.Cells {
		t.Errorf("%d cells changed of %d", changed, m.Cells)
	}
}
