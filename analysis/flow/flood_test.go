package flow

import (
	"runnel/analysis/internal/heap"
	"runnel/geo/grid"
)

// fillByFlood returns the filled surface of g by priority flood ([Barnes2014],
// algorithm 2), with one change: cells below the flood wait in a stack and not in
// a first-in-first-out queue, as they all come to one level.
func fillByFlood(g grid.Ground) grid.Ground {
	g = g.Clone()
	var (
		z      = g.V
		done   = make([]bool, len(z))
		offset = g.StepOffsets()
		queue  heap.Queue
		pond   []int32 // cells brought up to the level of the flood, still to be looked around
	)
	startFlood(g, done, &queue)
	for {
		var c int
		switch last := len(pond) - 1; {
		case last >= 0:
			c, pond = int(pond[last]), pond[:last]
		case queue.Len() > 0:
			c = int(queue.Pop())
		default:
			return g
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
