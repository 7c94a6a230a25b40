package flow

// Where a ground has more cells than a word counts beside what a cell waits for,
// the latter is kept apart once the bands have been counted.

// widen takes the words of a band apart.
func (r *Router) widen(s *band) {
	from, to := s.lo*r.flow.Cells.W, s.hi*r.flow.Cells.W
	cells, waiting := r.flow.Cells.V[from:to], r.waiting[from:to]
	for i, word := range cells {
		cells[i], waiting[i] = word&countMask, uint8(word>>countBits)
	}
}

// carryOnWide is carryOn for widened words.
func (r *Router) carryOnWide(s *band, _ *count, in []inflow, next int) {
	cells, dir, waiting := r.flow.Cells.V, r.flow.Dir.V, r.waiting
	from, to := s.lo*r.flow.Dir.W, s.hi*r.flow.Dir.W
	for _, in := range in {
		c := int(in.cell)
		cells[c] += in.sum
		waiting[c]--
		for waiting[c] == 0 {
			n := c + r.offset[dir[c]]
			switch {
			case n < from:
				s.up[next] = append(s.up[next], inflow{int32(n), cells[c]})
			case n >= to:
				s.down[next] = append(s.down[next], inflow{int32(n), cells[c]})
			default:
				cells[n] += cells[c]
				waiting[n]--
				c = n
				continue
			}
			break
		}
	}
}
