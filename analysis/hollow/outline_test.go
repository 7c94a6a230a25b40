package hollow_test

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkt"
	"github.com/paulmach/orb/planar"
	"github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"runnel/analysis/hollow"
	"runnel/geo/grid"
)

func TestOutlines(t *testing.T) {
	tests := []struct {
		name   string
		ground grid.Ground
		want   string
	}{{
		name:   "one cell",
		ground: grid.Parse("9 9 9", "9 1 9", "9 9 9"),
		want:   "MULTIPOLYGON(((2 1,2 2,1 2,1 1,2 1)))",
	}, {
		name:   "cells in a row share one ring with corners only",
		ground: grid.Parse("9 9 9 9 9", "9 1 2 1 9", "9 9 9 9 9"),
		want:   "MULTIPOLYGON(((4 1,4 2,1 2,1 1,4 1)))",
	}, {
		name:   "an island is a hole",
		ground: grid.Parse("9 9 9 9 9", "9 1 1 1 9", "9 1 9 1 9", "9 1 1 1 9", "9 9 9 9 9"),
		want:   "MULTIPOLYGON(((4 1,4 4,1 4,1 1,4 1),(3 3,3 2,2 2,2 3,3 3)))",
	}, {
		name: "islands that meet at a corner are holes of their own",
		ground: grid.Parse(
			"9 9 9 9 9 9", "9 1 1 1 1 9", "9 1 9 1 1 9", "9 1 1 9 1 9", "9 1 1 1 1 9", "9 9 9 9 9 9"),
		want: "MULTIPOLYGON(((5 1,5 5,1 5,1 1,5 1),(3 4,3 3,2 3,2 4,3 4),(4 3,4 2,3 2,3 3,4 3)))",
	}, {
		name: "a moat whose ends meet at a corner rings a hole",
		ground: grid.Parse(
			"9 9 9 9 9 9", "9 1 1 1 9 9", "9 1 9 9 1 9", "9 1 9 9 1 9", "9 1 1 1 1 9", "9 9 9 9 9 9"),
		want: "MULTIPOLYGON(((5 1,5 4,4 4,4 5,1 5,1 1,5 1),(4 4,4 2,2 2,2 4,4 4)))",
	}, {
		name:   "cells that meet at a corner are polygons of their own",
		ground: grid.Parse("9 9 9 9", "9 1 9 9", "9 9 1 9", "9 9 9 9"),
		want:   "MULTIPOLYGON(((2 2,2 3,1 3,1 2,2 2)),((3 1,3 2,2 2,2 1,3 1)))",
	}}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			tree := grow(t, test.ground)
			found := tree.Worth(hollow.Threshold{})
			if len(found) != 1 {
				t.Fatalf("found %d hollows, want 1", len(found))
			}
			got, err := geom.UnmarshalWKT(wkt.MarshalString(tree.Outline(found[0])))
			if err != nil {
				t.Fatal(err)
			}
			want, err := geom.UnmarshalWKT(test.want)
			if err != nil {
				t.Fatal(err)
			}
			if !geom.ExactEquals(got, want, geom.IgnoreOrder) {
				t.Errorf("got %s, want %s", got.AsText(), test.want)
			}
		})
	}
}

// ponds draws grounds of few heights with holes of no data, so that hollows are
// ragged, touch at corners and hold islands.
func ponds() *rapid.Generator[grid.Ground] {
	return rapid.Custom(func(t *rapid.T) grid.Ground {
		f := grid.Square(rapid.IntRange(1, 16).Draw(t, "w"), rapid.IntRange(1, 16).Draw(t, "h"), 400_000, 5_000_000, 0.5)
		g := grid.New[float32](f)
		heights := rapid.SampledFrom([]float32{1, 1, 2, 6, 7, 9, 9}) // the rim stands at 7
		for c := range g.V {
			g.V[c] = heights.Draw(t, "z")
			if x, y := c%f.W, c/f.W; x == 0 || y == 0 || x == f.W-1 || y == f.H-1 {
				g.V[c] = 7
			}
		}
		for range rapid.IntRange(0, 2).Draw(t, "holes") {
			g.V[rapid.IntRange(1, len(g.V)).Draw(t, "hole")-1] = grid.NoData
		}
		g.V[0] = 7
		return g
	})
}

// Outlines are valid by another library's rules, wind as RFC 7946 asks, and hold
// just the cells of their node.
func TestOutlinesHoldTheirCells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := ponds().Draw(t, "ground")
		tree := grow(t, ground)
		for i, n := range tree.Nodes {
			outline := tree.Outline(int32(i))
			checkOutline(t, ground, n, outline)
			in := map[int32]bool{}
			for _, c := range tree.Cells(int32(i)) {
				in[c] = true
			}
			for c := range int32(ground.Len()) {
				if planar.MultiPolygonContains(outline, ground.Centre(int(c)%ground.W, int(c)/ground.W)) != in[c] {
					t.Fatalf("the outline of node %d is wrong about cell %d\n%s", i, c, grid.Print(ground))
				}
			}
		}
	})
}

func checkOutline(t *rapid.T, ground grid.Ground, n hollow.Node, outline orb.MultiPolygon) {
	if _, err := geom.UnmarshalWKT(wkt.MarshalString(outline)); err != nil {
		t.Fatalf("the outline is not valid: %v\n%s", err, grid.Print(ground))
	}
	for _, polygon := range outline {
		for i, ring := range polygon {
			if want := orb.CW; (i == 0) == (ring.Orientation() == want) {
				t.Fatalf("ring %d winds the wrong way\n%s", i, grid.Print(ground))
			}
		}
	}
	if area := planar.Area(outline); math.Abs(area-n.Area) > 1e-6 {
		t.Fatalf("the outline holds %g m², the cells %g m²", area, n.Area)
	}
}

// Cells in a chessboard meet at corners only.
func TestAChessboardIsOneHollowOfManyParts(t *testing.T) {
	ground := grid.New[float32](grid.Square(41, 41, 0, 41, 1))
	for c := range ground.V {
		ground.V[c] = 9
		if x, y := c%41, c/41; (x+y)%2 == 0 && x > 0 && y > 0 && x < 40 && y < 40 {
			ground.V[c] = 1
		}
	}
	tree := grow(t, ground)
	found := tree.Worth(hollow.Threshold{})
	if len(found) != 1 || len(tree.Outline(found[0])) != tree.Nodes[found[0]].Cells {
		t.Fatalf("found %d hollows, want one with a part for each cell", len(found))
	}
	if slices.ContainsFunc(tree.Outline(found[0]), func(p orb.Polygon) bool { return len(p) != 1 || len(p[0]) != 5 }) {
		t.Error("a part is not a square")
	}
}
