// Package grid holds rasters: a Frame that says where the cells lie, and a
// Grid that puts a value in each.
//
// Cells are numbered (x, y): x counts columns from the west, y counts rows from
// the north, both from 0. Easting grows with x and northing falls with y. Sizes
// are ground metres. In a grid of heights NaN marks a cell of no data.
package grid

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// MaxCells is the largest grid taken into memory: 200 million cells is 800 MB
// of heights, and some 3 GB with everything that is worked out from them.
const MaxCells = 200_000_000

// MostCells is the largest grid that is taken at all, kept on disk: what numbers
// cells has 31 bits for it, and two numbers of them for other uses.
const MostCells = math.MaxInt32 - 1

// A Frame places a regular grid on the ground. The zero Frame has no cells.
type Frame struct {
	// W and H count columns and rows.
	W, H int
	// West and North are the outer edges of the first column and row [m].
	West, North float64
	// DX and DY are the cell's width and height [m], both positive.
	DX, DY float64
}

// Square returns a frame of w by h square cells of the given size [m].
func Square(w, h int, west, north, cell float64) Frame {
	return Frame{W: w, H: h, West: west, North: north, DX: cell, DY: cell}
}

// Len counts the cells.
func (f Frame) Len() int { return f.W * f.H }

// CellArea is the plan area of one cell [m²].
func (f Frame) CellArea() float64 { return f.DX * f.DY }

// Centre returns the middle of cell (x, y).
func (f Frame) Centre(x, y int) orb.Point {
	return orb.Point{f.West + (float64(x)+0.5)*f.DX, f.North - (float64(y)+0.5)*f.DY}
}

// Cell returns the cell that holds p; ok is false when p lies outside. A point
// on the south or east edge belongs to the last row or column.
func (f Frame) Cell(p orb.Point) (x, y int, ok bool) {
	fx, fy := (p[0]-f.West)/f.DX, (f.North-p[1])/f.DY
	if !(fx >= 0 && fy >= 0 && fx <= float64(f.W) && fy <= float64(f.H)) || f.Len() == 0 {
		return 0, 0, false
	}
	return min(int(fx), f.W-1), min(int(fy), f.H-1), true
}

// Bound is the rectangle that the cells cover.
func (f Frame) Bound() orb.Bound {
	return orb.Bound{
		Min: orb.Point{f.West, f.North - float64(f.H)*f.DY},
		Max: orb.Point{f.West + float64(f.W)*f.DX, f.North},
	}
}

// In reports whether (x, y) is a cell of the frame.
func (f Frame) In(x, y int) bool { return uint(x) < uint(f.W) && uint(y) < uint(f.H) }

// Check reports a frame that cannot hold a ground in memory.
func (f Frame) Check() error {
	if f.W > 0 && f.H > 0 && int64(f.W)*int64(f.H) > MaxCells {
		return fmt.Errorf("the grid is %d by %d cells, more than the %d million that fit in memory; cut it to the site or choose a larger cell",
			f.W, f.H, MaxCells/1_000_000)
	}
	return f.CheckLarge()
}

// CheckLarge reports a frame that cannot hold a ground at all.
func (f Frame) CheckLarge() error {
	switch {
	case f.W < 1 || f.H < 1:
		return fmt.Errorf("the grid is %d by %d cells; it needs one at least", f.W, f.H)
	case int64(f.W)*int64(f.H) > MostCells:
		return fmt.Errorf("the grid is %d by %d cells, more than the %d million that can be worked on; cut it to the site or choose a larger cell",
			f.W, f.H, MostCells/1_000_000)
	case !(f.DX > 0) || !(f.DY > 0) || math.IsInf(f.DX, 0) || math.IsInf(f.DY, 0):
		return fmt.Errorf("the cell is %g by %g m; both must be more than 0", f.DX, f.DY)
	case math.IsNaN(f.West+f.North) || math.IsInf(f.West+f.North, 0):
		return fmt.Errorf("the grid's corner is at %g east, %g north; give real coordinates", f.West, f.North)
	}
	return nil
}
