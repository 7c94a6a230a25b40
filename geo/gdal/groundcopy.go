package gdal

import (
	"context"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/grid"
)

// own returns the net of the file's cells where they may be copied as they are: square,
// in rows along the axes, in the target system and of the size that is asked for.
func (s *source) own(to crs.CRS, o GroundOptions) (f grid.Frame, ok bool) {
	t := s.Transform
	cell := t[1]
	square := t[2] == 0 && t[4] == 0 && cell > 0 && math.Abs(math.Abs(t[5])/cell-1) < 1e-9
	same := s.CRS.Same(to) || !s.CRS.Known() && s.CRS.Metre == 1
	if !square || !same || o.Cell != 0 && math.Abs(o.Cell/cell-1) > 1e-9 {
		return f, false
	}
	north := t[3]
	if t[5] > 0 {
		north += t[5] * float64(s.Grid.H)
	}
	return grid.Square(s.Grid.W, s.Grid.H, t[0], north, cell), true
}

// copied reads the ground without resampling; ok is false where its cells are
// not such that it may.
func (s *source) copied(ctx context.Context, to crs.CRS, o GroundOptions) (grid.Ground, bool, error) {
	frame, ok := s.own(to, o)
	if !ok {
		return grid.Ground{}, false, nil
	}
	win, southUp, cell := s.all(), s.Transform[5] > 0, frame.DX
	if o.cropped() {
		win = windowOf(frame, o.Bound)
		if win.w < 1 || win.h < 1 {
			return grid.Ground{}, true, errOutside
		}
		frame = grid.Square(win.w, win.h, frame.West+float64(win.x)*cell, frame.North-float64(win.y)*cell, cell)
		if southUp {
			win.y = s.Grid.H - win.y - win.h
		}
	}
	if err := s.readWindow(ctx, win); err != nil {
		return grid.Ground{}, true, err
	}
	ground := grid.Ground{Frame: frame, V: s.Grid.V}
	if southUp {
		flip(ground)
	}
	return ground, true, nil
}

var errOutside = fmt.Errorf("the rectangle to cut out lies outside it; look at the site's place and reference system")

// windowOf returns the cells of f that b touches.
func windowOf(f grid.Frame, b orb.Bound) window {
	const edge = 1e-6 // of a cell: a bound on a cell's edge does not touch the next
	x0 := max(0, int(math.Floor((b.Min[0]-f.West)/f.DX+edge)))
	y0 := max(0, int(math.Floor((f.North-b.Max[1])/f.DY+edge)))
	x1 := min(f.W, int(math.Ceil((b.Max[0]-f.West)/f.DX-edge)))
	y1 := min(f.H, int(math.Ceil((f.North-b.Min[1])/f.DY-edge)))
	return window{x0, y0, x1 - x0, y1 - y0}
}

// flip turns the order of the rows.
func flip(g grid.Ground) {
	for y := range g.H / 2 {
		upper, lower := g.Row(y), g.Row(g.H-1-y)
		for x := range upper {
			upper[x], lower[x] = lower[x], upper[x]
		}
	}
}
