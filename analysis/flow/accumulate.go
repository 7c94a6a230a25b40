package flow

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"

	"runnel/geo/grid"
)

// A LoopError reports water that comes back to where it began.
type LoopError struct{ X, Y int }

func (e *LoopError) Error() string {
	return fmt.Sprintf("water runs in a circle through column %d, row %d; work the directions out again from the ground", e.X, e.Y)
}

// Accumulate returns the sum of the weights of all cells that drain through
// each cell, itself included. A nil weight counts each cell's plan area [m²];
// otherwise weight holds one finite figure a cell, in any unit. Cells of no
// data come out as NaN, and their weights do not count.
//
// Sums are added up in one order, whatever the number of processors, so every run
// gives the same bits.
func Accumulate(ctx context.Context, dir grid.Grid[grid.Dir], weight []float64) (grid.Grid[float64], error) {
	a, err := startSums(dir, weight)
	if err != nil {
		return grid.Grid[float64]{}, fmt.Errorf("add up what drains through each cell: %w", err)
	}
	desks := make([]struct{}, min(runtime.GOMAXPROCS(0), len(a.bands)))
	if err := a.carry(ctx, desks); err != nil {
		return grid.Grid[float64]{}, err
	}
	for c, w := range a.waiting {
		if w&^ends != 0 {
			return grid.Grid[float64]{}, &LoopError{c % dir.W, c / dir.W}
		}
	}
	return a.sum, nil
}

// ends marks, beside the number of neighbours that have still to hand on their
// sums, a cell whose water goes no further.
const ends = 0x80

// sums are what drains through each cell, while it is added up.
type sums struct {
	dir     grid.Grid[grid.Dir]
	weight  []float64
	offset  [8]int
	sum     grid.Grid[float64]
	waiting []uint8
	bands   []sumBand
}

// bandRows is how many rows are added up at a time.
const bandRows = 256

// A sumBand is a band of rows [lo, hi) that one worker adds up, with what it hands
// on to the bands above and below, in turns.
type sumBand struct {
	lo, hi   int
	up, down [2][]handed
}

// handed is a sum for a cell of the next band.
type handed struct {
	cell int
	sum  float64
}

func startSums(dir grid.Grid[grid.Dir], weight []float64) (*sums, error) {
	switch {
	case dir.Check() != nil:
		return nil, dir.Check()
	case len(dir.V) != dir.Len():
		return nil, fmt.Errorf("the grid of %d by %d cells holds %d directions; it needs one a cell", dir.W, dir.H, len(dir.V))
	case weight != nil && len(weight) != len(dir.V):
		return nil, fmt.Errorf("%d weights are given for %d cells; give one a cell", len(weight), len(dir.V))
	}
	for c, d := range dir.V {
		if weight != nil && d != grid.NoDir && (math.IsNaN(weight[c]) || math.IsInf(weight[c], 0)) {
			return nil, fmt.Errorf("the weight at column %d, row %d is %g; give a number", c%dir.W, c/dir.W, weight[c])
		}
	}
	a := &sums{dir: dir, weight: weight, offset: dir.StepOffsets(), sum: grid.New[float64](dir.Frame), waiting: make([]uint8, len(dir.V))}
	for lo := 0; lo < dir.H; lo += bandRows {
		a.bands = append(a.bands, sumBand{lo: lo, hi: min(lo+bandRows, dir.H)})
	}
	return a, nil
}

// carry adds up each band by itself, as far as no other band is waited for, and
// then carries on what has crossed, until no more crosses.
func (a *sums) carry(ctx context.Context, desks []struct{}) error {
	err := each(ctx, a.bands, desks, func(b *sumBand, _ *struct{}) { a.startBand(b) })
	for now := 0; err == nil && slices.ContainsFunc(a.bands, func(b sumBand) bool { return len(b.up[now])+len(b.down[now]) > 0 }); now = 1 - now {
		err = each(ctx, a.bands, desks, func(b *sumBand, _ *struct{}) {
			next := 1 - now
			b.up[next], b.down[next] = b.up[next][:0], b.down[next][:0]
			var in []handed
			if b.lo > 0 {
				in = a.bands[b.lo/bandRows-1].down[now]
			}
			a.receive(b, in, next)
			if in = nil; b.hi < a.dir.H {
				in = a.bands[b.hi/bandRows].up[now]
			}
			a.receive(b, in, next)
		})
	}
	return err
}

// startBand gives each cell what it brings itself, counts the neighbours that
// drain straight into it, and walks from each source, a cell that nothing drains
// into ([Zhou2019]).
func (a *sums) startBand(b *sumBand) {
	w := a.dir.W
	own := a.dir.CellArea()
	for y := max(b.lo-1, 0); y < min(b.hi+1, a.dir.H); y++ {
		inside := y >= b.lo && y < b.hi
		for x, d := range a.dir.Row(y) {
			c := y*w + x
			n, ok := a.receiver(x, y, c, d)
			if ok && n >= b.lo*w && n < b.hi*w {
				a.waiting[n]++
			}
			if !inside {
				continue
			}
			if !ok {
				a.waiting[c] |= ends
			}
			switch {
			case d == grid.NoDir:
				a.sum.V[c] = math.NaN()
			case a.weight != nil:
				a.sum.V[c] = a.weight[c]
			default:
				a.sum.V[c] = own
			}
		}
	}
	sources := make([]int32, 0, (b.hi-b.lo)*w/2)
	for c := b.lo * w; c < b.hi*w; c++ {
		if a.waiting[c] == 0 {
			sources = append(sources, int32(c))
		}
	}
	for _, c := range sources {
		a.walk(b, int(c), 0)
	}
}

// receive adds what comes from the next band, and walks on.
func (a *sums) receive(b *sumBand, in []handed, next int) {
	for _, h := range in {
		a.sum.V[h.cell] += h.sum
		if a.waiting[h.cell]--; a.waiting[h.cell] == 0 {
			a.walk(b, h.cell, next)
		}
	}
}

// walk adds the sum of cell c to the cell below, and walks on from there if that
// was its last inflow.
func (a *sums) walk(b *sumBand, c, next int) {
	from, to := b.lo*a.dir.W, b.hi*a.dir.W
	for {
		n := c + a.offset[a.dir.V[c]]
		switch {
		case n < from:
			b.up[next] = append(b.up[next], handed{n, a.sum.V[c]})
			return
		case n >= to:
			b.down[next] = append(b.down[next], handed{n, a.sum.V[c]})
			return
		}
		a.sum.V[n] += a.sum.V[c]
		if a.waiting[n]--; a.waiting[n] != 0 {
			return
		}
		c = n
	}
}

// receiver is the function receiver, quicker for cells that are not at the edge.
func (a *sums) receiver(x, y, c int, d grid.Dir) (n int, ok bool) {
	if x == 0 || y == 0 || x == a.dir.W-1 || y == a.dir.H-1 || d > 7 {
		return receiver(a.dir, x, y)
	}
	n = c + a.offset[d]
	return n, a.dir.V[n] != grid.NoDir
}

// receiver returns the index of the cell that (x, y) drains into; ok is false
// when it has no direction, stays, or drains off the ground.
func receiver(dir grid.Grid[grid.Dir], x, y int) (n int, ok bool) {
	d := dir.At(x, y)
	if d > 7 {
		return 0, false
	}
	nx, ny := x+grid.StepX[d], y+grid.StepY[d]
	if !dir.In(nx, ny) || dir.At(nx, ny) == grid.NoDir {
		return 0, false
	}
	return ny*dir.W + nx, true
}
