package flow

// Where a ground has more cells than a word counts beside what a cell waits for,
// the latter is kept apart once the bands have been counted.

// widen writes a row of counted words, of cells from first on.
func (r *Router) widen(first int, words []uint32) {
	cells, waiting := r.flow.Cells.V[first:], r.waiting[first:]
	for x, word := range words {
		cells[x], waiting[x] = word&countMask, uint8(word>>countBits)
	}
}

// carryOnWide is carryOn for widened words.
func (r *Router) carryOnWide(s *band, in []inflow, next int) {
	cells, dir, waiting := r.flow.Cells.V, r.flow.Dir.V, r.waiting
	from, to := s.lo*r.flow.Dir.W, s.hi*r.flow.Dir.W
	for _, in := range in {
		c := int(in.cell)
		cells[c] += in.sum
		waiting[c] -= uint8(in.from)
		for waiting[c] == 0 {
			n := c + r.offset[dir[c]]
			switch {
			case n < from:
				s.up[next] = append(s.up[next], inflow{int32(n), cells[c], 1})
			case n >= to:
				s.down[next] = append(s.down[next], inflow{int32(n), cells[c], 1})
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
