package hollow_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/geo/grid"
)

// fataler is what tests and property tests share.
type fataler interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

func route(t fataler, ground grid.Ground) *flow.Flow {
	t.Helper()
	routed, err := flow.Route(context.Background(), ground, flow.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return routed
}

func grow(t fataler, ground grid.Ground) *hollow.Tree {
	t.Helper()
	tree, err := hollow.NewTree(context.Background(), route(t, ground))
	if err != nil {
		t.Fatal(err)
	}
	return tree
}

// Two pits in one hollow, worked by hand. The left holds 3 m³ and the right 2 m³
// below the pass at 5 m; together they hold 5 + 2 + 4 m³ below the rim at 7 m.
func TestTwoNestedHollowsByHand(t *testing.T) {
	tree := grow(t, grid.Parse(
		"9 9 9 9 9 9",
		"9 2 5 3 7 0",
		"9 9 9 9 9 9"))
	left, pass, right, rim := int32(7), int32(8), int32(9), int32(10)
	none := [2]int32{hollow.None, hollow.None}
	want := []hollow.Node{
		{Pit: left, From: pass, To: right, Level: 5, Parent: 2, Child: none, Into: 1, Cells: 1, Area: 1, Depth: 3, Volume: 3},
		{Pit: right, From: right, To: pass, Level: 5, Parent: 2, Child: none, Into: 0, Cells: 1, Area: 1, Depth: 2, Volume: 2},
		{Pit: left, From: right, To: rim, Level: 7, Parent: hollow.None, Child: [2]int32{0, 1}, Into: hollow.None, Cells: 3, Area: 3, Depth: 5, Volume: 11},
	}
	for i := range want {
		got := tree.Nodes[i]
		// The pass itself falls to the left, 3 m against 2 m; so the spill is beside it.
		slices.Sort(got.Child[:])
		if got != want[i] {
			t.Errorf("node %d is\n%+v, want\n%+v", i, got, want[i])
		}
	}
	if len(tree.Nodes) != len(want) {
		t.Errorf("the tree has %d nodes, want 3", len(tree.Nodes))
	}
}

// Two pits that spill one into the other: the left holds 17 m³ below 9 m, the right
// 5 m³ below 7 m.
func TestFiguresOfHollows(t *testing.T) {
	tree := grow(t, grid.Parse(
		"10 10 10 10 10 10 10",
		"10  8  8  9  7  8 10",
		"10  8  3  9  4  7 10",
		"10  8  4  9  5  7 10",
		"10  8  8  9  7  8  6",
		"10 10 10 10 10 10 10"))
	worth := tree.Worth(hollow.Threshold{})
	if len(worth) != 2 {
		t.Fatalf("found %d hollows, want 2", len(worth))
	}
	left, right := tree.Nodes[worth[0]], tree.Nodes[worth[1]]
	if left.Cells != 8 || left.Area != 8 || left.Depth != 6 || left.Volume != 17 || left.Level != 9 || left.Pit != 16 || left.Into != 1 {
		t.Errorf("the left is %+v", left)
	}
	if right.Cells != 2 || right.Area != 2 || right.Depth != 3 || right.Volume != 5 || right.Level != 7 || right.Pit != 18 || right.Into != hollow.None {
		t.Errorf("the right is %+v", right)
	}
}

// Cells of 2 by 0.5 m: eight 2 m deep and one 3 m, of 1 m² each.
func TestABowlOfOblongCells(t *testing.T) {
	ground := grid.Parse("5 5 5 5 5", "5 2 2 2 5", "5 2 1 2 4", "5 2 2 2 5", "5 5 5 5 5")
	ground.DX, ground.DY = 2, 0.5
	n := grow(t, ground).Nodes[0]
	if n.Volume != 19 || n.Area != 9 || n.Level != 4 || n.Depth != 3 || n.From != 14 || n.To != hollow.None {
		t.Errorf("got %+v, want 19 m³ over 9 m² below 4 m, spilling at cell 14", n)
	}
}

// distinct draws grounds whose heights all differ, with gaps in the data.
func distinct() *rapid.Generator[grid.Ground] {
	return rapid.Custom(func(t *rapid.T) grid.Ground {
		w, h := rapid.IntRange(1, 9).Draw(t, "w"), rapid.IntRange(1, 9).Draw(t, "h")
		g := grid.New[float32](grid.Square(w, h, 400_000, 5_000_000, 0.5))
		order := make([]int, len(g.V))
		for i := range order {
			order[i] = i
		}
		for c, z := range rapid.Permutation(order).Draw(t, "heights") {
			g.V[c] = float32(z - len(order)/2)
		}
		for range rapid.IntRange(0, 2).Draw(t, "gaps") {
			g.V[rapid.IntRange(1, len(g.V)).Draw(t, "gap")-1] = grid.NoData
		}
		for _, z := range g.V {
			if !grid.IsNoData(z) {
				return g
			}
		}
		g.V[0] = 1
		return g
	})
}

// below returns the cells that are joined to c and lie below a level, or at it,
// in ascending order, and whether water gets off the ground from one of them.
func below(g grid.Ground, c int32, under func(z float32) bool) (cells []int32, open bool) {
	seen := map[int32]bool{c: true}
	cells = []int32{c}
	for i := 0; i < len(cells); i++ {
		x, y := int(cells[i])%g.W, int(cells[i])/g.W
		for d := range 8 {
			nx, ny := x+grid.StepX[d], y+grid.StepY[d]
			if !g.In(nx, ny) || grid.IsNoData(g.At(nx, ny)) {
				open = true
				continue
			}
			if n := int32(ny*g.W + nx); !seen[n] && under(g.V[n]) {
				seen[n] = true
				cells = append(cells, n)
			}
		}
	}
	slices.Sort(cells)
	return cells, open
}

// The slow twin raises a level through all heights and looks at what is flooded:
// a closed pool is a hollow at the level at which it meets another or the outside.
func TestTheTreeIsWhatARisingLevelShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := distinct().Draw(t, "ground")
		var want, got []string
		for x, level := range ground.V {
			// A cell of no data has no height, and is not below any.
			pools := map[string]bool{}
			ends := grid.IsNoData(level)
			if ends {
				continue
			}
			_, ends = below(ground, int32(x), func(float32) bool { return false })
			touched := 0
			for d := range 8 {
				nx, ny := x%ground.W+grid.StepX[d], x/ground.W+grid.StepY[d]
				if !ground.In(nx, ny) || !(ground.At(nx, ny) < level) {
					continue
				}
				cells, open := below(ground, int32(ny*ground.W+nx), func(z float32) bool { return z < level })
				name := fmt.Sprint(level, cells)
				if !pools[name] {
					touched++
				}
				pools[name] = true
				if open {
					delete(pools, name)
					ends = true
				}
			}
			if ends || touched > 1 {
				for name := range pools {
					want = append(want, name)
				}
			}
		}
		tree := grow(t, ground)
		for i, n := range tree.Nodes {
			// Where three pools meet in one cell, two of them count as one for the
			// pass to the third, and that one is no hollow of its own.
			if n.Child[0] != hollow.None && tree.Nodes[n.Child[0]].Level == n.Level {
				continue
			}
			cells := tree.Cells(int32(i))
			slices.Sort(cells)
			got = append(got, fmt.Sprint(n.Level, cells))
		}
		slices.Sort(want)
		slices.Sort(got)
		if !slices.Equal(slices.Compact(want), got) {
			t.Fatalf("the tree has\n%s\nthe rising level shows\n%s\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"), grid.Print(ground))
		}
	})
}

// Whatever the ground, ties and gaps included: a hollow is the flooded cells round
// its pit; its figures are theirs; it spills where it says.
func TestEachHollowIsTheWaterRoundItsPit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := rapid.OneOf(ponds(), distinct()).Draw(t, "ground")
		tree, routed := grow(t, ground), route(t, ground)
		for i, n := range tree.Nodes {
			checkNode(t, ground, tree, int32(i))
			checkLanding(t, routed, tree, int32(i))
			if (n.Parent == hollow.None) != slices.Contains(tree.Roots, int32(i)) {
				t.Fatalf("node %d, %+v, and the roots %v\n%s", i, n, tree.Roots, grid.Print(ground))
			}
			if n.Parent != hollow.None {
				p := tree.Nodes[n.Parent]
				if p.Level < n.Level || p.Volume < n.Volume || p.Cells < n.Cells || p.Depth < n.Depth || int(n.Parent) <= i {
					t.Fatalf("node %d is more than its parent\n%s", i, grid.Print(ground))
				}
			}
		}
	})
}

func checkNode(t *rapid.T, ground grid.Ground, tree *hollow.Tree, node int32) {
	n := tree.Nodes[node]
	level := float32(n.Level)
	var want []int32
	switch child := n.Child; {
	case child[0] != hollow.None && tree.Nodes[child[0]].Level == n.Level:
		// Three that meet at one height: two of them count as one for the third.
		want = append(tree.Cells(child[0]), tree.Cells(child[1])...)
		slices.Sort(want)
	case ground.V[n.Pit] < level:
		want, _ = below(ground, n.Pit, func(z float32) bool { return z < level })
	}
	got := tree.Cells(node)
	slices.Sort(got)
	if !slices.Equal(got, want) || n.Cells != len(want) {
		t.Fatalf("node %d, %+v, covers %v, want %v\n%s", node, n, got, want, grid.Print(ground))
	}
	depth, volume := 0.0, 0.0
	for _, c := range want {
		depth = max(depth, n.Level-float64(ground.V[c]))
		volume += (n.Level - float64(ground.V[c])) * ground.CellArea()
	}
	if n.Depth != depth || n.Area != float64(len(want))*ground.CellArea() || math.Abs(n.Volume-volume) > 1e-9*(1+volume) {
		t.Fatalf("node %d is %+v, want %g m deep and %g m³\n%s", node, n, depth, volume, grid.Print(ground))
	}
	flooded, open := below(ground, n.Pit, func(z float32) bool { return z <= level })
	high := ground.V[n.From]
	if n.To != hollow.None {
		high = max(high, ground.V[n.To])
	}
	if high != level || !slices.Contains(flooded, n.From) || n.To == hollow.None && !open {
		t.Fatalf("node %d, %+v, does not spill there\n%s", node, n, grid.Print(ground))
	}
	if n.To != hollow.None && (!slices.Contains(flooded, n.To) || slices.Contains(got, n.To) && ground.V[n.To] < level) {
		t.Fatalf("node %d, %+v, spills into itself\n%s", node, n, grid.Print(ground))
	}
}

// checkLanding holds a node to where the water that drops over its spill comes to.
func checkLanding(t *rapid.T, routed *flow.Flow, tree *hollow.Tree, node int32) {
	n, fall := tree.Nodes[node], routed.Fall
	c := n.To
	for c != hollow.None && fall.V[c] != grid.Stay {
		x, y := int(c)%fall.W+grid.StepX[fall.V[c]], int(c)/fall.W+grid.StepY[fall.V[c]]
		c = hollow.None
		if fall.In(x, y) && fall.At(x, y) != grid.NoDir {
			c = int32(y*fall.W + x)
		}
	}
	switch leaf := n.Into; {
	case (leaf == hollow.None) != (c == hollow.None):
		t.Fatalf("node %d, %+v, spills to cell %d\n%s", node, n, c, grid.Print(routed.Ground))
	case leaf != hollow.None && (tree.Nodes[leaf].Pit != c || tree.Nodes[leaf].Child[0] != hollow.None):
		t.Fatalf("node %d, %+v, spills to pit %d\n%s", node, n, c, grid.Print(routed.Ground))
	}
}

// Nothing that stands is in two hollows, and all hollows brim-full are the filled
// surface.
func TestTheHollowsHoldAllThatTheFilledSurfaceDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := rapid.OneOf(ponds(), distinct()).Draw(t, "ground")
		routed, tree := route(t, ground), grow(t, ground)
		level := map[int32]float64{}
		for _, node := range tree.Worth(hollow.Threshold{}) {
			for _, c := range tree.Cells(node) {
				if _, twice := level[c]; twice {
					t.Fatalf("cell %d is in two hollows\n%s", c, grid.Print(ground))
				}
				level[c] = tree.Nodes[node].Level
			}
		}
		for c, z := range ground.V {
			stands, wet := level[int32(c)]
			if wet != (routed.Filled.V[c] > z) || wet && stands != float64(routed.Filled.V[c]) {
				t.Fatalf("cell %d stands at %g m, the filled surface at %g m\n%s", c, stands, routed.Filled.V[c], grid.Print(ground))
			}
		}
	})
}

func TestGroundsWithoutHollowsHaveNoneWorthShowing(t *testing.T) {
	for name, ground := range map[string]grid.Ground{
		"one cell":          grid.Parse("1"),
		"one row":           grid.Parse("3 1 2 0 5"),
		"all flat":          grid.Parse("2 2 2 2", "2 2 2 2", "2 2 2 2", "2 2 2 2"),
		"a hole":            grid.Parse("9 9 9 9", "9 1 . 9", "9 9 9 9"),
		"a plain at a rim":  grid.Parse("9 9 9 9 9", "9 3 3 3 3", "9 3 3 3 9", "9 9 9 9 9"),
		"of great heights":  grid.Parse("1e30 1e30 1e30", "1e30 1e30 -1e30", "1e30 1e30 1e30"),
		"a slope of steps":  grid.Parse("4 4 4 4", "3 3 3 3", "3 3 3 3", "1 1 1 1"),
		"no data all round": grid.Parse(". . .", ". 2 .", ". . ."),
	} {
		tree := grow(t, ground)
		if worth := tree.Worth(hollow.Threshold{}); len(worth) != 0 {
			t.Errorf("%s: %d hollows are shown", name, len(worth))
		}
	}
}

func TestATreeIsMadeOfAWholeFlow(t *testing.T) {
	ground := grid.Parse("9 9 9", "9 1 9", "9 9 9")
	routed := route(t, ground)
	cut := *routed
	cut.Filled = grid.Parse("1")
	if _, err := hollow.NewTree(context.Background(), &cut); err == nil || !strings.Contains(err.Error(), "not whole") {
		t.Errorf("a flow without its filled surface: %v", err)
	}
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := hollow.NewTree(ended, routed); err == nil {
		t.Error("a tree was made after its context had ended")
	}
}
