package surface

import (
	"cmp"
	"math"
	"slices"

	"runnel/analysis/flow"
)

// fall is how much the way out of a hollow falls from cell to cell, as a share of the
// cell: enough for water to see, and too little to be seen.
const fall = 2e-4

// lead finds the way out of each pool that is not asked for, and how far its cells are
// to move. It reports whether any is.
func (d *drainage) lead() bool {
	order := make([]int, 0, len(d.pools))
	for i, p := range d.pools {
		if !p.kept {
			order = append(order, i)
		}
	}
	// Water comes to the lower first.
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(d.pools[a].brim, d.pools[b].brim), cmp.Compare(d.pools[a].pit, d.pools[b].pit))
	})
	d.ways = d.ways[:0]
	for _, i := range order {
		way := d.way(d.pools[i])
		d.grade(way)
	}
	return len(d.ways) > 0
}

// height is that of a cell once it has moved.
func (d *drainage) height(c int32) float64 { return float64(d.ground.V[c]) + float64(d.shift[c]) }

// way returns the cells from a pool's pit over its pass to where the ground is lower.
func (d *drainage) way(p pool) []int32 {
	way := []int32{p.pit}
	floor, drop := d.height(p.pit), fall*d.ground.DX
	for c, k := p.pit, 1; k < longestWay; k++ {
		next, ok := flow.Next(d.flow.Dir, c)
		if !ok {
			break
		}
		c = next
		way = append(way, c)
		if d.height(c) < floor-drop*float64(k) && d.pool[c] != d.pool[p.pit] {
			break
		}
	}
	return way
}

// A block is cells of a way that come to lie on one line.
type block struct {
	sum, weight float64
	count       int
}

// grade moves the cells of a way by as little as makes it fall all along: the least
// squares of [Barlow1972], pools of cells that are averaged, within what measurements
// leave free. It does nothing where they leave no fall.
func (d *drainage) grade(way []int32) {
	drop := fall * d.ground.DX
	high, low := make([]float64, len(way)), make([]float64, len(way))
	var blocks []block
	for i, c := range way {
		// With the fall added, the way need only not rise.
		z := float64(d.ground.V[c]) + drop*float64(i)
		slack := d.held.slack(c)
		high[i], low[i] = z+slack, z-slack
		if i > 0 {
			high[i] = min(high[i], high[i-1])
		}
		weight := 1.0
		if !math.IsInf(slack, 1) {
			weight = measuredWeight
		}
		blocks = pooled(append(blocks, block{weight * (d.height(c) + drop*float64(i)), weight, 1}))
	}
	for i := len(way) - 2; i >= 0; i-- {
		low[i] = max(low[i], low[i+1])
	}
	for i := range way {
		if low[i] > high[i] {
			return
		}
	}
	i := 0
	for _, b := range blocks {
		for range b.count {
			d.move(way[i], min(max(b.sum/b.weight, low[i]), high[i])-drop*float64(i))
			i++
		}
	}
}

// measuredWeight is how much dearer it is to move a cell that was measured.
const measuredWeight = 20

// pooled makes one of the last blocks as long as the last lies above the one before.
func pooled(b []block) []block {
	for n := len(b) - 1; n > 0 && b[n].sum*b[n-1].weight > b[n-1].sum*b[n].weight; n-- {
		b[n-1] = block{b[n-1].sum + b[n].sum, b[n-1].weight + b[n].weight, b[n-1].count + b[n].count}
		b = b[:n]
	}
	return b
}

// move sets a cell to go to a height.
func (d *drainage) move(c int32, z float64) {
	if d.part[c] != onWay {
		d.part[c] = onWay
		d.ways = append(d.ways, c)
	}
	d.shift[c] = float32(z - float64(d.ground.V[c]))
}
