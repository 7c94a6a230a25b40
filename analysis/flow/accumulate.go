package flow

import (
	"context"
	"fmt"
	"math"

	"runnel/geo/grid"
)

// A LoopError reports water that comes back to where it began.
type LoopError struct{ X, Y int }

func (e *LoopError) Error() string {
	return fmt.Sprintf("water runs in a circle through column %d, row %d; work the directions out again from the ground", e.X, e.Y)
}

// The state of a cell while sums are carried down: how many neighbours have
// still to bring theirs, or that it has been carried on.
const carried = 0xFF

// Accumulate returns the sum of the weights of all cells that drain through
// each cell, itself included. A nil weight counts each cell's plan area [m²];
// otherwise weight holds one finite figure a cell, in any unit. Cells of no
// data come out as NaN, and their weights do not count.
func Accumulate(ctx context.Context, dir grid.Grid[grid.Dir], weight []float64) (grid.Grid[float64], error) {
	sum, err := startSums(dir, weight)
	if err != nil {
		return grid.Grid[float64]{}, fmt.Errorf("add up what drains through each cell: %w", err)
	}
	waiting := countInflows(dir)
	if err := carry(ctx, dir, waiting, sum.V); err != nil {
		return grid.Grid[float64]{}, err
	}
	for c, w := range waiting {
		if w != carried && dir.V[c] < 8 {
			return grid.Grid[float64]{}, &LoopError{c % dir.W, c / dir.W}
		}
	}
	return sum, nil
}

// startSums returns what each cell brings itself.
func startSums(dir grid.Grid[grid.Dir], weight []float64) (grid.Grid[float64], error) {
	sum := grid.Grid[float64]{Frame: dir.Frame}
	switch {
	case dir.Check() != nil:
		return sum, dir.Check()
	case len(dir.V) != dir.Len():
		return sum, fmt.Errorf("the grid of %d by %d cells holds %d directions; it needs one a cell", dir.W, dir.H, len(dir.V))
	case weight != nil && len(weight) != len(dir.V):
		return sum, fmt.Errorf("%d weights are given for %d cells; give one a cell", len(weight), len(dir.V))
	}
	sum = grid.New[float64](dir.Frame)
	own := dir.CellArea()
	for c, d := range dir.V {
		if d > 7 {
			sum.V[c] = math.NaN()
			continue
		}
		if weight != nil {
			own = weight[c]
			if math.IsNaN(own) || math.IsInf(own, 0) {
				return sum, fmt.Errorf("the weight at column %d, row %d is %g; give a number", c%dir.W, c/dir.W, own)
			}
		}
		sum.V[c] = own
	}
	return sum, nil
}

// countInflows returns how many neighbours drain straight into each cell.
func countInflows(dir grid.Grid[grid.Dir]) []uint8 {
	waiting := make([]uint8, len(dir.V))
	for y := range dir.H {
		for x := range dir.W {
			if n, ok := receiver(dir, x, y); ok {
				waiting[n]++
			}
		}
	}
	return waiting
}

// receiver returns the index of the cell that (x, y) drains into; ok is false
// when it has no direction or drains off the ground.
func receiver(dir grid.Grid[grid.Dir], x, y int) (n int, ok bool) {
	d := dir.At(x, y)
	if d > 7 {
		return 0, false
	}
	nx, ny := x+grid.StepX[d], y+grid.StepY[d]
	if !dir.In(nx, ny) || dir.At(nx, ny) > 7 {
		return 0, false
	}
	return ny*dir.W + nx, true
}

// carry walks from each source, a cell that nothing drains into, and adds its sum
// to the cell below; the last inflow of a cell walks on from there ([Zhou2019]).
// So sums add up in one order, and every run gives the same bits.
func carry(ctx context.Context, dir grid.Grid[grid.Dir], waiting []uint8, sum []float64) error {
	steps := 0
	for source := range dir.V {
		for c := source; waiting[c] == 0; steps++ {
			if steps%poll == 0 && ctx.Err() != nil {
				return ctx.Err()
			}
			waiting[c] = carried
			n, ok := receiver(dir, c%dir.W, c/dir.W)
			if !ok {
				break
			}
			sum[n] += sum[c]
			waiting[n]--
			c = n
		}
	}
	return nil
}
