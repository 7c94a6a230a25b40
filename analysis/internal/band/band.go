// Package band shares the rows of a grid among the processors.
package band

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// rows is how many rows a worker takes at a time: long enough that taking them
// costs nothing, short enough that a cancelled run stops within a tenth of a second.
const rows = 64

// Rows calls f on bands [lo, hi) that together cover [0, n), from one worker a
// processor, and returns the context's error if it ended first. f must write
// only what its own band owns; then any number of workers gives the same answer.
func Rows(ctx context.Context, n int, f func(lo, hi int)) error {
	var next atomic.Int64
	work := func() {
		for ctx.Err() == nil {
			lo := int(next.Add(rows)) - rows
			if lo >= n {
				return
			}
			f(lo, min(lo+rows, n))
		}
	}
	var others sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), (n+rows-1)/rows) - 1 {
		others.Go(work)
	}
	work()
	others.Wait()
	return ctx.Err()
}
