package flow

import (
	"context"
	"slices"

	"runnel/geo/grid"
)

// fillAgain is fill after a change. The strips that are due are filled from their
// ground. Beyond them a lake is drained and filled anew where its level has
// changed, or where it reaches up to a strip that is due.
func (r *Router) fillAgain(ctx context.Context) error {
	isDue := make([]bool, len(r.strips))
	for _, i := range r.due {
		isDue[i] = true
	}
	err := r.each(ctx, func(s *strip, _ *desk) {
		from, to := r.cells(s)
		copy(r.flow.Dir.V[from:to], r.flow.Fall.V[from:to])
		s.changed = s.changed[:0]
		if isDue[r.number(s)] {
			copy(r.flow.Filled.V[from:to], r.flow.Ground.V[from:to])
			s.changed = append(s.changed, s.pit...)
		} else {
			for i, pit := range s.pit {
				if r.flow.Basins.Way[int(s.base)+i].Level != s.filled[i] {
					s.changed = append(s.changed, pit)
				}
			}
		}
		r.keepLevels(s)
	})
	if err != nil {
		return err
	}
	everywhere := &strip{hi: r.flow.Filled.H}
	for _, pit := range r.drainChanged(isDue) {
		b, _ := slices.BinarySearch(r.flow.Basins.Pit, pit)
		r.flood(everywhere, &r.desks[0], seed{pit, r.flow.Basins.Way[b].Level})
	}
	return nil
}

// drainChanged drains the lakes to fill anew, and returns all pits to fill from.
func (r *Router) drainChanged(isDue []bool) []int32 {
	var pits []int32
	for i := range r.strips {
		s := &r.strips[i]
		if !isDue[i] {
			if i > 0 && isDue[i-1] {
				pits = r.drainRow(s.lo, pits)
			}
			if i+1 < len(isDue) && isDue[i+1] {
				pits = r.drainRow(s.hi-1, pits)
			}
			for _, pit := range s.changed {
				pits = r.drain(pit, pits)
			}
		}
		pits = append(pits, s.changed...)
	}
	return pits
}

// number returns which of the strips s is.
func (r *Router) number(s *strip) int { return s.lo / r.strips[0].hi }

// keepLevels keeps the levels of a strip's basins for the next change.
func (r *Router) keepLevels(s *strip) {
	if r.space != nil {
		return
	}
	s.filled = resize(s.filled, len(s.pit))
	for i := range s.pit {
		s.filled[i] = r.flow.Basins.Way[int(s.base)+i].Level
	}
}

// drainRow drains the lakes that reach row y.
func (r *Router) drainRow(y int, pits []int32) []int32 {
	for x := range r.flow.Filled.W {
		pits = r.drain(int32(y*r.flow.Filled.W+x), pits)
	}
	return pits
}

// drain takes the lake at cell c down to the ground, and adds the pits in it to the
// list.
func (r *Router) drain(c int32, pits []int32) []int32 {
	ground, filled := r.flow.Ground, r.flow.Filled
	level := filled.V[c]
	if !(level > ground.V[c]) {
		return pits
	}
	filled.V[c] = ground.V[c]
	for lake := []int32{c}; len(lake) > 0; {
		c := lake[len(lake)-1]
		lake = lake[:len(lake)-1]
		if r.flow.Fall.V[c] == grid.Stay && !r.isInlet(c) {
			pits = append(pits, c)
		}
		for d := range 8 {
			x, y := int(c)%ground.W+grid.StepX[d], int(c)/ground.W+grid.StepY[d]
			if !ground.In(x, y) {
				continue
			}
			if n := y*ground.W + x; filled.V[n] == level && ground.V[n] < level {
				filled.V[n] = ground.V[n]
				lake = append(lake, int32(n))
			}
		}
	}
	return pits
}
