package gdal

import (
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/lukeroth/gdal"

	"runnel/geo/grid"
	"runnel/geo/scratch"
)

// A window is a rectangle of a raster's cells.
type window struct{ x, y, w, h int }

// bandRows is about how many rows are read between two looks at the context.
const bandRows = 128

// lowest bounds the heights that are believed: nothing on land lies as low in
// any unit, and -9999 and its like are what programs write for no data.
const lowest = -9998

// highest bounds them from above; beyond lie the fillers of float rasters.
const highest = 1e30

var errNoHeight = errors.New("no cell has a height: all are marked as no data; give a raster that covers the site")

// readWindow reads the cells of a window into s.Grid, whose size becomes the
// window's, with values that are no heights taken out and told of.
func (s *source) readWindow(ctx context.Context, win window) error {
	guessed := 0
	s.Known = 0
	err := s.readCells(ctx, win, func(cells []float32) {
		guessed += clean(cells)
		s.Known += countKnown(cells)
	})
	if err != nil {
		return err
	}
	if guessed > 0 {
		s.note("%d cells hold values that are no heights, such as -9999, though it does not declare them; they are taken for no data.", guessed)
	}
	if s.Known == 0 {
		return errNoHeight
	}
	return nil
}

// readCells reads the cells of a window as the file has them, and shows them to
// look, some rows at a time.
func (s *source) readCells(ctx context.Context, win window, look func(cells []float32)) error {
	s.Grid.W, s.Grid.H = win.w, win.h
	check := s.Grid.Check
	if s.space != nil {
		check = s.Grid.CheckLarge
	}
	if err := check(); err != nil {
		return err
	}
	var err error
	if s.Grid.V, err = scratch.Make[float32](s.space, s.Grid.Len()); err != nil {
		return err
	}
	_, block := s.band.BlockSize()
	step := bandRows
	if block > 0 && block < 4*bandRows {
		step = (bandRows + block - 1) / block * block
	}
	for y := 0; y < win.h; y += step {
		if err := ctx.Err(); err != nil {
			return err
		}
		rows := window{win.x, win.y + y, win.w, min(step, win.h-y)}
		cells := s.Grid.V[y*win.w : (y+rows.h)*win.w]
		if err := s.readRows(cells, rows); err != nil {
			return fmt.Errorf("rows %d to %d cannot be read: the file is damaged or not whole; copy it again from where it came", rows.y+1, rows.y+rows.h)
		}
		look(cells)
		s.space.Release()
	}
	return nil
}

// readRows reads whole heights; cells that the file marks as no data become NaN.
func (s *source) readRows(out []float32, win window) error {
	var err error
	if s.band.RasterDataType() == gdal.Float32 && s.scale == 1 && s.offset == 0 {
		err = s.readFloats(out, win)
	} else {
		err = s.readNumbers(out, win)
	}
	if err == nil && s.mask {
		err = s.applyMask(out, win)
	}
	if err == nil && failed() {
		err = gdal.ErrFailure
	}
	return err
}

func (s *source) readFloats(out []float32, win window) error {
	if err := s.band.IO(gdal.Read, win.x, win.y, win.w, win.h, out, win.w, win.h, 0, 0); err != nil {
		return err
	}
	if nodata := float32(s.nodata); s.declared {
		for i, v := range out {
			if v == nodata {
				out[i] = grid.NoData
			}
		}
	}
	return nil
}

func (s *source) readNumbers(out []float32, win window) error {
	stored := make([]float64, len(out))
	if err := s.band.IO(gdal.Read, win.x, win.y, win.w, win.h, stored, win.w, win.h, 0, 0); err != nil {
		return err
	}
	for i, v := range stored {
		if s.declared && v == s.nodata {
			out[i] = grid.NoData
			continue
		}
		out[i] = float32(v*s.scale + s.offset)
	}
	return nil
}

func (s *source) applyMask(out []float32, win window) error {
	shown := make([]uint8, len(out))
	if err := s.band.GetMaskBand().IO(gdal.Read, win.x, win.y, win.w, win.h, shown, win.w, win.h, 0, 0); err != nil {
		return err
	}
	for i, v := range shown {
		if v == 0 {
			out[i] = grid.NoData
		}
	}
	return nil
}

// clean turns values that are no heights into no data and counts them.
func clean(cells []float32) int {
	found := 0
	for i, v := range cells {
		if v <= lowest || v > highest || math.IsInf(float64(v), 0) {
			cells[i] = grid.NoData
			found++
		}
	}
	return found
}

// countKnown counts the cells that have a height.
func countKnown(cells []float32) int {
	known := 0
	for _, v := range cells {
		if !grid.IsNoData(v) {
			known++
		}
	}
	return known
}
