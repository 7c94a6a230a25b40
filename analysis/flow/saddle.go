package flow

import (
	"context"
	"math/bits"

	"runnel/geo/grid"
)

// A saddle is a cell at which parts of the ground below it become one. The water
// of the cell goes one way, and that of some lower neighbours perhaps others: it
// is a pass where they end in different basins. A cell at the border is one too,
// as what is outside is the other part.
//
// Cells are ordered by height, then rise, then index, so no two are level. Then
// parts of the ground below a level meet, as that level rises, only at cells
// whose lower neighbours form two or more runs in the ring of eight; so no other
// cell needs a look ([Cordonnier2019] takes all pairs of cells instead). Of each
// run the first neighbour clockwise from north stands for all, as the run itself
// is joined below the cell.
//
// d is the direction of the neighbour on the other side, grid.Stay for what is
// outside. A cell with several others is as many saddles.
type saddle struct {
	cell int32
	d    grid.Dir
}

// findPasses lists the saddles of each strip, follows the water from both their
// sides as far as the strip goes, and grows the strip's own part of the tree.
func (r *Router) findPasses(ctx context.Context) error {
	pits := 0
	for i := range r.strips {
		r.strips[i].base = int32(pits)
		pits += len(r.strips[i].pit)
	}
	b := &r.flow.Basins
	for _, err := range []error{fit(r.space, &b.Pit, pits), fit(r.space, &b.Way, pits), fit(r.space, &r.hang, pits)} {
		if err != nil {
			return err
		}
	}
	return r.eachDue(ctx, func(s *strip, d *desk) {
		r.readWays(s, &d.ways)
		r.findSaddles(s, &d.ways)
		d.ways.walk()
		r.noteEdges(s, &d.ways)
		r.growStrip(s, d)
	})
}

// resize returns s, or a longer slice in its stead, with n elements of any value.
func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n, n+n/8)
	}
	return s[:n]
}

// ringRuns returns, for each set of lower neighbours, the first of each run of
// them, and for each direction the first of the run that it is in.
func ringRuns() (first [256]uint8, own [256][8]uint8) {
	for set := range 256 {
		joined := set
		for d := 1; d < 8; d += 2 {
			if set>>(d-1)&1 == 1 && set>>((d+1)&7)&1 == 1 {
				joined |= 1 << d
			}
		}
		for start := range 8 {
			if set>>start&1 == 0 || first[set]&ownRun(joined, start) != 0 {
				continue
			}
			first[set] |= 1 << start
			for d := range 8 {
				if ownRun(joined, start)>>d&1 == 1 {
					own[set][d] = 1 << start
				}
			}
		}
	}
	return first, own
}

// ownRun returns the run of set that direction d is in.
func ownRun(set, d int) uint8 {
	run := 1 << d
	for range 8 {
		run |= (run<<1 | run>>7 | run>>1 | run<<7) & set
	}
	return uint8(run)
}

var firstOfRuns, firstOfRun = ringRuns()

// findSaddles lists the strip's saddles, and in k.at the cells whose water is to
// be followed: those of its first and last rows, and then the two sides of each
// saddle.
func (r *Router) findSaddles(s *strip, k *ways) {
	fall, w := r.flow.Fall.V, r.flow.Fall.W
	saddles, at := k.saddles[:0], k.at[:0]
	for x := range w {
		at = append(at, sides{int32(k.stride + 1 + x), nowhere}, sides{int32((s.hi-s.lo)*k.stride + 1 + x), nowhere})
	}
	for y := s.lo; y < s.hi; y++ {
		r.markForced(y, k)
		local := int32((y-s.lo+1)*k.stride + 1 - y*w)
		for i := range r.words {
			var n ring
			r.lowerAround(y, i, &n)
			two := n.runs() | k.forced[i]
			if last := w - i*64; last < 64 {
				two &= 1<<last - 1
			}
			for ; two != 0; two &= two - 1 {
				bit := bits.TrailingZeros64(two)
				c := int32(y*w + i*64 + bit)
				d := fall[c]
				if d == grid.NoDir {
					continue
				}
				lower := n.set(bit)
				others := firstOfRuns[lower]
				if d < grid.Stay {
					others &^= firstOfRun[lower][d]
				}
				for ; others != 0; others &= others - 1 {
					d := grid.Dir(bits.TrailingZeros8(others))
					saddles, at = append(saddles, saddle{c, d}), append(at, sides{local + c, local + c + k.step[d]})
				}
				if k.border[i]>>bit&1 == 1 {
					saddles, at = append(saddles, saddle{c, grid.Stay}), append(at, sides{local + c, nowhere})
				}
			}
		}
	}
	k.saddles, k.at = saddles, at
}

// ring tells of 64 cells in a row, one bit each, whether the neighbour in each
// direction is lower.
type ring [8]uint64

// lowerAround notes the lower neighbours of the cells of word i of row y.
func (r *Router) lowerAround(y, i int, n *ring) {
	at := y*r.words + i
	own := r.plane[at]
	n[0], n[1], n[2], n[3], n[4], n[5], n[7] = 0, 0, own.e, own.se, own.s, own.sw, 0
	n[6] = ^(own.e << 1)
	if i > 0 {
		n[6] &^= r.plane[at-1].e >> 63
	} else {
		n[6] &^= 1
	}
	if y == 0 {
		return
	}
	up := r.plane[at-r.words]
	n[0] = ^up.s
	n[7] = ^(up.se << 1)
	n[1] = ^(up.sw >> 1)
	if i > 0 {
		n[7] &^= r.plane[at-r.words-1].se >> 63
	} else {
		n[7] &^= 1
	}
	if i+1 < r.words {
		n[1] &^= r.plane[at-r.words+1].sw << 63
	}
	if east := r.flow.Fall.W - 1 - i*64; east < 64 {
		n[1] &^= 1 << east
	}
}

// runs tells whose lower neighbours form two or more runs.
func (n *ring) runs() uint64 {
	c1, c3 := n[1]|n[0]&n[2], n[3]|n[2]&n[4]
	c5, c7 := n[5]|n[4]&n[6], n[7]|n[6]&n[0]
	one, two := n[0]&^c1, uint64(0)
	for _, end := range [...]uint64{c1 &^ n[2], n[2] &^ c3, c3 &^ n[4], n[4] &^ c5, c5 &^ n[6], n[6] &^ c7, c7 &^ n[0]} {
		two |= one & end
		one |= end
	}
	return two
}

// set returns the lower neighbours of one cell, a bit a direction.
func (n *ring) set(bit int) uint8 {
	return uint8(n[0]>>bit&1 | n[1]>>bit&1<<1 | n[2]>>bit&1<<2 | n[3]>>bit&1<<3 |
		n[4]>>bit&1<<4 | n[5]>>bit&1<<5 | n[6]>>bit&1<<6 | n[7]>>bit&1<<7)
}

// markForced marks the cells of row y at the border, where basins meet what is
// outside, and with them in forced the inlets.
func (r *Router) markForced(y int, k *ways) {
	w, h := r.flow.Fall.W, r.flow.Fall.H
	for i := range k.border {
		k.border[i] = 0
		if y == 0 || y == h-1 {
			k.border[i] = ^uint64(0)
		}
	}
	k.border[0] |= 1
	k.border[(w-1)/64] |= 1 << ((w - 1) % 64)
	if y > 0 && y < h-1 && (r.holed[y-1] || r.holed[y] || r.holed[y+1]) {
		up, mid, down := r.flow.Fall.Row(y-1), r.flow.Fall.Row(y), r.flow.Fall.Row(y+1)
		for x := range mid {
			if up[x] == grid.NoDir || mid[x] == grid.NoDir || down[x] == grid.NoDir {
				for n := max(x-1, 0); n <= min(x+1, w-1); n++ {
					k.border[n/64] |= 1 << (n % 64)
				}
			}
		}
	}
	copy(k.forced, k.border)
	for _, c := range r.inlets(y*w, y*w+w) {
		x := int(c) - y*w
		k.forced[x/64] |= 1 << (x % 64)
	}
}
