package flow

import (
	"context"
	"slices"
)

// The words that cells are counted in hold in the upper four bits how many
// neighbours have still to hand on what drains through them, and in the others
// the count so far.
const (
	countBits = 28
	countMask = 1<<countBits - 1
	// closed is what a cell waits for whose water stays: more than there are.
	closed = 15
)

// An inflow is what a cell of a band hands on to a cell of the next.
type inflow struct {
	cell int32
	sum  uint32
}

// bands is how many bands a ground is counted in. What crosses from band to band is
// walked through memory that is far from the processor, so they are few.
const bands = 16

// A band is a strip's like for counting: rows [lo, hi), of which those to done have
// been counted; what is handed on to the bands above and below, in turns; and the
// cells whose water goes no further.
type band struct {
	lo, hi, done int
	up, down     [2][]inflow
	ends         []int32
}

// count counts the cells that drain through each: first in each band by itself,
// as far as the water of other bands is not waited for; then what has crossed is
// carried on, from band to band, until no more crosses.
func (r *Router) count(ctx context.Context) error {
	carryOn := r.carryOn
	if r.wide {
		carryOn = r.carryOnWide
	}
	err := r.eachBand(ctx, func(s *band, d *desk) { r.countBand(s, &d.count) })
	if err == nil && r.space == nil && !r.wide {
		r.carryAll(&r.desks[0].count)
	}
	for now := 0; err == nil && r.crossing(now); now = 1 - now {
		err = r.eachBand(ctx, func(s *band, d *desk) {
			next := 1 - now
			s.up[next], s.down[next] = s.up[next][:0], s.down[next][:0]
			if i := s.lo / r.bands[0].hi; i > 0 {
				carryOn(s, &d.count, r.bands[i-1].down[now], next)
			}
			if i := s.hi / r.bands[0].hi; s.hi < r.flow.Dir.H {
				carryOn(s, &d.count, r.bands[i].up[now], next)
			}
		})
	}
	if err != nil || r.wide {
		return err
	}
	return r.eachBand(ctx, func(s *band, _ *desk) {
		for _, c := range s.ends {
			r.flow.Cells.V[c] &= countMask
		}
	})
}

// eachBand is each for bands.
func (r *Router) eachBand(ctx context.Context, f func(s *band, d *desk)) error {
	return each(ctx, r.bands, r.desks, func(s *band, d *desk) {
		f(s, d)
		r.space.Release()
	})
}

// carryAll carries on what has crossed all over the ground at once, which is quicker
// than band by band but needs all of it in memory.
func (r *Router) carryAll(k *count) {
	k.north = k.north[:0]
	for i := range r.bands {
		s := &r.bands[i]
		k.north = append(append(k.north, s.up[0]...), s.down[0]...)
		s.up[0], s.down[0] = s.up[0][:0], s.down[0][:0]
	}
	r.carryOn(&band{done: r.flow.Dir.H}, k, k.north, 0)
}

// crossing reports whether any band hands on to the next in this round.
func (r *Router) crossing(now int) bool {
	return slices.ContainsFunc(r.bands, func(s band) bool { return len(s.up[now])+len(s.down[now]) > 0 })
}

// carryOn adds what comes from the next band, and follows the water down for as
// long as nothing else is waited for: as handOn does, many in turn.
func (r *Router) carryOn(s *band, k *count, in []inflow, next int) {
	cells, dir := r.flow.Cells.V, r.flow.Dir.V
	from, to := s.lo*r.flow.Dir.W, s.done*r.flow.Dir.W
	going, left := resize(k.going, len(in)), 0
	for _, in := range in {
		sum := cells[in.cell] + in.sum - 1<<countBits
		cells[in.cell] = sum
		going[left] = in.cell
		left += int((sum>>countBits - 1) >> 31)
	}
	k.going = going
	for going = going[:left]; len(going) > 0; going = going[:left] {
		left = 0
		for _, c := range going {
			n := int(c) + r.offset[dir[c]&7]
			switch {
			case n < from:
				s.up[next] = append(s.up[next], inflow{int32(n), cells[c]})
			case n >= to:
				s.down[next] = append(s.down[next], inflow{int32(n), cells[c]})
			default:
				sum := cells[n] + cells[c] - 1<<countBits
				cells[n] = sum
				going[left] = int32(n)
				left += int((sum>>countBits - 1) >> 31)
			}
		}
	}
}

// countBand counts what drains through each cell of a band from the band, part by
// part from the north. What a part hands on to the north is carried on at once;
// what it hands on to the south is there when the next part begins.
func (r *Router) countBand(s *band, k *count) {
	rows := max(1, partCells/r.flow.Cells.W)
	if r.rows > 0 {
		rows = r.rows
	}
	s.ends, s.up[0], s.down[0] = s.ends[:0], s.up[0][:0], s.down[0][:0]
	for lo := s.lo; lo < s.hi; lo = s.done {
		s.done = min(lo+rows, s.hi)
		r.countPart(s, lo, k)
		if lo == s.lo {
			s.up[0] = append(s.up[0], k.north...)
		} else {
			r.carryOn(s, k, k.north, 0)
		}
	}
	if r.wide {
		r.widen(s)
	}
}
