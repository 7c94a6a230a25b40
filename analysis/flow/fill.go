package flow

import "context"

// A stretch is a run of cells [from, to] of row y that have been filled.
type stretch struct{ y, from, to int32 }

// A seed is a cell that a lake in the next strip reaches.
type seed struct {
	cell  int32
	level float32
}

// fill raises every hollow to the level of its basins. The water of each pit
// spreads in its own strip; then, as long as there is any, it spreads on from the
// rows next door. Which strip is first makes no difference, as the level of a
// cell is that of the one lake it lies in.
func (r *Router) fill(ctx context.Context) error {
	err := r.each(ctx, func(s *strip, d *desk) {
		r.keepLevels(s)
		r.fillStrip(s, d)
	})
	for more := err == nil; more; {
		err = r.each(ctx, func(s *strip, _ *desk) {
			s.seed = s.seed[:0]
			r.sow(s, s.lo-1, s.lo)
			r.sow(s, s.hi, s.hi-1)
		})
		if err != nil {
			return err
		}
		more = false
		for i := range r.strips {
			more = more || len(r.strips[i].seed) > 0
		}
		if more {
			err = r.each(ctx, func(s *strip, d *desk) {
				for _, start := range s.seed {
					r.flood(s, d, start)
				}
			})
			more = err == nil
		}
	}
	return err
}

// fillStrip fills the lakes of a strip's pits as far as they lie in it, a quarter
// of the strip at a time to stay near the processor.
func (r *Router) fillStrip(s *strip, d *desk) {
	from, to := r.cells(s)
	copy(r.flow.Dir.V[from:to], r.flow.Fall.V[from:to])
	s.seed = s.seed[:0]
	rows, i := (s.hi-s.lo+3)/4, 0
	for lo := s.lo; lo < s.hi; lo += rows {
		part := strip{lo: lo, hi: min(lo+rows, s.hi)}
		from, to := r.cells(&part)
		copy(r.flow.Filled.V[from:to], r.flow.Ground.V[from:to])
		for ; i < len(s.pit) && int(s.pit[i]) < to; i++ {
			r.flood(&part, d, seed{s.pit[i], r.flow.Basins.Way[s.base+int32(i)].Level})
		}
		if lo > s.lo {
			r.sow(s, lo-1, lo)
			r.sow(s, lo, lo-1)
		}
	}
	for _, start := range s.seed {
		r.flood(s, d, start)
	}
}

// sow lists the cells of row y that lakes in row next reach.
func (r *Router) sow(s *strip, next, y int) {
	if next < 0 || next >= r.flow.Fall.H {
		return
	}
	ground, filled, own := r.flow.Ground.Row(next), r.flow.Filled.Row(next), r.flow.Filled.Row(y)
	for x, level := range filled {
		if level > ground[x] {
			for n := max(x-1, 0); n <= min(x+1, len(own)-1); n++ {
				if own[n] < level {
					s.seed = append(s.seed, seed{int32(y*len(own) + n), level})
				}
			}
		}
	}
}

// flood fills the lake of a seed as far as it lies in the strip.
func (r *Router) flood(s *strip, d *desk, start seed) {
	f := &r.flow.Filled
	if !(f.V[start.cell] < start.level) {
		return
	}
	y := int(start.cell) / f.W
	d.lake = append(d.lake[:0], fillStretch(f.Row(y), int(start.cell)-y*f.W, y, start.level))
	for len(d.lake) > 0 {
		run := d.lake[len(d.lake)-1]
		d.lake = d.lake[:len(d.lake)-1]
		for _, y := range [...]int{int(run.y) - 1, int(run.y) + 1} {
			if y < s.lo || y >= s.hi {
				continue
			}
			row := f.Row(y)
			for x := max(int(run.from)-1, 0); x <= min(int(run.to)+1, f.W-1); x++ {
				if row[x] < start.level {
					next := fillStretch(row, x, y, start.level)
					d.lake = append(d.lake, next)
					x = int(next.to)
				}
			}
		}
	}
}

// fillStretch fills the run of cells of a row that lie below level, around x.
func fillStretch(row []float32, x, y int, level float32) stretch {
	from, to := x, x
	for from > 0 && row[from-1] < level {
		from--
	}
	for to < len(row)-1 && row[to+1] < level {
		to++
	}
	for i := from; i <= to; i++ {
		row[i] = level
	}
	return stretch{int32(y), int32(from), int32(to)}
}
