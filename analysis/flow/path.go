package flow

import (
	"errors"
	"fmt"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/grid"
)

// End tells where a path of water leaves the ground.
type End uint8

const (
	// OffGround is the end at the grid's edge.
	OffGround End = iota
	// NoDataEnd is the end beside a cell whose height is not known.
	NoDataEnd
	// StayEnd is the end in a cell whose water goes no further over the ground: an
	// inlet, or the pit of a hollow that is not full.
	StayEnd
)

// A Path is the way of a drop of water over the ground.
type Path struct {
	// Line runs from where the drop falls, through the centres of the cells below,
	// to the side or corner of the last cell where the drop leaves the ground, or
	// to the centre of the cell where it stays.
	Line orb.LineString
	// Length is the length of Line on plan [m].
	Length float64
	// Drop is how far the last cell lies below where the drop falls [m]. It is
	// less than 0 where a hollow must fill before the drop gets away.
	Drop float64
	End  End
}

// Next returns the cell that water goes on to from cell c; ok is false, and next c
// itself, where it stays, leaves the ground, or where there is no direction.
func Next(dir grid.Grid[grid.Dir], c int32) (next int32, ok bool) {
	n, ok := receiver(dir, int(c)%dir.W, int(c)/dir.W)
	if !ok {
		return c, false
	}
	return int32(n), true
}

// Trace returns the indexes of the cells that water from cell (x, y) runs
// through, itself first and last the cell where it leaves the ground or stays;
// none when (x, y) has no direction.
func Trace(dir grid.Grid[grid.Dir], x, y int) []int32 {
	if !dir.In(x, y) || dir.At(x, y) == grid.NoDir {
		return nil
	}
	c := y*dir.W + x
	cells := []int32{int32(c)}
	// A path longer than the grid has cells runs in a circle; it is cut there.
	for len(cells) <= len(dir.V) {
		n, ok := receiver(dir, c%dir.W, c/dir.W)
		if !ok {
			break
		}
		cells = append(cells, int32(n))
		c = n
	}
	return cells
}

// Drop returns the path of a drop that falls at the given point. It ends where it
// would first run along the edge of the grid: that tells of the edge, not of the
// ground.
func Drop(ground grid.Ground, dir grid.Grid[grid.Dir], at orb.Point) (Path, error) {
	if dir.Frame != ground.Frame || len(dir.V) != len(ground.V) {
		return Path{}, errors.New("the directions lie on other cells than the ground; work them out from this ground")
	}
	x, y, ok := ground.Cell(at)
	if !ok {
		return Path{}, fmt.Errorf("the point at %.2f east, %.2f north lies off the ground; choose one on it", at[0], at[1])
	}
	cells := Trace(dir, x, y)
	if cells == nil {
		return Path{}, fmt.Errorf("the ground has no height at %.2f east, %.2f north; choose another point", at[0], at[1])
	}
	cells, alongEdge := untilEdge(dir.Frame, cells)
	line := make(orb.LineString, 1, len(cells)+1)
	line[0] = at
	for _, c := range cells[1:] {
		line = append(line, dir.Centre(int(c)%dir.W, int(c)/dir.W))
	}
	last := int(cells[len(cells)-1])
	out := dir.V[last]
	if alongEdge {
		out = wayOff(ground, last%dir.W, last/dir.W)
	}
	p := Path{Line: line, Drop: grid.Sample(ground, at) - float64(ground.V[last])}
	var end orb.Point
	if end, p.End = ending(dir, last, out); p.End != StayEnd || len(line) == 1 {
		p.Line = append(line, end)
	}
	p.Length = planar.Length(p.Line)
	return p, nil
}

// ending returns where a path ends that leaves cell c in direction out, and how.
func ending(dir grid.Grid[grid.Dir], c int, out grid.Dir) (orb.Point, End) {
	x, y := c%dir.W, c/dir.W
	switch {
	case out == grid.Stay:
		return dir.Centre(x, y), StayEnd
	case dir.In(x+grid.StepX[out], y+grid.StepY[out]):
		return brink(dir.Frame, x, y, out), NoDataEnd
	}
	return brink(dir.Frame, x, y, out), OffGround
}

// untilEdge cuts a path before its first step from one of the grid's outermost
// cells to another, and reports whether it has one.
func untilEdge(f grid.Frame, cells []int32) (cut []int32, ok bool) {
	outermost := func(c int32) bool {
		x, y := int(c)%f.W, int(c)/f.W
		return x == 0 || y == 0 || x == f.W-1 || y == f.H-1
	}
	for i := 1; i < len(cells); i++ {
		if outermost(cells[i-1]) && outermost(cells[i]) {
			return cells[:i], true
		}
	}
	return cells, false
}

// brink returns the middle of the side, or the corner, where direction d leaves
// cell (x, y).
func brink(f grid.Frame, x, y int, d grid.Dir) orb.Point {
	p := f.Centre(x, y)
	p[0] += float64(grid.StepX[d]) * f.DX / 2
	p[1] -= float64(grid.StepY[d]) * f.DY / 2
	return p
}

// Catchment marks the cells that drain through cell (x, y), itself included. It
// marks none when (x, y) has no direction.
func Catchment(dir grid.Grid[grid.Dir], x, y int) grid.Grid[bool] {
	in := grid.New[bool](dir.Frame)
	if !dir.In(x, y) || dir.At(x, y) == grid.NoDir {
		return in
	}
	in.Set(x, y, true)
	found := []int32{int32(y*dir.W + x)}
	for len(found) > 0 {
		c := int(found[len(found)-1])
		found = found[:len(found)-1]
		for d := range grid.Dir(8) {
			ux, uy := c%dir.W+grid.StepX[d], c/dir.W+grid.StepY[d]
			if dir.In(ux, uy) && dir.At(ux, uy) == d.Back() && !in.At(ux, uy) {
				in.Set(ux, uy, true)
				found = append(found, int32(uy*dir.W+ux))
			}
		}
	}
	return in
}
