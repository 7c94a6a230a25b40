package surface

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// stripRows is how many rows a strip has. Rows of a strip are worked one after
// another; strips of the same parity are too far apart to see each other, so
// that any number of workers gives the same bits.
const stripRows = 16

// strips calls f on every step-th strip [lo, hi) of h rows from the first-th,
// shared among the processors, until the context ends.
func strips(ctx context.Context, h, first, step int, f func(lo, hi int)) {
	n := (h + stripRows - 1) / stripRows
	var next atomic.Int64
	next.Store(int64(first))
	work := func() {
		for ctx.Err() == nil {
			s := int(next.Add(int64(step))) - step
			if s >= n {
				return
			}
			f(s*stripRows, min((s+1)*stripRows, h))
		}
	}
	var others sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), (n-first+step-1)/step) - 1 {
		others.Go(work)
	}
	work()
	others.Wait()
}

// all calls f on every strip.
func all(ctx context.Context, h int, f func(lo, hi int)) { strips(ctx, h, 0, 1, f) }

// sum adds up what f returns of each row, always in the same order.
func sum(ctx context.Context, h int, f func(y int) float64) float64 {
	part := make([]float64, h)
	all(ctx, h, func(lo, hi int) {
		for y := lo; y < hi; y++ {
			part[y] = f(y)
		}
	})
	total := 0.0
	for _, p := range part {
		total += p
	}
	return total
}
