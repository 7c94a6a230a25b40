package flow_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/geo/grid"
)

// inletsOf draws inlets of a ground.
func inletsOf(t *rapid.T, ground grid.Ground) []int32 {
	return rapid.SliceOfN(rapid.Int32Range(0, int32(ground.Len()-1)), 0, 3).Draw(t, "inlets")
}

// differs tells where two answers differ, "" for nowhere.
func differs(got, want *flow.Flow) string {
	for c := range want.Dir.V {
		x, y := c%want.Dir.W, c/want.Dir.W
		switch {
		case got.Fall.V[c] != want.Fall.V[c]:
			return fmt.Sprintf("column %d, row %d falls %d, want %d", x, y, got.Fall.V[c], want.Fall.V[c])
		case got.Filled.V[c] != want.Filled.V[c] && !grid.IsNoData(want.Filled.V[c]):
			return fmt.Sprintf("column %d, row %d is filled to %g, want %g", x, y, got.Filled.V[c], want.Filled.V[c])
		case got.Dir.V[c] != want.Dir.V[c]:
			return fmt.Sprintf("column %d, row %d drains %d, want %d", x, y, got.Dir.V[c], want.Dir.V[c])
		case got.Cells.V[c] != want.Cells.V[c]:
			return fmt.Sprintf("column %d, row %d counts %d, want %d", x, y, got.Cells.V[c], want.Cells.V[c])
		}
	}
	if !slices.Equal(got.Basins.Pit, want.Basins.Pit) {
		return fmt.Sprintf("the pits are %d, want %d", got.Basins.Pit, want.Basins.Pit)
	}
	for b, way := range want.Basins.Way {
		if got.Basins.Way[b] != way {
			return fmt.Sprintf("basin %d is left by %+v, want %+v", b, got.Basins.Way[b], way)
		}
	}
	return ""
}

func TestRouteIsThePlainRoute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := grounds().Draw(t, "ground")
		inlets := inletsOf(t, ground)
		rows := rapid.SampledFrom([]int{0, 1, 2, 3}).Draw(t, "rows")
		got, err := flow.NewRouter(rows, rapid.IntRange(1, 3).Draw(t, "workers")).Route(context.Background(), ground, flow.Options{Inlets: inlets})
		if err != nil {
			t.Fatal(err)
		}
		want := flow.RoutePlainly(ground, inlets, false)
		if problem := differs(got, want); problem != "" {
			t.Fatalf("%s\nground\n%s\nfalls\n%s\nways\n%s\n%+v\n%+v", problem, grid.Print(ground), ways(want.Fall), ways(want.Dir), got.Basins, want.Basins)
		}
	})
}

// Rows longer than a machine word, rough and with some of it level.
func TestWideGroundsRouteAsThePlainWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(50, 200).Draw(t, "w"), rapid.IntRange(3, 12).Draw(t, "h")
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		ground := grid.New[float32](grid.Square(w, h, 0, 0, 1))
		heights := rapid.SampledFrom([]int{3, 10, 1000}).Draw(t, "heights")
		for c := range ground.V {
			ground.V[c] = float32(random.IntN(heights))
			if random.IntN(200) == 0 {
				ground.V[c] = grid.NoData
			}
		}
		rows := rapid.SampledFrom([]int{0, 1, 4}).Draw(t, "rows")
		got, err := flow.NewRouter(rows, 2).Route(context.Background(), ground, flow.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if problem := differs(got, flow.RoutePlainly(ground, nil, false)); problem != "" {
			t.Fatalf("%s\nground\n%s", problem, grid.Print(ground))
		}
	})
}

// Where no two cells are level there is one minimum spanning tree of all passes
// between neighbours, and the saddles must give that.
func TestWhereNothingIsLevelTheSaddlesGiveTheTreeOfAllPasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := grounds().Draw(t, "ground")
		for c, order := range rapid.Permutation(indexes(ground.Len())).Draw(t, "order") {
			if !grid.IsNoData(ground.V[c]) {
				ground.V[c] = float32(order)
			}
		}
		rows := rapid.SampledFrom([]int{0, 1, 2, 3}).Draw(t, "rows")
		got, err := flow.NewRouter(rows, 2).Route(context.Background(), ground, flow.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if problem := differs(got, flow.RoutePlainly(ground, nil, true)); problem != "" {
			t.Fatalf("%s\nground\n%s", problem, grid.Print(ground))
		}
	})
}

func indexes(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// The laws that hold of every answer.
func TestTheLawsOfRouting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := grounds().Draw(t, "ground")
		inlets := inletsOf(t, ground)
		f, err := flow.Route(context.Background(), ground, flow.Options{Inlets: inlets})
		if err != nil {
			t.Fatal(err)
		}
		left, known := uint32(0), uint32(0)
		for c, z := range ground.V {
			if grid.IsNoData(z) {
				continue
			}
			known++
			falls, runs := flow.Trace(f.Fall, c%ground.W, c/ground.W), flow.Trace(f.Dir, c%ground.W, c/ground.W)
			if len(falls) > ground.Len() || len(runs) > ground.Len() {
				t.Fatalf("from cell %d water never ends\n%s\n%s", c, ways(f.Fall), ways(f.Dir))
			}
			end := runs[len(runs)-1]
			if f.Dir.V[end] == grid.Stay && !slices.Contains(inlets, end) {
				t.Fatalf("from cell %d water stays at %d, which is no inlet", c, end)
			}
			if end == int32(c) {
				left += f.Cells.V[c]
			}
			for i, n := range runs[1:] {
				if f.Filled.V[n] > f.Filled.V[runs[i]] {
					t.Fatalf("water rises from cell %d to %d", runs[i], n)
				}
			}
			if f.Dir.V[c] == f.Fall.V[c] {
				continue
			}
			b, found := slices.BinarySearch(f.Basins.Pit, falls[len(falls)-1])
			if !found || f.Filled.V[c] != f.Basins.Way[b].Level {
				t.Fatalf("cell %d, which its hollow does not reach, is not left the way it falls", c)
			}
		}
		if left != known {
			t.Fatalf("%d of %d cells leave", left, known)
		}
	})
}

// Turned by a right angle, the ground fills as before.
func TestTurningTheGroundTurnsTheFilledSurface(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := grounds().Draw(t, "ground")
		if got, want := routed(t, turned(ground)).Filled, turned(routed(t, ground).Filled); !sameHeights(got, want) {
			t.Fatalf("got\n%swant\n%s", grid.Print(got), grid.Print(want))
		}
	})
}

// turned is g turned by a right angle, clockwise.
func turned(g grid.Ground) grid.Ground {
	f := g.Frame
	f.W, f.H, f.DX, f.DY = g.H, g.W, g.DY, g.DX
	out := grid.New[float32](f)
	for y := range g.H {
		for x := range g.W {
			out.Set(g.H-1-y, x, g.At(x, y))
		}
	}
	return out
}

// A Router's memory of one ground does not show in the answer to the next.
func TestARouterGivesTheSameTheSecondTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		router := flow.NewRouter(rapid.IntRange(1, 3).Draw(t, "rows"), 2)
		for range 3 {
			ground := grounds().Draw(t, "ground")
			got, err := router.Route(context.Background(), ground, flow.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if problem := differs(got, routed(t, ground)); problem != "" {
				t.Fatalf("%s\nground\n%s", problem, grid.Print(ground))
			}
		}
	})
}

// Heights of every size, from the least to the greatest there are, and cells of
// any shape.
func TestGroundsOfExtremeHeights(t *testing.T) {
	sizes := []float32{0, float32(math.Copysign(0, -1)), 1e-45, -1e-45, 1e-7, 3e-7, -1e-6, 0.5, 8848, -10994, 16384, -16384, 1e30, -1e30, math.MaxFloat32}
	rapid.Check(t, func(t *rapid.T) {
		ground := grounds().Draw(t, "ground")
		for c, z := range ground.V {
			if !grid.IsNoData(z) && rapid.Bool().Draw(t, "extreme") {
				ground.V[c] = rapid.SampledFrom(sizes).Draw(t, "z")
			}
		}
		got := routed(t, ground)
		if problem := differs(got, flow.RoutePlainly(ground, nil, false)); problem != "" {
			t.Fatalf("%s\nground\n%s", problem, grid.Print(ground))
		}
	})
}
