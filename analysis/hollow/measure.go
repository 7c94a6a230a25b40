package hollow

import (
	"context"
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
)

// measure returns the figures and the outline of the hollow in hand.
func (s *search) measure() (Hollow, error) {
	deepest, rim := s.cells[0], int32(-1)
	level := s.filled.V[deepest]
	h := Hollow{Cells: len(s.cells), Level: float64(level)}
	depths, offset := 0.0, s.ground.StepOffsets()
	for _, c := range s.cells {
		depth := float64(s.filled.V[c]) - float64(s.ground.V[c])
		depths += depth
		if depth > h.Depth {
			h.Depth, deepest = depth, c
		}
		for _, off := range offset {
			n := c + int32(off)
			if s.filled.V[n] != level || s.wet(int(n)) {
				continue
			}
			if rim < 0 || s.wayOut[n] < s.wayOut[rim] || s.wayOut[n] == s.wayOut[rim] && n < rim {
				rim = n
			}
		}
	}
	if rim < 0 {
		return Hollow{}, errNotFilled
	}
	h.Area = float64(h.Cells) * s.ground.CellArea()
	h.Volume = depths * s.ground.CellArea()
	h.Deepest = s.centre(deepest)
	h.Spill = s.centre(rim)
	h.Outline = s.outline()
	return h, nil
}

func (s *search) centre(c int32) orb.Point {
	return s.ground.Centre(int(c)%s.ground.W, int(c)/s.ground.W)
}

// stepsOut counts for every cell the level steps on the filled surface to the
// nearest cell that lies at the edge, beside no data, or above a neighbour. One
// sweep serves all hollows, however many share a plain.
func stepsOut(ctx context.Context, filled grid.Ground) ([]int32, error) {
	steps := make([]int32, len(filled.V))
	var queue []int32
	for y := range filled.H {
		if y%64 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		for x := range filled.W {
			c := y*filled.W + x
			leaves, level := lookAround(filled, x, y)
			switch {
			case !leaves:
				steps[c] = unreached
			case level:
				queue = append(queue, int32(c))
			}
		}
	}
	offset := filled.StepOffsets()
	for head := 0; head < len(queue); head++ {
		if head%poll == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		c := queue[head]
		for _, off := range offset {
			// A step off the west or east side lands on another edge cell, which is
			// reached from the start.
			n := int(c) + off
			if uint(n) < uint(len(steps)) && steps[n] == unreached && filled.V[n] == filled.V[c] {
				steps[n] = steps[c] + 1
				queue = append(queue, int32(n))
			}
		}
	}
	return steps, nil
}

const unreached = math.MaxInt32

// lookAround reports whether water leaves (x, y) downhill or off the ground, and
// whether a neighbour lies at its level.
func lookAround(filled grid.Ground, x, y int) (leaves, level bool) {
	z := filled.At(x, y)
	for d := range 8 {
		nx, ny := x+grid.StepX[d], y+grid.StepY[d]
		if !filled.In(nx, ny) {
			leaves = true
			continue
		}
		n := filled.At(nx, ny)
		leaves = leaves || n < z || grid.IsNoData(n)
		level = level || n == z
	}
	return leaves, level
}
