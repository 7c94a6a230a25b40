package hollow_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"runnel/analysis/hollow"
	"runnel/geo/grid"
)

// A pond with a ripple in its floor, a dimple of 1 cm on the bank and a pit of one
// cell: by depth the dimple goes, by area the pit too; the ripple is part of the pond.
func TestSurveyNoiseIsNotShownAsPonds(t *testing.T) {
	tree := grow(t, grid.Parse(
		"9 9    9 9 9 9 9 9 9",
		"9 8.99 9 9 9 9 9 9 9",
		"9 9    9 9 9 4 9 9 9",
		"9 9    9 9 9 9 9 9 9",
		"9 9    9 5 5 5 5 9 9",
		"9 9    9 5 4 5 4 5 7",
		"9 9    9 5 5 5 5 9 9",
		"9 9    9 9 9 9 9 9 9"))
	depths := func(least hollow.Threshold) (depths []float64) {
		for _, node := range tree.Worth(least) {
			depths = append(depths, math.Round(tree.Nodes[node].Depth*100)/100)
		}
		return depths
	}
	for _, test := range []struct {
		least hollow.Threshold
		want  []float64
	}{
		{hollow.Threshold{}, []float64{3, 5, 0.01}},
		{hollow.Threshold{Depth: 0.02}, []float64{3, 5}},
		{hollow.Threshold{Area: 2}, []float64{3}},
		{hollow.Threshold{Volume: 5}, []float64{3, 5}},
		{hollow.Threshold{Volume: 5.01}, []float64{3}},
		{hollow.Threshold{Depth: 5.5}, nil},
	} {
		if got := depths(test.least); !slices.Equal(got, test.want) {
			t.Errorf("%+v: hollows %v m deep, want %v", test.least, got, test.want)
		}
	}
}

// Three pits in a row, of which the first two join at 4 m and all at 6 m.
func TestNeighboursShareAPass(t *testing.T) {
	tree := grow(t, grid.Parse(
		"9 9 9 9 9 9 9 9",
		"9 1 4 2 6 3 7 0",
		"9 9 9 9 9 9 9 9"))
	const first, second, third, two, all = 0, 1, 2, 3, 4
	for node, want := range map[int32][]int32{
		first: {second}, second: {first, third}, third: {two}, two: {third}, all: nil,
	} {
		if got := tree.Neighbours(node); !slices.Equal(got, want) {
			t.Errorf("node %d has the neighbours %v, want %v", node, got, want)
		}
	}
}

// A hollow on a slope spills into the one below, and neither is part of the other.
func TestHollowsOnASlopeAreNeighbours(t *testing.T) {
	tree := grow(t, grid.Parse(
		"99 99 99 99 99 99",
		"99 10 20  5  8  0",
		"99 99 99 99 99 99"))
	for node, want := range map[int32][]int32{0: {1}, 1: {0}} {
		if got := tree.Neighbours(node); !slices.Equal(got, want) {
			t.Errorf("node %d has the neighbours %v, want %v", node, got, want)
		}
	}
}

// The hollow on the slope spills into one of two that join further down: its
// neighbour is what the two make up, and the two are each other's.
func TestTheNeighbourOnASlopeIsTheWholeOfTheHollow(t *testing.T) {
	tree := grow(t, grid.Parse(
		"99 99 99 99 99 99 99 99",
		"99 10 20  5  7  4  8  0",
		"99 99 99 99 99 99 99 99"))
	for node, want := range map[int32][]int32{0: {3}, 1: {0, 2}, 2: {1}, 3: {0}} {
		if got := tree.Neighbours(node); !slices.Equal(got, want) {
			t.Errorf("node %d has the neighbours %v, want %v", node, got, want)
		}
	}
}

// To be neighbours is mutual for hollows that lie in no other.
func TestTopmostNeighboursAreMutual(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := rapid.OneOf(ponds(), distinct()).Draw(t, "ground")
		tree := grow(t, ground)
		worth := tree.Worth(hollow.Threshold{})
		for _, a := range worth {
			for _, b := range worth {
				if slices.Contains(tree.Neighbours(a), b) != slices.Contains(tree.Neighbours(b), a) {
					t.Fatalf("only one of %d and %d is the other's neighbour\n%s", a, b, grid.Print(ground))
				}
			}
		}
	})
}
