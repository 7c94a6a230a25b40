package flow

import (
	"context"
	"fmt"
	"slices"

	"runnel/geo/grid"
)

// A flat is one set of level cells joined by sides or corners, with the cells of
// the same height around it that have a direction already: its ways out.
//
// None of its level cells touches the edge or no data, as such cells are outlets;
// so all eight neighbours of a level cell exist and have heights.
type flat struct {
	cells []int32 // the level cells, then the ways out
	level int     // how many of cells are level
	// place is 1 + a cell's position in cells, 0 for cells not in the flat. It
	// covers the whole grid and is cleared between flats.
	place []int32
	// away counts steps from the nearest cell beside higher ground, which has 1,
	// and toward those to the nearest way out, which has 1; 0 is not reached.
	away, toward []int32
	queue        []int32 // positions in cells that a sweep has reached
}

// crossFlats gives every level cell a direction by the two gradients of
// [GarbrechtMartz1997], each found in one sweep as in [Barnes2014flats].
func (r *router) crossFlats(ctx context.Context) error {
	var f flat
	for c := range r.dir.V {
		if c%poll == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if r.dir.V[c] != unsettled {
			continue
		}
		if f.place == nil {
			f.place = make([]int32, len(r.dir.V))
		}
		if err := r.gather(ctx, &f, int32(c)); err != nil {
			return err
		}
		if f.level == len(f.cells) {
			return fmt.Errorf("find the ways of the water: the flat at column %d, row %d has no way out; fill the ground first",
				c%r.ground.W, c/r.ground.W)
		}
		if err := r.cross(ctx, &f); err != nil {
			return err
		}
	}
	return nil
}

// gather puts into f the flat that holds the level cell first.
func (r *router) gather(ctx context.Context, f *flat, first int32) error {
	for _, c := range f.cells {
		f.place[c] = 0
	}
	f.cells, f.level = f.cells[:0], 0
	f.add(first)
	for ; f.level < len(f.cells); f.level++ {
		if f.level%poll == poll-1 && ctx.Err() != nil {
			return ctx.Err()
		}
		c := int(f.cells[f.level])
		for _, off := range r.offset {
			// A level cell beside another is always as high.
			if n := c + off; f.place[n] == 0 && r.dir.V[n] == unsettled {
				f.add(int32(n))
			}
		}
	}
	for _, c := range f.cells[:f.level] {
		height := r.filled.V[c]
		for _, off := range r.offset {
			if n := int(c) + off; f.place[n] == 0 && r.filled.V[n] == height {
				f.add(int32(n))
			}
		}
	}
	return nil
}

func (f *flat) add(c int32) {
	f.cells = append(f.cells, c)
	f.place[c] = int32(len(f.cells))
}

// cross sets the directions of the flat's level cells.
func (r *router) cross(ctx context.Context, f *flat) error {
	f.away = zeros(f.away, len(f.cells))
	f.toward = zeros(f.toward, len(f.cells))

	// The gradient away from higher ground.
	f.queue = f.queue[:0]
	for i, c := range f.cells[:f.level] {
		if r.besideHigher(c) {
			f.away[i] = 1
			f.queue = append(f.queue, int32(i))
		}
	}
	if err := r.spread(ctx, f, f.away); err != nil {
		return err
	}

	// The gradient toward the ways out.
	f.queue = f.queue[:0]
	for i := f.level; i < len(f.cells); i++ {
		f.toward[i] = 1
		f.queue = append(f.queue, int32(i))
	}
	if err := r.spread(ctx, f, f.toward); err != nil {
		return err
	}

	r.follow(f)
	return nil
}

// zeros returns s, or a longer slice in its stead, as n noughts.
func zeros(s []int32, n int) []int32 {
	s = slices.Grow(s[:0], n)[:n]
	clear(s)
	return s
}

// besideHigher reports whether cell c has a neighbour that is higher on the
// filled surface.
func (r *router) besideHigher(c int32) bool {
	for _, off := range r.offset {
		if r.filled.V[int(c)+off] > r.filled.V[c] {
			return true
		}
	}
	return false
}

// spread counts steps from the queued cells through the level cells of f.
func (r *router) spread(ctx context.Context, f *flat, steps []int32) error {
	for head := 0; head < len(f.queue); head++ {
		if head%poll == poll-1 && ctx.Err() != nil {
			return ctx.Err()
		}
		i := f.queue[head]
		c := int(f.cells[i])
		for _, off := range r.offset {
			n := c + off
			if uint(n) >= uint(len(f.place)) { // a way out may lie at the edge
				continue
			}
			j := f.place[n] - 1
			if j >= 0 && int(j) < f.level && steps[j] == 0 {
				steps[j] = steps[i] + 1
				f.queue = append(f.queue, j)
			}
		}
	}
	return nil
}

// follow lays the gradient away from higher ground on twice that toward the ways
// out, and points each level cell down the steepest way on the sum.
//
// The sum falls by one at least from a cell to some neighbour one step nearer to
// a way out: twice 1, less the 1 by which away can differ between neighbours.
func (r *router) follow(f *flat) {
	most := slices.Max(f.away)
	sum := f.toward
	for i := range sum {
		sum[i] *= 2
		if f.away[i] > 0 {
			sum[i] += most - f.away[i]
		}
	}
	for i, c := range f.cells[:f.level] {
		best, steepest := grid.NoDir, 0.0
		for d, off := range r.offset {
			j := f.place[int(c)+off] - 1
			if j < 0 {
				continue
			}
			if fall := float64(sum[i]-sum[j]) * r.perMetre[d]; fall > steepest {
				best, steepest = grid.Dir(d), fall
			}
		}
		r.dir.V[c] = best
	}
}
