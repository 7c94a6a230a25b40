package hollow_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkt"
	"github.com/paulmach/orb/planar"
	"github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/geo/grid"
)

func find(t testing.TB, ground grid.Ground) []hollow.Hollow {
	t.Helper()
	filled, err := flow.Fill(context.Background(), ground)
	if err != nil {
		t.Fatal(err)
	}
	found, err := hollow.Find(context.Background(), ground, filled)
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func TestFiguresOfHollows(t *testing.T) {
	// Two pits worked by hand: the left holds 17 m³ below 9 m, the right 5 m³ below
	// 7 m. The left one's rim is 9 all along column 3, from where water drops into
	// the right one; the right one leaves by column 4 and 5 at 7 m to the edge at 6 m.
	found := find(t, grid.Parse(
		"10 10 10 10 10 10 10",
		"10  8  8  9  7  8 10",
		"10  8  3  9  4  7 10",
		"10  8  4  9  5  7 10",
		"10  8  8  9  7  8  6",
		"10 10 10 10 10 10 10"))
	want := []hollow.Hollow{{
		Cells: 8, Area: 8, Depth: 6, Volume: 17, Level: 9,
		Deepest: orb.Point{2.5, 3.5}, Spill: orb.Point{3.5, 4.5},
	}, {
		Cells: 2, Area: 2, Depth: 3, Volume: 5, Level: 7,
		Deepest: orb.Point{4.5, 3.5}, Spill: orb.Point{5.5, 2.5},
	}}
	if len(found) != len(want) {
		t.Fatalf("found %d hollows, want %d", len(found), len(want))
	}
	for i, got := range found {
		got.Outline = nil
		if got.Spill != want[i].Spill || got.Deepest != want[i].Deepest || got.Cells != want[i].Cells ||
			got.Area != want[i].Area || got.Depth != want[i].Depth || got.Volume != want[i].Volume || got.Level != want[i].Level {
			t.Errorf("hollow %d: got %+v, want %+v", i, got, want[i])
		}
	}
}

func TestABowlOfFiveByFive(t *testing.T) {
	ground := grid.Parse("5 5 5 5 5", "5 2 2 2 5", "5 2 1 2 4", "5 2 2 2 5", "5 5 5 5 5")
	ground.DX, ground.DY = 2, 0.5
	found := find(t, ground)
	// Eight cells 2 m deep and one 3 m, of 1 m² each.
	if len(found) != 1 || found[0].Volume != 19 || found[0].Area != 9 || found[0].Level != 4 {
		t.Fatalf("got %+v, want 19 m³ over 9 m² below 4 m", found)
	}
	if want := ground.Centre(4, 2); found[0].Spill != want {
		t.Errorf("it spills at %v, want the low cell of the rim at %v", found[0].Spill, want)
	}
}

// Over a level rim the water leaves where the way over it is shortest.
func TestALevelRimSpillsByTheShortestWay(t *testing.T) {
	found := find(t, grid.Parse(
		"9 9 9 9 9 9 9",
		"9 4 4 4 4 4 9",
		"9 4 9 9 9 4 9",
		"9 4 1 9 9 4 9",
		"9 4 9 9 9 4 9",
		"9 4 9 9 9 4 3",
		"9 9 9 9 9 9 9"))
	if len(found) != 1 || found[0].Spill != (orb.Point{1.5, 4.5}) {
		t.Fatalf("got %+v, want one hollow spilling at 1.5, 4.5", found)
	}
}

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
			found := find(t, test.ground)
			if len(found) != 1 {
				t.Fatalf("found %d hollows, want 1", len(found))
			}
			got, err := geom.UnmarshalWKT(wkt.MarshalString(found[0].Outline))
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

// The hollows take up just the cells below the filled surface, each once, and
// what they hold adds up; their outlines are valid by another library's rules,
// wind as RFC 7946 asks, and hold just their cells.
func TestHollowsCoverWhatIsWet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := ponds().Draw(t, "ground")
		filled, err := flow.Fill(context.Background(), ground)
		if err != nil {
			t.Fatal(err)
		}
		found, err := hollow.Find(context.Background(), ground, filled)
		if err != nil {
			t.Fatal(err)
		}
		holders, wet, volume := make([]int, ground.Len()), 0, 0.0
		for c, z := range ground.V {
			if filled.V[c] > z {
				wet++
				volume += float64(filled.V[c]-z) * ground.CellArea()
			}
			for _, h := range found {
				if planar.MultiPolygonContains(h.Outline, ground.Centre(c%ground.W, c/ground.W)) {
					holders[c]++
				}
			}
			if (holders[c] == 1) != (filled.V[c] > z) || holders[c] > 1 {
				t.Fatalf("cell %d stands in %d hollows\n%s", c, holders[c], grid.Print(ground))
			}
		}
		for i, h := range found {
			wet -= h.Cells
			volume -= h.Volume
			if i > 0 && h.Volume > found[i-1].Volume {
				t.Fatalf("hollow %d holds more than the one before it", i)
			}
			checkHollow(t, ground, h)
		}
		if wet != 0 || math.Abs(volume) > 1e-9 {
			t.Fatalf("%d cells and %g m³ are not accounted for\n%s", wet, volume, grid.Print(ground))
		}
	})
}

func checkHollow(t *rapid.T, ground grid.Ground, h hollow.Hollow) {
	if _, err := geom.UnmarshalWKT(wkt.MarshalString(h.Outline)); err != nil {
		t.Fatalf("the outline is not valid: %v\n%s", err, grid.Print(ground))
	}
	for _, polygon := range h.Outline {
		for i, ring := range polygon {
			if want := orb.CW; (i == 0) == (ring.Orientation() == want) {
				t.Fatalf("ring %d winds the wrong way\n%s", i, grid.Print(ground))
			}
		}
	}
	if area := planar.Area(h.Outline); math.Abs(area-h.Area) > 1e-6 {
		t.Fatalf("the outline holds %g m², the cells %g m²", area, h.Area)
	}
	if got := grid.Sample(ground, h.Spill); got != h.Level {
		t.Fatalf("the spill lies at %g m, the level is %g m\n%s", got, h.Level, grid.Print(ground))
	}
	x, y, _ := ground.Cell(h.Deepest)
	if got := h.Level - float64(ground.At(x, y)); got != h.Depth {
		t.Fatalf("the deepest cell is %g m deep, the hollow %g m", got, h.Depth)
	}
}

func TestGroundsWithoutHollows(t *testing.T) {
	for name, ground := range map[string]grid.Ground{
		"one cell":  grid.Parse("1"),
		"one row":   grid.Parse("3 1 2 0 5"),
		"all flat":  grid.Parse("2 2 2", "2 2 2", "2 2 2"),
		"a hole":    grid.Parse("9 9 9 9", "9 1 . 9", "9 9 9 9"),
		"no height": grid.Parse(". .", ". ."),
	} {
		if found, err := hollow.Find(context.Background(), ground, ground); err != nil || len(found) != 0 {
			t.Errorf("%s: found %v, error %v", name, found, err)
		}
	}
}

func TestFindRefuses(t *testing.T) {
	ground := grid.Parse("9 9 9 9", "9 1 2 9", "9 9 9 9")
	raised := ground.Clone()
	raised.Set(0, 1, 10)
	brimless := ground.Clone()
	brimless.Set(1, 1, 4)
	tests := []struct {
		name           string
		ground, filled grid.Ground
		want           string
	}{
		{"no cells", grid.Ground{}, grid.Ground{}, "needs one at least"},
		{"another size", ground, grid.Parse("1"), "lies on other cells"},
		{"a surface above the edge", ground, raised, "not this ground's own"},
		{"a level with no rim", ground, brimless, "not this ground's own"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := hollow.Find(context.Background(), test.ground, test.filled)
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("got error %v, want one with %q", err, test.want)
			}
		})
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := hollow.Find(ctx, ground, ground); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled run: got error %v", err)
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
	found := find(t, ground)
	if len(found) != 1 || len(found[0].Outline) != found[0].Cells {
		t.Fatalf("found %d hollows, want one with a part for each cell", len(found))
	}
	if slices.ContainsFunc(found[0].Outline, func(p orb.Polygon) bool { return len(p) != 1 || len(p[0]) != 5 }) {
		t.Error("a part is not a square")
	}
}
