package hollow_test

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/geo/grid"
)

func checkNest(t *testing.T, tree *hollow.Tree, least hollow.Threshold, want ...hollow.Nested) {
	t.Helper()
	got, err := tree.Nest(least)
	if err != nil {
		t.Fatal(err)
	}
	same := slices.EqualFunc(got, want, func(a, b hollow.Nested) bool {
		return a.Node == b.Node && a.Outlet == b.Outlet && a.Within == b.Within && a.Into == b.Into && slices.Equal(a.Neighbours, b.Neighbours)
	})
	if !same {
		t.Errorf("%+v: the list is\n%+v, want\n%+v", least, got, want)
	}
}

// Three pits in a row, of which the first two join at 4 m and all at 6 m.
func TestPartsAreListedUnderTheHollowTheyLieIn(t *testing.T) {
	tree := grow(t, grid.Parse(
		"9 9 9 9 9 9 9 9",
		"9 1 4 2 6 3 7 0",
		"9 9 9 9 9 9 9 9"))
	const first, second, third, two, all, none = 0, 1, 2, 3, 4, hollow.None
	if tree.Nodes[all].Child != [2]int32{two, third} && tree.Nodes[all].Child != [2]int32{third, two} {
		t.Fatalf("%+v", tree.Nodes)
	}
	// The second pit is 2 m deep to its own spill, the third 3 m.
	checkNest(t, tree, hollow.Threshold{Depth: 2.5},
		hollow.Nested{Node: all, Outlet: 13, Within: none, Into: none},
		hollow.Nested{Node: two, Outlet: 12, Within: 0, Into: 2, Neighbours: []int32{2}},
		hollow.Nested{Node: third, Outlet: 13, Within: 0, Into: 1, Neighbours: []int32{1}})
	checkNest(t, tree, hollow.Threshold{Depth: 3.5}, hollow.Nested{Node: all, Outlet: 13, Within: none, Into: none})
	checkNest(t, tree, hollow.Threshold{Depth: 7})
}

// The middle pond falls short of the threshold, so the first's water comes to the
// last.
func TestWaterGoesThroughHollowsThatAreNotListed(t *testing.T) {
	tree := grow(t, grid.Parse(
		"9 9 9   9 9 9 9 9",
		"9 1 8 6.9 7 2 6 0",
		"9 9 9   9 9 9 9 9"))
	checkNest(t, tree, hollow.Threshold{Depth: 1},
		hollow.Nested{Node: 0, Outlet: 10, Within: hollow.None, Into: 1, Neighbours: []int32{1}},
		hollow.Nested{Node: 2, Outlet: 13, Within: hollow.None, Into: hollow.None, Neighbours: []int32{0}})
}

// Two pits meet at 5 m, and what they would make up spills at 5 m too.
func TestHollowsThatMeetWhereBothAreFullAreTwo(t *testing.T) {
	tree := grow(t, grid.Parse(
		"9 9 9 9 9 9",
		"9 1 5 2 5 0",
		"9 9 9 9 9 9"))
	checkNest(t, tree, hollow.Threshold{},
		hollow.Nested{Node: 0, Outlet: 8, Within: hollow.None, Into: 1, Neighbours: []int32{1}},
		hollow.Nested{Node: 1, Outlet: 9, Within: hollow.None, Into: hollow.None, Neighbours: []int32{0}})
}

// pools returns the sizes of the sets of cells under water that are joined by
// sides or corners, in ascending order.
func pools(ground, filled grid.Ground) (sizes []int) {
	seen := make([]bool, ground.Len())
	for c := range seen {
		size := 0
		for stack := []int{c}; len(stack) > 0; {
			c := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			if seen[c] || !(filled.V[c] > ground.V[c]) {
				continue
			}
			seen[c] = true
			size++
			for _, off := range ground.StepOffsets() {
				stack = append(stack, c+off)
			}
		}
		if size > 0 {
			sizes = append(sizes, size)
		}
	}
	slices.Sort(sizes)
	return sizes
}

func TestTheHollowsThatLieInNoOtherAreThePoolsOfTheFilledSurface(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := grid.New[float32](grid.Square(rapid.IntRange(1, 12).Draw(t, "w"), rapid.IntRange(1, 12).Draw(t, "h"), 0, 0, 1))
		for c := range ground.V {
			ground.V[c] = float32(rapid.IntRange(0, 6).Draw(t, "z"))
		}
		tree, filled := grow(t, ground), filledOf(t, ground)
		var got []int
		list, err := tree.Nest(hollow.Threshold{})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range list {
			if s.Within == hollow.None {
				got = append(got, tree.Nodes[s.Node].Cells)
			} else if outer := list[s.Within]; tree.Nodes[outer.Node].Cells <= tree.Nodes[s.Node].Cells {
				t.Fatalf("a part of %d cells in a hollow of %d", tree.Nodes[s.Node].Cells, tree.Nodes[outer.Node].Cells)
			}
		}
		slices.Sort(got)
		if want := pools(ground, filled); !slices.Equal(got, want) {
			t.Fatalf("hollows of %v cells, pools of %v\n%s", got, want, grid.Print(ground))
		}
	})
}

func filledOf(t fataler, ground grid.Ground) grid.Ground {
	routed, err := flow.Route(context.Background(), ground, flow.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return routed.Filled
}
