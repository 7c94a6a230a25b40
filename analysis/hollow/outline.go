package hollow

import (
	"github.com/paulmach/orb"

	"runnel/geo/grid"
)

// A heading is the way along a cell's side, the cell on the left: 0 north (along
// its east side), 1 east, 2 south, 3 west.
type heading uint8

// step is the change of index one cell on in each heading.
func step(f grid.Frame) [4]int32 { return [4]int32{int32(-f.W), 1, int32(f.W), -1} }

// outline returns the outline of the hollow in hand, a polygon for each part.
func (s *search) outline() orb.MultiPolygon {
	if s.passed == nil {
		s.passed = make([]uint8, len(s.part))
	}
	outline := make(orb.MultiPolygon, len(s.starts))
	for i, start := range s.starts {
		end := len(s.cells)
		if i+1 < len(s.starts) {
			end = s.starts[i+1]
		}
		outline[i] = s.outlinePart(s.cells[start:end])
	}
	return outline
}

// outlinePart returns the outline of one part: its outer ring, then its holes.
//
// As its cells are joined by sides, one ring alone runs counter-clockwise.
func (s *search) outlinePart(cells []int32) orb.Polygon {
	polygon := make(orb.Polygon, 1)
	along := step(s.ground.Frame)
	for _, c := range cells {
		for h := range heading(4) {
			if s.part[c+along[(h+1)&3]] == s.part[c] || s.passed[c]>>h&1 == 1 {
				continue
			}
			ring := s.follow(c, h)
			if ring.Orientation() == orb.CCW {
				polygon[0] = ring
				continue
			}
			polygon = append(polygon, ring)
		}
	}
	return polygon
}

// follow walks once round the edge that begins along cell c in heading h, and
// returns the ring of its corners.
//
// Where two cells of a part touch only at a corner it crosses from one to the
// other. So no ring passes a corner twice: the two are joined by sides somewhere
// else, and the ground on either side of the corner belongs to different rings.
func (s *search) follow(c int32, h heading) orb.Ring {
	along, own := step(s.ground.Frame), s.part[c]
	s.corners = s.corners[:0]
	for s.passed[c]>>h&1 == 0 {
		s.passed[c] |= 1 << h
		corner := s.corner(c, h)
		left := c + along[h]
		right := left + along[(h+1)&3]
		switch {
		case s.part[right] == own:
			c, h = right, (h+1)&3
		case s.part[left] == own:
			c = left
			continue // straight on: no corner
		default:
			h = (h + 3) & 3
		}
		s.corners = append(s.corners, corner)
	}
	return s.place(s.corners)
}

// corner returns the number of the corner where heading h along cell c ends.
// Corners are numbered as cells are, in rows one longer than the grid's.
func (s *search) corner(c int32, h heading) int32 {
	w := int32(s.ground.W)
	x, y := c%w, c/w
	if h == 0 || h == 1 {
		x++
	}
	if h == 1 || h == 2 {
		y++
	}
	return y*(w+1) + x
}

// place returns the closed ring through the given corners.
func (s *search) place(corners []int32) orb.Ring {
	f, across := s.ground.Frame, int32(s.ground.W)+1
	ring := make(orb.Ring, 0, len(corners)+1)
	for _, corner := range corners {
		x, y := corner%across, corner/across
		ring = append(ring, orb.Point{f.West + float64(x)*f.DX, f.North - float64(y)*f.DY})
	}
	return append(ring, ring[0])
}
