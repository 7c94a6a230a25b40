package flow

import (
	"context"
	"math/bits"
	"slices"

	"runnel/geo/grid"
)

// crossFlats points the level cells of each strip, and then those of the flats
// that lie in several, and lists the pits.
func (r *Router) crossFlats(ctx context.Context) error {
	if err := r.eachDue(ctx, r.crossStrip); err != nil {
		return err
	}
	var first []int32 // of each flat, with others of its cells
	for _, i := range r.due {
		first = append(first, r.strips[i].cross...)
	}
	for _, o := range r.opened {
		first = append(first, o.cell)
	}
	slices.Sort(first)
	var grown []*strip
	for i, c := range first {
		if i%1024 == 0 {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			r.space.Release()
		}
		if r.flow.Fall.V[c] != unsettled {
			continue
		}
		if err := r.overAll(); err != nil {
			return err
		}
		r.crossFlat(&r.lake, c)
		if s := r.stripAt(int(c) / r.flow.Fall.W); r.flow.Fall.V[c] == grid.Stay {
			s.pit = append(s.pit, c)
			grown = append(grown, s)
		}
	}
	for _, s := range slices.Compact(grown) {
		slices.Sort(s.pit)
	}
	return nil
}

func (r *Router) crossStrip(s *strip, d *desk) {
	from, to := r.cells(s)
	d.flat.over(from, to)
	dir := r.flow.Fall.V
	single := len(s.pit)
	s.cross = s.cross[:0]
	for _, c := range s.level {
		if dir[c] != unsettled || d.flat.place[int(c)-from] != 0 {
			continue
		}
		if r.crossAlone(int(c)) {
			continue
		}
		if !r.crossFlat(&d.flat, c) {
			s.cross = append(s.cross, c)
		} else if dir[c] == grid.Stay {
			s.pit = append(s.pit, c)
		}
	}
	d.flat.forget()
	if len(s.pit) > single {
		slices.Sort(s.pit)
	}
}

// A flat is one set of level cells, joined by sides or corners. None of them
// touches the edge or no data, as such cells are outlets; so all eight neighbours
// of a level cell exist and have heights.
//
// The order of a flat's cells, their rise, is by the two gradients of
// [GarbrechtMartz1997], each found in one sweep as in [Barnes2014flats]: away from
// higher ground, and, twice as strong, toward the ways out.
type flat struct {
	base  int  // the first cell that the flat may hold
	floor bool // whether the flat is a pit's floor, that is left by its first cell
	// place is, of each cell from base on, 1 + its position in cells, 0 for cells
	// not in the flat and -1 for those of flats that were left aside.
	place []int32
	aside []int32 // the cells with place -1
	cells []int32
	// near and exit have a bit for each neighbour in the flat, and for each as high
	// that is not.
	near, exit []uint8
	// away and toward are steps from the cells next to higher ground, and to those
	// next to a way out, which have 1; 0 is not reached. In the end toward is the rise.
	away, toward []int32
	queue        []int32 // positions in cells that a sweep has reached
	rim, gate    []int32 // positions of the cells next to higher ground and to a way out
}

// over makes f ready for flats of the cells [from, to).
func (f *flat) over(from, to int) {
	f.base = from
	if cap(f.place) < to-from {
		f.place = make([]int32, to-from)
	}
	f.place = f.place[:to-from]
}

// forget takes the flats left aside out of place.
func (f *flat) forget() {
	for _, c := range f.aside {
		f.place[int(c)-f.base] = 0
	}
	f.aside = f.aside[:0]
}

// clear takes the flat out of place.
func (f *flat) clear() {
	for _, c := range f.cells {
		f.place[int(c)-f.base] = 0
	}
}

// has reports whether f covers cell c.
func (f *flat) has(c int) bool { return uint(c-f.base) < uint(len(f.place)) }

func (f *flat) add(c int32) {
	f.cells = append(f.cells, c)
	f.place[int(c)-f.base] = int32(len(f.cells))
}

// crossAlone is crossFlat for a level cell that is a flat of its own, with
// nothing but ways out around it, as every other flat is. It reports false for
// other cells.
func (r *Router) crossAlone(c int) bool {
	dir, w := r.flow.Fall.V, r.flow.Fall.W
	exits := ^higherAround(r.flow.Ground.V, c, w)
	best, nearest := grid.NoDir, 0.0
	for ways := exits; ways != 0; ways &= ways - 1 {
		d := bits.TrailingZeros8(ways) & 7
		if dir[c+r.offset[d]] == unsettled {
			return false
		}
		if r.perMetre[d] > nearest {
			best, nearest = grid.Dir(d), r.perMetre[d]
		}
	}
	dir[c] = best
	r.markOrder(c, exits)
	return true
}

// crossFlat points the cells of the flat that holds the level cell first, and
// notes in r.plane how its cells lie to each other. A flat with no way out is a
// pit: its water makes for first. It reports false, and leaves the flat aside,
// where f does not cover all of it.
func (r *Router) crossFlat(f *flat, first int32) bool {
	f.floor = false
	if !r.gather(f, first) {
		for _, c := range f.cells {
			f.place[int(c)-f.base] = -1
		}
		f.aside = append(f.aside, f.cells...)
		return false
	}
	if len(f.gate) > 0 {
		r.spread(f, f.gate, &f.toward)
		r.superpose(f)
		r.follow(f, r.flow.Fall.V)
	} else {
		f.gate = append(f.gate, 0)
		r.spread(f, f.gate, &f.toward)
		for i := range f.toward {
			f.toward[i]--
		}
		r.follow(f, r.flow.Fall.V)
		r.flow.Fall.V[first] = grid.Stay
	}
	r.orderFlat(f)
	f.clear()
	return true
}

// gather puts into f the flat that holds first, and reports whether f covers it.
func (r *Router) gather(f *flat, first int32) bool {
	z, dir := r.flow.Ground.V, r.flow.Fall.V
	f.cells, f.rim, f.gate, f.near, f.exit = f.cells[:0], f.rim[:0], f.gate[:0], f.near[:0], f.exit[:0]
	if !f.has(int(first)) {
		return false
	}
	f.add(first)
	covered := true
	for i := 0; i < len(f.cells); i++ {
		c := int(f.cells[i])
		higher := higherAround(z, c, r.flow.Ground.W)
		var near, exit uint8
		for level := ^higher; level != 0; level &= level - 1 {
			d := bits.TrailingZeros8(level) & 7
			n := c + r.offset[d]
			switch {
			case !f.floor && dir[n] != unsettled:
				exit |= 1 << d
			case !f.has(n):
				covered = false
			default:
				near |= 1 << d
				if f.place[n-f.base] == 0 {
					f.add(int32(n))
				}
			}
		}
		if higher != 0 {
			f.rim = append(f.rim, int32(i))
		}
		if exit != 0 {
			f.gate = append(f.gate, int32(i))
		}
		f.near, f.exit = append(f.near, near), append(f.exit, exit)
	}
	return covered
}

// higherAround returns a bit for each neighbour of an inside cell that is higher.
func higherAround(z []float32, c, w int) uint8 {
	up, mid, down := z[c-w-1:][:3], z[c-1:][:3], z[c+w-1:][:3]
	z0 := mid[1]
	return higher(up[1], z0) | higher(up[2], z0)<<1 | higher(mid[2], z0)<<2 | higher(down[2], z0)<<3 |
		higher(down[1], z0)<<4 | higher(down[0], z0)<<5 | higher(mid[0], z0)<<6 | higher(up[0], z0)<<7
}

// higher is 1 where a is higher than b; in this form it takes no branch.
func higher(a, b float32) uint8 {
	var bit uint8
	if a > b {
		bit = 1
	}
	return bit
}

// superpose makes rises of the steps toward the ways out.
//
// A rise is less by one at least in some neighbour one step nearer to a way out:
// twice 1, less the 1 by which away can differ between neighbours.
func (r *Router) superpose(f *flat) {
	r.spread(f, f.rim, &f.away)
	most := slices.Max(f.away)
	for i, away := range f.away {
		f.toward[i] *= 2
		if away > 0 {
			f.toward[i] += most - away
		}
	}
}

// spread counts steps from the given positions, which have 1, through the flat.
func (r *Router) spread(f *flat, from []int32, steps *[]int32) {
	count := resize(*steps, len(f.cells))
	clear(count)
	f.queue = append(f.queue[:0], from...)
	for _, i := range from {
		count[i] = 1
	}
	for head := 0; head < len(f.queue); head++ {
		i := f.queue[head]
		at, next := int(f.cells[i])-f.base, count[i]+1
		for near := f.near[i]; near != 0; near &= near - 1 {
			j := f.place[at+r.offset[bits.TrailingZeros8(near)&7]] - 1
			if count[j] == 0 {
				count[j] = next
				f.queue = append(f.queue, j)
			}
		}
	}
	*steps = count
}

// follow points each cell of the flat down the steepest way on the rises, and
// leaves in f.near which neighbours as high have a lower rise.
func (r *Router) follow(f *flat, dir []grid.Dir) {
	for i, c := range f.cells {
		best, steepest, lower := grid.NoDir, 0.0, uint8(0)
		for ways := f.near[i] | f.exit[i]; ways != 0; ways &= ways - 1 {
			d := bits.TrailingZeros8(ways) & 7
			fall := f.toward[i] - r.riseOf(f, i, d)
			if fall <= 0 {
				continue
			}
			lower |= 1 << d
			if steep := float64(fall) * r.perMetre[d]; steep > steepest {
				best, steepest = grid.Dir(d), steep
			}
		}
		dir[c], f.near[i] = best, lower
	}
}

// riseOf returns the rise of the neighbour in direction d of the cell at position
// i, which is as high: 0 for a way out.
func (r *Router) riseOf(f *flat, i, d int) int32 {
	if f.exit[i]>>d&1 == 1 {
		return 0
	}
	return f.toward[f.place[int(f.cells[i])-f.base+r.offset[d]]-1]
}

// orderFlat notes which neighbours to the east and south of the flat's cells come
// before them in the order of heights, rises and indexes.
func (r *Router) orderFlat(f *flat) {
	for i, c := range f.cells {
		r.markOrder(int(c), f.near[i])
	}
}

// markOrder notes which neighbours of a level cell come before it, given those
// that have a lower rise.
func (r *Router) markOrder(c int, lower uint8) {
	const eastAndSouth = 1<<2 | 1<<3 | 1<<4 | 1<<5
	if lower &= eastAndSouth; lower == 0 {
		return
	}
	y := c / r.flow.Fall.W
	x := c - y*r.flow.Fall.W
	l := &r.plane[y*r.words+x/64]
	for ; lower != 0; lower &= lower - 1 {
		l.mark(x, grid.Dir(bits.TrailingZeros8(lower)))
	}
}
