// Package raster finds the cells of a frame that lines and areas lie over.
package raster

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
	"github.com/paulmach/orb/planar"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// Broaden visits the cells whose middle lies within half a width [m] of a line,
// some twice.
func Broaden(f grid.Frame, line orb.LineString, half float64, visit func(c int32)) {
	for i := 1; i < len(line); i++ {
		x0, y0, x1, y1, ok := span(f, orb.MultiPoint{line[i-1], line[i]}.Bound().Pad(half))
		for y := y0; ok && y <= y1; y++ {
			for x := x0; x <= x1; x++ {
				m := f.Centre(x, y)
				if planar.Distance(m, plan.NearestOnSegment(line[i-1], line[i], m)) <= half {
					visit(int32(y*f.W + x))
				}
			}
		}
	}
}

// span returns the columns and rows that a bound lies over.
func span(f grid.Frame, b orb.Bound) (x0, y0, x1, y1 int, ok bool) {
	if !f.Bound().Intersects(b) {
		return 0, 0, 0, 0, false
	}
	low, high := inCells(f, orb.Point{b.Min[0], b.Max[1]}), inCells(f, orb.Point{b.Max[0], b.Min[1]})
	return int(max(0, low[0])), int(max(0, low[1])),
		int(min(float64(f.W-1), high[0])), int(min(float64(f.H-1), high[1])), true
}

// inCells returns a place in columns and rows from the frame's north-west corner.
func inCells(f grid.Frame, p orb.Point) orb.Point {
	return orb.Point{(p[0] - f.West) / f.DX, (f.North - p[1]) / f.DY}
}

// Along visits the cells that a line runs through, in its order, some twice.
// Each shares a side with the one before, so that of eight neighbours no two on
// different sides of the line touch: cell by cell as [AmanatidesWoo1987] walk,
// and at a corner through the cells on both sides of it.
func Along(f grid.Frame, line orb.LineString, visit func(c int32)) {
	scaled := make(orb.LineString, len(line))
	for i, p := range line {
		scaled[i] = inCells(f, p)
	}
	sheet := orb.Bound{Max: orb.Point{float64(f.W), float64(f.H)}}
	for _, part := range clip.LineString(sheet, scaled) {
		for i := 1; i < len(part); i++ {
			w := walk{frame: f, visit: visit}
			w.from(part[i-1], part[i])
		}
	}
}

// A walk goes through the cells of one segment.
type walk struct {
	frame grid.Frame
	visit func(c int32)
}

func (w walk) at(x, y int) {
	if w.frame.In(x, y) {
		w.visit(int32(y*w.frame.W + x))
	}
}

// from walks from a to b, which lie on the frame.
func (w walk) from(a, b orb.Point) {
	x, left, tx, dx, sx := axis(a[0], b[0], w.frame.W)
	y, down, ty, dy, sy := axis(a[1], b[1], w.frame.H)
	w.at(x, y)
	for left > 0 || down > 0 {
		switch {
		case left > 0 && down > 0 && math.Abs(tx-ty) < cornerSlack:
			w.at(x+sx, y)
			w.at(x, y+sy)
			x, left, tx = x+sx, left-1, tx+dx
			y, down, ty = y+sy, down-1, ty+dy
		case down == 0 || left > 0 && tx < ty:
			x, left, tx = x+sx, left-1, tx+dx
		default:
			y, down, ty = y+sy, down-1, ty+dy
		}
		w.at(x, y)
	}
}

// cornerSlack is how near to a corner of four cells, as a share of a segment, a
// line is taken to pass through it.
const cornerSlack = 1e-9

// axis returns, along one axis of n cells, the cell of a, how many sides of cells
// lie before b, the share of the segment at the first of them, that from one to
// the next, and the way.
func axis(a, b float64, n int) (cell, sides int, first, each float64, step int) {
	cell = min(max(int(a), 0), n-1)
	last := min(max(int(b), 0), n-1)
	length := math.Abs(b - a)
	if last >= cell {
		return cell, last - cell, (float64(cell+1) - a) / length, 1 / length, 1
	}
	return cell, cell - last, (a - float64(cell)) / length, 1 / length, -1
}

// Within lists the cells whose middle lies in an area, row by row. Of a middle
// on an outline, those to the west and south of the area are in.
func Within(f grid.Frame, area orb.Polygon) []int32 {
	crossings := make(map[int][]float64)
	for _, ring := range area {
		for i := 1; i < len(ring); i++ {
			cross(f, inCells(f, ring[i-1]), inCells(f, ring[i]), crossings)
		}
	}
	var cells []int32
	rows := make([]int, 0, len(crossings))
	for y := range crossings {
		rows = append(rows, y)
	}
	slices.Sort(rows)
	for _, y := range rows {
		at := crossings[y]
		slices.Sort(at)
		for i := 1; i < len(at); i += 2 {
			for x := firstMiddle(at[i-1], f.W); x < firstMiddle(at[i], f.W); x++ {
				cells = append(cells, int32(y*f.W+x))
			}
		}
	}
	return cells
}

// cross notes where the side from a to b meets the middles of rows.
func cross(f grid.Frame, a, b orb.Point, crossings map[int][]float64) {
	if a[1] > b[1] {
		a, b = b, a
	}
	for y := firstMiddle(a[1], f.H); y < firstMiddle(b[1], f.H); y++ {
		t := (float64(y) + 0.5 - a[1]) / (b[1] - a[1])
		crossings[y] = append(crossings[y], a[0]+t*(b[0]-a[0]))
	}
}

// firstMiddle returns the first of n cells whose middle is not before v; n where
// none is.
func firstMiddle(v float64, n int) int {
	return int(math.Ceil(max(0, min(float64(n), v-0.5))))
}
