package surface

import (
	"context"

	"runnel/analysis/flow"
	"runnel/analysis/internal/heap"
	"runnel/geo/grid"
	"runnel/geo/survey"
)

// drain lets out the hollows of g that no measurement asks for, in the manner of
// [Hutchinson1989] (from memory of the paper): the ground along the way out of a
// hollow, from its floor over its lowest pass to ground that is lower, is brought to
// fall all along, by as little as can be. Hutchinson solves the surface again with the
// way as a condition; here what the way moves is spread to the cells around it by
// averaging, with nothing moved where something was measured.
//
// A hollow is kept that covers a closed contour, or a spot or a point of a break well
// below its brim. No contour comes to lie further off than contourSlack, and no other
// measurement further than pointSlack, unless it was before. What is still a hollow
// after some rounds is filled to its brim, where that moves nothing measured.
//
// g is changed. It returns how many hollows were let out, and how many there are still.
func drain(ctx context.Context, g grid.Ground, s survey.Survey) (sunk, stayed int, err error) {
	d := &drainage{ground: g, held: hold(g, s)}
	first := -1
	for range drainRounds {
		count, err := d.find(ctx)
		if err != nil {
			return 0, 0, err
		}
		if first < 0 {
			first = count
		}
		if count == 0 || !d.lead() {
			break
		}
		d.spread()
	}
	if _, err := d.find(ctx); err != nil {
		return 0, 0, err
	}
	d.fill()
	left, err := d.find(ctx)
	if err != nil {
		return 0, 0, err
	}
	return max(first-left, 0), len(d.pools), nil
}

const (
	// drainRounds is how often the ways are looked for: each round uncovers hollows
	// that lay in those it let out.
	drainRounds = 5
	// longestWay is how far a way out is followed [cells].
	longestWay = 2000
)

// A drainage is the work of drain on one ground.
type drainage struct {
	ground grid.Ground
	held   held
	router flow.Router
	flow   *flow.Flow
	// pool is the place in pools of what covers a cell, and none elsewhere.
	pool  []int32
	pools []pool
	// shift is how far a cell on a way is to be moved [m]; ways lists those cells.
	shift []float32
	ways  []int32
	// part is what a cell is while changes are spread.
	part  []part
	queue heap.Queue
}

// A part is what a cell takes in the spreading of a change.
type part uint8

const (
	still part = iota
	moves
	onWay
)

const none int32 = -1

// A pool is the water of a hollow that has filled to its brim.
type pool struct {
	// pit is its lowest cell, and cells are all of them.
	pit   int32
	cells []int32
	brim  float32
	// kept is set where something measured asks for it.
	kept bool
}

// find looks for all pools and returns how many are not asked for.
func (d *drainage) find(ctx context.Context) (int, error) {
	if _, _, known := grid.Extent(d.ground); known == 0 {
		return 0, ctx.Err()
	}
	var err error
	if d.flow, err = d.router.Route(ctx, d.ground, flow.Options{}); err != nil {
		return 0, err
	}
	if d.pool == nil {
		n := d.ground.Len()
		d.pool, d.shift, d.part = make([]int32, n), make([]float32, n), make([]part, n)
	}
	for i := range d.pool {
		d.pool[i] = none
	}
	d.pools = d.pools[:0]
	for _, pit := range d.flow.Basins.Pit {
		if d.pool[pit] == none && d.flow.Filled.V[pit] > d.ground.V[pit] {
			d.pools = append(d.pools, d.flooded(pit))
		}
	}
	d.keep()
	count := 0
	for _, p := range d.pools {
		if !p.kept {
			count++
		}
	}
	return count, nil
}

// flooded returns the pool that covers a cell.
func (d *drainage) flooded(pit int32) pool {
	number := int32(len(d.pools))
	p := pool{pit: pit, cells: []int32{pit}, brim: d.flow.Filled.V[pit]}
	d.pool[pit] = number
	for i := 0; i < len(p.cells); i++ {
		c := p.cells[i]
		if d.ground.V[c] < d.ground.V[p.pit] {
			p.pit = c
		}
		for at := range d.around(c) {
			if d.pool[at] == none && d.flow.Filled.V[at] > d.ground.V[at] {
				d.pool[at] = number
				p.cells = append(p.cells, at)
			}
		}
	}
	return p
}

// around yields the neighbours of a cell, no data among them.
func (d *drainage) around(c int32) func(yield func(int32) bool) {
	x, y := int(c)%d.ground.W, int(c)/d.ground.W
	return func(yield func(int32) bool) {
		for i := range grid.StepX {
			nx, ny := x+grid.StepX[i], y+grid.StepY[i]
			if d.ground.In(nx, ny) && !yield(int32(ny*d.ground.W+nx)) {
				return
			}
		}
	}
}

// keep marks the pools that something measured asks for.
func (d *drainage) keep() {
	count := make([]int32, len(d.pools))
	for _, ring := range d.held.rings {
		for _, c := range ring {
			if p := d.pool[c]; p != none {
				count[p]++
			}
		}
		for _, c := range ring {
			if p := d.pool[c]; p != none {
				if float64(count[p]) >= ringShare*float64(len(ring)) {
					d.pools[p].kept = true
				}
				count[p] = 0
			}
		}
	}
	for _, low := range d.held.lows {
		if p := d.pool[low.cell]; p != none && float64(d.pools[p].brim)-low.z > low.clear {
			d.pools[p].kept = true
		}
	}
}

// ringShare is the share of a closed contour that lies under water where the hollow
// that it draws is full; the rest is for cells at its rim.
const ringShare = 0.9
