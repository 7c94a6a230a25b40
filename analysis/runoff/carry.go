package runoff

import (
	"runnel/analysis/flow"
	"runnel/geo/grid"
)

// Carry counts what culverts carry to their outlets in the cells below: water
// that leaves one cell for another without running over those between. The flow is
// routed on the surface's ground with its inlets, and is changed.
func (s *Surface) Carry(f *flow.Flow) {
	cells := f.Cells.V
	brought := make([]uint32, len(s.Links))
	for i, l := range s.Links {
		if s.Takes(i) {
			brought[i] = cells[l.From]
		}
	}
	for i := range s.Links {
		for _, leg := range s.Onward(f.Dir, i) {
			for _, c := range leg {
				cells[c] += brought[i]
			}
		}
	}
}

// Onward returns the cells that water runs through once it has left the inlet of a
// link: a leg for each culvert on its way. Culverts that lead in a ring are passed
// once.
func (s *Surface) Onward(dir grid.Grid[grid.Dir], link int) (legs [][]int32) {
	for passed := map[int]bool{}; link >= 0 && !passed[link]; {
		passed[link] = true
		to := s.Links[link].To
		if to < 0 {
			break
		}
		leg := flow.Trace(dir, int(to)%dir.W, int(to)/dir.W)
		if len(leg) == 0 {
			break
		}
		legs = append(legs, leg)
		link = s.LinkAt(leg[len(leg)-1])
	}
	return legs
}

// LinkAt returns the link that takes the water of a cell, or -1. Where several
// begin it is the first.
func (s *Surface) LinkAt(cell int32) int {
	for i, l := range s.Links {
		if l.From == cell {
			return i
		}
	}
	return -1
}

// Takes reports whether a link takes the water of its cell: of several that begin
// there the first takes all.
func (s *Surface) Takes(link int) bool { return s.LinkAt(s.Links[link].From) == link }
