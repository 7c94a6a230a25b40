package flow

import (
	"math/bits"
	"slices"

	"runnel/geo/grid"
)

// A flat is one set of level cells, joined by sides or corners. None of them
// touches the edge or no data, as such cells are outlets; so all eight neighbours
// of a level cell exist and have heights.
//
// The order of a flat's cells, their rise, is by the two gradients of
// [GarbrechtMartz1997], each found in one sweep as in [Barnes2014flats]: away from
// higher ground, and, twice as strong, toward the ways out.
type flat struct {
	base  int   // the first cell that the flat may hold
	floor uint8 // 1 where the flat is a pit's floor, that is left by its first cell
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

// gather puts into f the flat that holds first, and reports whether f covers it.
// What else a level cell has around it is higher, so most of this is a matter of
// bits: branches would take as much time again. Until there are ways, Dir holds
// what is higher around each level cell.
func (r *Router) gather(f *flat, first int32) bool {
	dir := r.flow.Fall.V
	f.cells, f.rim, f.gate, f.near, f.exit = f.cells[:0], f.rim[:0], f.gate[:0], f.near[:0], f.exit[:0]
	if !f.has(int(first)) {
		return false
	}
	f.add(first)
	covered := true
	for i := 0; i < len(f.cells); i++ {
		c, found := int(f.cells[i]), len(f.cells)
		f.cells = slices.Grow(f.cells, 8)[:found+8]
		higher := uint8(r.flow.Dir.V[c])
		if f.floor != 0 {
			higher = higherAround(r.flow.Ground.V, c, r.flow.Ground.W)
		}
		var near uint8
		for level := ^higher; level != 0; level &= level - 1 {
			d := bits.TrailingZeros8(level) & 7
			n := c + r.offset[d]
			in := f.floor | uint8((uint32(dir[n]^unsettled)-1)>>31)
			if !f.has(n) {
				covered = covered && in == 0
				continue
			}
			near |= in << d
			place := &f.place[n-f.base]
			fresh := int32(in) & (^(*place | -*place) >> 31)
			f.cells[found] = int32(n)
			found += int(fresh)
			*place |= int32(found) & -fresh
		}
		f.cells = f.cells[:found]
		f.note(int32(i), near, ^(higher | near))
	}
	return covered
}

// note notes which neighbours of the cell at position i are in the flat and which
// are ways out of it; all others are higher.
func (f *flat) note(i int32, near, exit uint8) {
	if near|exit != 255 {
		f.rim = append(f.rim, i)
	}
	if exit != 0 {
		f.gate = append(f.gate, i)
	}
	f.near, f.exit = append(f.near, near), append(f.exit, exit)
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
	for _, i := range from {
		count[i] = 1
	}
	queue := resize(f.queue, len(f.cells)+1)
	tail := copy(queue, from)
	for head := 0; head < tail; head++ {
		i := queue[head]
		at, next := int(f.cells[i])-f.base, count[i]+1
		for near := f.near[i]; near != 0; near &= near - 1 {
			j := f.place[at+r.offset[bits.TrailingZeros8(near)&7]] - 1
			fresh := (count[j] - 1) >> 31 // all bits where it is 0
			count[j] |= next & fresh
			queue[tail] = j
			tail -= int(fresh)
		}
	}
	f.queue, *steps = queue, count
}

// follow points each cell of the flat down the steepest way on the rises, and
// leaves in f.near which neighbours as high have a lower rise: 0 for a way out.
func (r *Router) follow(f *flat, dir []grid.Dir) {
	for i, c := range f.cells {
		own, lower := f.toward[i], f.exit[i]
		best, steepest := r.nearest[lower], 0.0
		if lower != 0 {
			steepest = float64(own) * r.perMetre[best]
		}
		for near := f.near[i]; near != 0; near &= near - 1 {
			d := grid.Dir(bits.TrailingZeros8(near) & 7)
			fall := own - f.toward[f.place[int(c)-f.base+r.offset[d]]-1]
			lower |= uint8(uint32(-fall)>>31) << d
			if steep := float64(fall) * r.perMetre[d]; steep > steepest || steep == steepest && d < best && fall > 0 {
				best, steepest = d, steep
			}
		}
		dir[c], f.near[i] = best, lower
	}
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
	y := uint32(c) / uint32(r.flow.Fall.W)
	x := uint32(c) - y*uint32(r.flow.Fall.W)
	l := &r.plane[int(y)*r.words+int(x/64)]
	l.e |= uint64(lower>>2&1) << (x % 64)
	l.se |= uint64(lower>>3&1) << (x % 64)
	l.s |= uint64(lower>>4&1) << (x % 64)
	l.sw |= uint64(lower>>5&1) << (x % 64)
}
