package surface

import (
	"maps"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
)

// A Hole is a part of a ground without heights, with heights all round: cells of no
// data that share sides, none of them at the edge of the raster.
type Hole struct {
	// Outline runs along the sides of its cells: the outer ring with the hole on its
	// left, and rings round islands of data with them on their right.
	Outline orb.Polygon
	Cells   int
}

// Holes lists the holes of a ground, from the north and then from the west of their
// first cell. What reaches the edge of the raster is no hole: the survey ended there.
func Holes(g grid.Ground) []Hole {
	missing := make([]bool, g.Len())
	for i, v := range g.V {
		missing[i] = grid.IsNoData(v)
	}
	return partsOf(g.Frame, missing, inside)
}

// Whereabouts say which parts of a mask are looked for.
type whereabouts uint8

const (
	inside whereabouts = iota // those that do not reach the edge of the raster
	anywhere
)

// partsOf outlines the parts of a mask: cells that are set and share sides.
func partsOf(f grid.Frame, set []bool, where whereabouts) []Hole {
	var holes []Hole
	t := tracer{frame: f, part: make([]int32, f.Len())}
	for start, in := range set {
		if !in || t.part[start] != 0 {
			continue
		}
		t.number++
		cells, open := t.gather(set, start)
		if open && where == inside {
			continue
		}
		t.sides(start)
		holes = append(holes, Hole{t.rings(), cells})
	}
	return holes
}

// A tracer outlines one part after another.
type tracer struct {
	frame grid.Frame
	// part numbers the part of every cell from 1; 0 is none.
	part   []int32
	number int32
	// leaves holds by corner which ways a side of the outline leaves it.
	leaves map[int]uint8
	stack  []int
}

// sideStep goes east, north, west and south: to a neighbour, or along a side from corner
// to corner. Columns count from the west, rows from the north.
var sideStep = [4][2]int{{1, 0}, {0, -1}, {-1, 0}, {0, 1}}

// sideStart is the corner of a cell at which the side towards each neighbour starts, so
// that the cell lies on its left.
var sideStart = [4][2]int{{1, 1}, {1, 0}, {0, 0}, {0, 1}}

// gather numbers the cells of the part that start is of, and counts them; open tells
// that one is at the edge of the raster.
func (t *tracer) gather(set []bool, start int) (cells int, open bool) {
	f := t.frame
	t.part[start] = t.number
	t.stack = append(t.stack[:0], start)
	for len(t.stack) > 0 {
		at := t.pop()
		cells++
		x, y := at%f.W, at/f.W
		open = open || x == 0 || y == 0 || x == f.W-1 || y == f.H-1
		for _, step := range sideStep {
			nx, ny := x+step[0], y+step[1]
			if n := ny*f.W + nx; f.In(nx, ny) && set[n] && t.part[n] == 0 {
				t.part[n] = t.number
				t.stack = append(t.stack, n)
			}
		}
	}
	return cells, open
}

func (t *tracer) pop() int {
	last := len(t.stack) - 1
	at := t.stack[last]
	t.stack = t.stack[:last]
	return at
}

// sides finds the outline's sides by walking the part once more; a cell that was seen
// has the part's number with a minus.
func (t *tracer) sides(start int) {
	f := t.frame
	t.leaves = map[int]uint8{}
	t.part[start] = -t.number
	t.stack = append(t.stack[:0], start)
	for len(t.stack) > 0 {
		at := t.pop()
		x, y := at%f.W, at/f.W
		for way, step := range sideStep {
			nx, ny := x+step[0], y+step[1]
			n := ny*f.W + nx
			switch {
			case !f.In(nx, ny) || t.part[n] != t.number && t.part[n] != -t.number:
				// The side towards that neighbour runs a quarter turn to the left of it.
				c := sideStart[way]
				t.leaves[(y+c[1])*(f.W+1)+x+c[0]] |= 1 << ((way + 1) % 4)
			case t.part[n] == t.number:
				t.part[n] = -t.number
				t.stack = append(t.stack, n)
			}
		}
	}
}

// rings joins the sides to rings. Where two cells of the part meet at a corner alone
// it turns right, so that each ring meets itself nowhere.
func (t *tracer) rings() orb.Polygon {
	var rings orb.Polygon
	outer := 0
	for _, from := range slices.Sorted(maps.Keys(t.leaves)) {
		if t.leaves[from] == 0 {
			continue
		}
		ring := t.ring(from)
		if ring.Orientation() == orb.CCW {
			outer = len(rings)
		}
		rings = append(rings, ring)
	}
	rings[0], rings[outer] = rings[outer], rings[0]
	return rings
}

// ring follows one ring from a corner and takes its sides away.
func (t *tracer) ring(from int) orb.Ring {
	var ring orb.Ring
	across := t.frame.W + 1
	way, at := -1, from
	first := -1
	for {
		out := t.leaves[at]
		next := turn(out, way)
		t.leaves[at] = out &^ (1 << next)
		if next != way {
			ring = append(ring, t.corner(at%across, at/across))
		}
		if first < 0 {
			first = next
		}
		way = next
		at += sideStep[way][0] + sideStep[way][1]*across
		if at == from && (t.leaves[at] == 0 || turn(t.leaves[at]|1<<first, way) == first) {
			break
		}
	}
	if way == first { // the corner that it began at is no bend
		ring = ring[1:]
	}
	return append(ring, ring[0])
}

// turn chooses a way on from a corner: right before straight on before left.
func turn(out uint8, way int) int {
	if way >= 0 {
		for _, by := range []int{3, 0, 1} {
			if next := (way + by) % 4; out&(1<<next) != 0 {
				return next
			}
		}
	}
	for next := range 4 {
		if out&(1<<next) != 0 {
			return next
		}
	}
	panic("surface: an outline that does not close")
}

func (t *tracer) corner(x, y int) orb.Point {
	f := t.frame
	return orb.Point{f.West + float64(x)*f.DX, f.North - float64(y)*f.DY}
}
