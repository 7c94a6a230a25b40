// Package hollow finds the places of a ground that pond before they spill.
//
// A hollow is a set of cells, joined by sides or corners, that lie below the
// filled surface. All of a hollow fills to one level, that of its spill. Figures
// are of the hollow brim-full: depth [m], plan area [m²], volume [m³]. Cells of
// no data, and what drains to them, are in no hollow.
package hollow

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
)

// A Hollow is one place that holds water until it spills.
type Hollow struct {
	// Cells counts the cells that lie below the spill.
	Cells int
	// Area is their plan area [m²], Depth the depth at the deepest of them [m],
	// Volume what stands in them when full [m³], Level the height of the spill [m].
	Area, Depth, Volume, Level float64
	// Deepest is the centre of the deepest cell; Spill that of the cell on the rim
	// over which the water leaves by the shortest level way.
	Deepest, Spill orb.Point
	// Outline follows the edges of the cells. Outer rings run counter-clockwise and
	// holes clockwise; parts that only meet at a corner are polygons of their own.
	Outline orb.MultiPolygon
}

// poll is how many cells a pass takes between looks at its context.
const poll = 1 << 16

// Find returns the hollows of a ground whose filled surface is given, the one
// of biggest volume first.
func Find(ctx context.Context, ground, filled grid.Ground) ([]Hollow, error) {
	switch err := ground.Check(); {
	case err != nil:
		return nil, fmt.Errorf("find the hollows: %w", err)
	case filled.Frame != ground.Frame || len(filled.V) != len(ground.V) || len(ground.V) != ground.Len():
		return nil, errors.New("find the hollows: the filled surface lies on other cells than the ground; fill this ground and give both")
	case wetEdge(ground, filled):
		return nil, errNotFilled
	}
	s := search{ground: ground, filled: filled, part: make([]int32, len(ground.V))}
	wayOut, err := stepsOut(ctx, filled)
	if err != nil {
		return nil, err
	}
	s.wayOut = wayOut
	var found []Hollow
	for c := range ground.V {
		if c%poll == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if s.wet(c) && s.part[c] == 0 {
			s.gather(int32(c))
			h, err := s.measure()
			if err != nil {
				return nil, err
			}
			found = append(found, h)
		}
	}
	slices.SortStableFunc(found, func(a, b Hollow) int { return cmp.Compare(b.Volume, a.Volume) })
	return found, nil
}

var errNotFilled = errors.New("find the hollows: the filled surface is not this ground's own; fill this ground and give both")

// wetEdge reports a filled surface above the ground at the grid's edge, where
// water always gets away.
func wetEdge(ground, filled grid.Ground) bool {
	for y := range ground.H {
		inside := max(ground.W-1, 1)
		if y == 0 || y == ground.H-1 {
			inside = 1
		}
		for x := 0; x < ground.W; x += inside {
			if filled.At(x, y) > ground.At(x, y) {
				return true
			}
		}
	}
	return false
}

// A search gathers the cells of one hollow after another.
type search struct {
	ground, filled grid.Ground
	// wayOut counts the level steps from a cell to where water leaves downhill.
	wayOut []int32
	// part numbers, from 1, the sets of hollow cells that are joined by sides; 0 is
	// not in any part found so far.
	part  []int32
	parts int32
	// cells are those of the hollow in hand, one part after another, and starts the
	// positions at which its parts begin.
	cells  []int32
	starts []int
	seeds  []int32
	// passed holds a bit for each heading along a cell's sides that was followed,
	// corners the corners of the ring in hand.
	passed  []uint8
	corners []int32
}

// wet reports whether cell c lies below the filled surface.
func (s *search) wet(c int) bool { return s.filled.V[c] > s.ground.V[c] }

// gather takes up the hollow of a wet cell, part by part. A part grows over the
// sides of cells; what it meets over corners seeds the next.
//
// No wet cell lies at the edge, where the filled surface is the ground; so all
// eight neighbours of one exist.
func (s *search) gather(first int32) {
	s.cells, s.starts = s.cells[:0], s.starts[:0]
	s.seeds = append(s.seeds[:0], first)
	offset := s.ground.StepOffsets()
	for len(s.seeds) > 0 {
		seed := s.seeds[len(s.seeds)-1]
		s.seeds = s.seeds[:len(s.seeds)-1]
		if s.part[seed] != 0 {
			continue
		}
		s.parts++
		s.starts = append(s.starts, len(s.cells))
		s.take(seed)
		for i := s.starts[len(s.starts)-1]; i < len(s.cells); i++ {
			for d, off := range offset {
				n := s.cells[i] + int32(off)
				switch {
				case s.part[n] != 0 || !s.wet(int(n)):
				case d%2 == 0:
					s.take(n)
				default:
					s.seeds = append(s.seeds, n)
				}
			}
		}
	}
}

func (s *search) take(c int32) {
	s.part[c] = s.parts
	s.cells = append(s.cells, c)
}
