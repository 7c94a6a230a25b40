package flow_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/analysis/synthetic"
	"runnel/geo/grid"
)

func TestAccumulate(t *testing.T) {
	tests := []struct {
		name         string
		ground, want grid.Ground
	}{{
		// Counts are the hand-made grid's own, plus 1 as a cell counts itself.
		name:   "a hollow flank gathers all its 25 cells at the middle of the south edge",
		ground: grid.Parse("9 9 9 9 9", "9 7 6 8 9", "9 6 4 5 9", "9 8 3 6 9", "9 9 1 9 9"),
		want:   grid.Parse("1 1 1 1 1", "1 2 4 2 1", "1 4 7 5 1", "1 2 19 3 1", "1 1 25 1 1"),
	}, {
		// A teaching grid printed in many texts, from memory, where a cell does not
		// count itself: 35 at the outlet.
		name: "the teaching grid gathers 36 cells",
		ground: grid.Parse(
			"78 72 69 71 58 49",
			"74 67 56 49 46 50",
			"69 53 44 37 38 48",
			"64 58 55 22 31 24",
			"68 61 47 21 16 19",
			"74 53 34 12 11 12"),
		want: grid.Parse(
			"1 1 1  1  1 1",
			"1 2 2  3  3 1",
			"1 4 8  6  5 1",
			"1 1 1 21  1 2",
			"1 1 1  2 25 1",
			"1 3 5  8 36 2"),
	}, {
		// The slopes fall 2 a cell to the side and 0.1 south: straight across is
		// steeper than (2 + 0.1)/√2, so each row hands 7 cells to the valley.
		name: "a valley gathers the seven cells of every row",
		ground: grid.Parse(
			"16 14 12 10 12 14 16",
			"15.9 13.9 11.9 9.9 11.9 13.9 15.9",
			"15.8 13.8 11.8 9.8 11.8 13.8 15.8",
			"15.7 13.7 11.7 9.7 11.7 13.7 15.7",
			"15.6 13.6 11.6 9.6 11.6 13.6 15.6"),
		want: grid.Parse("1 2 3 7 3 2 1", "1 2 3 14 3 2 1", "1 2 3 21 3 2 1", "1 2 3 28 3 2 1", "1 2 3 35 3 2 1"),
	}, {
		name:   "a plane falling east adds one cell a column",
		ground: grid.Parse("8 6 4 2 0", "8 6 4 2 0", "8 6 4 2 0"),
		want:   grid.Parse("1 2 3 4 5", "1 2 3 4 5", "1 2 3 4 5"),
	}, {
		// Falling to the south-east, cell (x, y) gathers its diagonal; the south and
		// east edges gather what reaches them and run to the corner.
		name:   "a plane falling to the south-east gathers along diagonals",
		ground: grid.Parse("8 7 6 5 4", "7 6 5 4 3", "6 5 4 3 2", "5 4 3 2 1", "4 3 2 1 0"),
		want:   grid.Parse("1 1 1 1 1", "1 2 2 2 3", "1 2 3 3 6", "1 2 3 4 10", "1 3 6 10 25"),
	}, {
		name:   "no data gathers nothing and counts for nothing",
		ground: grid.Parse("3 . 1"),
		want:   grid.Parse("1 . 1"),
	}}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, dir := route(t, test.ground)
			sum, err := flow.Accumulate(context.Background(), dir, nil)
			if err != nil {
				t.Fatal(err)
			}
			got := grid.New[float32](sum.Frame)
			for c, v := range sum.V {
				got.V[c] = float32(v)
			}
			if !sameHeights(got, test.want) {
				t.Errorf("got\n%swant\n%s", grid.Print(got), grid.Print(test.want))
			}
		})
	}
}

// Of a flat ringed by higher ground all 25 cells leave by its one way out.
func TestAFlatIsGatheredAlongItsMiddle(t *testing.T) {
	ground := grid.Parse(
		"9 9 9 9 9 9 9", "9 6 6 6 6 6 9", "9 6 6 6 6 6 9", "9 6 6 6 6 6 9",
		"9 6 6 6 6 6 9", "9 6 6 6 6 6 9", "9 9 9 5 9 9 9")
	weight := make([]float64, ground.Len())
	for c, z := range ground.V {
		if z == 6 {
			weight[c] = 1
		}
	}
	_, dir := route(t, ground)
	sum, err := flow.Accumulate(context.Background(), dir, weight)
	if err != nil {
		t.Fatal(err)
	}
	// The counts of the hand-worked case of TestDirections, with the cell itself.
	want := [][]float64{{1, 1, 1, 1, 1}, {1, 3, 2, 3, 1}, {1, 2, 9, 2, 1}, {1, 2, 14, 2, 1}, {1, 5, 15, 5, 1}}
	for y, row := range want {
		if got := sum.Row(y + 1)[1:6]; !slices.Equal(got, row) {
			t.Errorf("row %d of the flat: got %v, want %v", y, got, row)
		}
	}
	if got := sum.At(3, 6); got != 25 {
		t.Errorf("%g cells leave, want 25", got)
	}
}

// What drains through each cell solves the linear system of the network.
func TestAccumulateSolvesTheNetwork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := grounds().Draw(t, "ground")
		_, dir := route(t, ground)
		weight := make([]float64, ground.Len())
		for c := range weight {
			weight[c] = float64(rapid.IntRange(0, 9).Draw(t, "weight"))
		}
		got, err := flow.Accumulate(context.Background(), dir, weight)
		if err != nil {
			t.Fatal(err)
		}
		want := solve(dir, weight)
		fell, left := 0.0, 0.0
		for c, d := range dir.V {
			if d == grid.NoDir {
				if !math.IsNaN(got.V[c]) {
					t.Fatalf("no data gathers %g", got.V[c])
				}
				continue
			}
			if math.Abs(got.V[c]-want[c]) > 1e-9 {
				t.Fatalf("cell %d: got %g, want %g\n%s", c, got.V[c], want[c], ways(dir))
			}
			fell += weight[c]
			x, y := c%dir.W+grid.StepX[d], c/dir.W+grid.StepY[d]
			if !dir.In(x, y) || dir.At(x, y) == grid.NoDir {
				left += got.V[c]
			}
		}
		// Water is neither made nor lost.
		if fell != left {
			t.Fatalf("%g fell, %g leaves\n%s", fell, left, ways(dir))
		}
	})
}

func TestAreasAreSquareMetres(t *testing.T) {
	ground := grid.Parse("4 3 2 1")
	ground.DX, ground.DY = 2, 0.5
	_, dir := route(t, ground)
	sum, err := flow.Accumulate(context.Background(), dir, nil)
	if err != nil {
		t.Fatal(err)
	}
	if want := []float64{1, 2, 3, 4}; !slices.Equal(sum.V, want) {
		t.Errorf("got %v m², want %v", sum.V, want)
	}
}

func TestAccumulateRefuses(t *testing.T) {
	line := grid.Grid[grid.Dir]{Frame: grid.Square(3, 1, 0, 0, 1), V: []grid.Dir{2, 6, 6}}
	_, err := flow.Accumulate(context.Background(), line, nil)
	var loop *flow.LoopError
	if !errors.As(err, &loop) || loop.X != 0 || loop.Y != 0 {
		t.Errorf("water that runs in a circle: got error %v", err)
	}
	if cells := flow.Trace(line, 2, 0); len(cells) != 4 {
		t.Errorf("a circle was followed for %d cells, want one more than there are", len(cells))
	}
	_, err = flow.Accumulate(context.Background(), line, []float64{1})
	if err == nil || !strings.Contains(err.Error(), "1 weights are given for 3 cells") {
		t.Errorf("too few weights: got error %v", err)
	}
	_, err = flow.Accumulate(context.Background(), line, []float64{1, math.NaN(), 1})
	if err == nil || !strings.Contains(err.Error(), "column 1, row 0 is NaN") {
		t.Errorf("a weight that is no number: got error %v", err)
	}
	line.V = line.V[:2]
	if _, err = flow.Accumulate(context.Background(), line, nil); err == nil {
		t.Error("fewer directions than cells: got no error")
	}
	if _, err = flow.Accumulate(context.Background(), grid.Grid[grid.Dir]{}, nil); err == nil {
		t.Error("no cells: got no error")
	}
}

// On a ground of several bands sums do not depend on the processors, and plain
// areas are the counted cells.
func TestSumsAreTheSameBitsOnAnyNumberOfProcessors(t *testing.T) {
	f := routed(t, synthetic.Site(300, 900, 2))
	random := rand.New(rand.NewPCG(5, 6))
	weight := make([]float64, f.Dir.Len())
	for c := range weight {
		weight[c] = random.Float64()
	}
	var sums [2][]float64
	for i, processors := range []int{1, 4} {
		before := runtime.GOMAXPROCS(processors)
		sum, err := flow.Accumulate(context.Background(), f.Dir, weight)
		runtime.GOMAXPROCS(before)
		if err != nil {
			t.Fatal(err)
		}
		sums[i] = sum.V
	}
	if !slices.Equal(sums[0], sums[1]) {
		t.Error("the sums on one processor are not those on four")
	}
	area, err := flow.Accumulate(context.Background(), f.Dir, nil)
	if err != nil {
		t.Fatal(err)
	}
	for c, n := range f.Cells.V {
		if area.V[c] != float64(n) {
			t.Fatalf("cell %d gathers %g m² of cells of 1 m², and %d cells", c, area.V[c], n)
		}
	}
}
