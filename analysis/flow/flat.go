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
	for _, i := range r.due {
		s := &r.strips[i]
		pits := len(s.pit)
		for _, c := range s.cross {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			if r.flow.Fall.V[c] == unsettled {
				if err := r.overAll(); err != nil {
					return err
				}
				r.crossFlat(&r.lake, c)
				if r.flow.Fall.V[c] == grid.Stay {
					s.pit = append(s.pit, c)
				}
			}
		}
		if len(s.pit) > pits {
			slices.Sort(s.pit)
		}
		r.space.Release()
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
	height := z[first]
	f.cells, f.rim, f.gate, f.near, f.exit = f.cells[:0], f.rim[:0], f.gate[:0], f.near[:0], f.exit[:0]
	if !f.has(int(first)) {
		return false
	}
	f.add(first)
	covered := true
	for i := 0; i < len(f.cells); i++ {
		c := int(f.cells[i])
		// None of the neighbours is lower.
		higher := uint8(0)
		for d, off := range r.offset {
			bit := uint8(0)
			if z[c+off] > height {
				bit = 1
			}
			higher |= bit << d
		}
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

// follow points each cell of the flat down the steepest way on the rises.
func (r *Router) follow(f *flat, dir []grid.Dir) {
	for i, c := range f.cells {
		best, steepest := grid.NoDir, 0.0
		for ways := f.near[i] | f.exit[i]; ways != 0; ways &= ways - 1 {
			d := bits.TrailingZeros8(ways) & 7
			if fall := float64(f.toward[i]-r.riseOf(f, i, d)) * r.perMetre[d]; fall > steepest {
				best, steepest = grid.Dir(d), fall
			}
		}
		dir[c] = best
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
	w := r.flow.Ground.W
	for i, c := range f.cells {
		const eastAndSouth = 1<<2 | 1<<3 | 1<<4 | 1<<5
		ways := (f.near[i] | f.exit[i]) & eastAndSouth
		if ways == 0 {
			continue
		}
		x, y := int(c)%w, int(c)/w
		l := &r.plane[y*r.words+x/64]
		for ; ways != 0; ways &= ways - 1 {
			if d := bits.TrailingZeros8(ways) & 7; r.riseOf(f, i, d) < f.toward[i] {
				l.mark(x, grid.Dir(d))
			}
		}
	}
}
