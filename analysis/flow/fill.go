package flow

import (
	"context"
	"errors"
	"fmt"

	"runnel/analysis/internal/heap"
	"runnel/geo/grid"
)

// poll is how many cells a serial pass takes between looks at its context.
const poll = 1 << 16

// Fill returns the lowest surface [m] that is nowhere below the ground and from
// whose every cell water runs, never upward, to the edge or to no data.
func Fill(ctx context.Context, ground grid.Ground) (grid.Ground, error) {
	if err := check(ground); err != nil {
		return grid.Ground{}, fmt.Errorf("fill the hollows: %w", err)
	}
	filled := ground.Clone()
	if err := flood(ctx, filled); err != nil {
		return grid.Ground{}, err
	}
	return filled, nil
}

// check reports a ground that water cannot be routed over.
func check(ground grid.Ground) error {
	if err := ground.Check(); err != nil {
		return err
	}
	if len(ground.V) != ground.Len() {
		return fmt.Errorf("the grid of %d by %d cells holds %d heights; it needs one a cell", ground.W, ground.H, len(ground.V))
	}
	for _, z := range ground.V {
		if !grid.IsNoData(z) {
			return nil
		}
	}
	return errors.New("no cell of the ground has a height; choose a ground that covers the site")
}

// flood raises g to its filled surface by priority flood ([Barnes2014],
// algorithm 2), with one change: cells below the flood wait in a stack and not in
// a first-in-first-out queue, as they all come to one level.
func flood(ctx context.Context, g grid.Ground) error {
	var (
		z      = g.V
		done   = make([]bool, len(z))
		offset = g.StepOffsets()
		queue  heap.Queue
		pond   []int32 // cells brought up to the level of the flood, still to be looked around
	)
	startFlood(g, done, &queue)
	for count := 0; ; count++ {
		if count%poll == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		var c int
		switch last := len(pond) - 1; {
		case last >= 0:
			c, pond = int(pond[last]), pond[:last]
		case queue.Len() > 0:
			c = int(queue.Pop())
		default:
			return nil
		}
		level := z[c]
		for _, off := range offset {
			n := c + off
			// A step off the west or east side lands on another edge cell, and those
			// are all done from the start; only the array's ends need a look.
			if uint(n) >= uint(len(done)) || done[n] {
				continue
			}
			done[n] = true
			if z[n] <= level {
				z[n] = level
				pond = append(pond, int32(n))
				continue
			}
			queue.Push(z[n], int32(n))
		}
	}
}

// startFlood queues the outlets, the cells at the edge and beside no data, and
// marks them and the cells of no data as done.
func startFlood(g grid.Ground, done []bool, queue *heap.Queue) {
	queue.Grow(2 * (g.W + g.H))
	for y := range g.H {
		for x, z := range g.Row(y) {
			c := y*g.W + x
			switch {
			case grid.IsNoData(z):
				done[c] = true
			case isOutlet(g, x, y):
				done[c] = true
				queue.Push(z, int32(c))
			}
		}
	}
}

// isOutlet reports whether (x, y) lies at the edge or beside no data.
func isOutlet(g grid.Ground, x, y int) bool {
	if x == 0 || y == 0 || x == g.W-1 || y == g.H-1 {
		return true
	}
	c := y*g.W + x
	for row := c - g.W; row <= c+g.W; row += g.W {
		// The sum of three heights is NaN when one of them is.
		if sum := g.V[row-1] + g.V[row] + g.V[row+1]; sum != sum {
			return true
		}
	}
	return false
}
