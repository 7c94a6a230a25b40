package gdal

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"github.com/lukeroth/gdal"

	"runnel/geo/crs"
	"runnel/geo/grid"
)

// A Placement says where a raster lies, and what stands in cells of no data.
type Placement struct {
	// Transform is as in Raster; the zero Transform puts the grid where its own
	// frame says.
	Transform [6]float64
	CRS       crs.CRS
	// NoData is the value of cells of no data, which the file declares. Where the
	// grid holds NaN and NoData is another number, the number is written. The zero
	// NoData is nought, not NaN.
	NoData float64
}

// Place returns the placement of a north-up grid in a system, its cells of no
// data NaN.
func Place(f grid.Frame, c crs.CRS) Placement {
	return Placement{Transform: [6]float64{f.West, f.DX, 0, f.North, 0, -f.DY}, CRS: c, NoData: math.NaN()}
}

// WriteRaster writes a grid as a tiled, compressed GeoTIFF, whole or not at all.
func WriteRaster[T float32 | float64 | int16](ctx context.Context, path string, g grid.Grid[T], at Placement) error {
	return WriteRows(ctx, path, Rows[T]{g.Frame, func(lo, hi int) []T { return g.V[lo*g.W : hi*g.W] }}, at)
}

// Rows are the cells of a raster that are made as they are written.
type Rows[T float32 | float64 | int16] struct {
	grid.Frame
	// Of returns rows [lo, hi), which are called for in turn.
	Of func(lo, hi int) []T
}

// WriteRows is WriteRaster for rows that are not all in memory.
func WriteRows[T float32 | float64 | int16](ctx context.Context, path string, g Rows[T], at Placement) error {
	if g.W < 1 || g.H < 1 {
		return g.Frame.Check()
	}
	if ext := strings.ToLower(filepath.Ext(path)); ext != ".tif" && ext != ".tiff" {
		return fmt.Errorf("%s is to be a GeoTIFF; end its name in .tif", filepath.Base(path))
	}
	if at.Transform == ([6]float64{}) {
		at.Transform = Place(g.Frame, at.CRS).Transform
	}
	return atomically(path, func(temporary string) error {
		err := do(func() error {
			set, err := createTIFF(temporary, g.Frame, at, typeOf[T]())
			if err != nil {
				return err
			}
			defer set.Close()
			band := set.RasterBand(1)
			if err := band.SetNoDataValue(at.NoData); err != nil {
				return fmt.Errorf("the value for no data, %g, cannot be stored", at.NoData)
			}
			return writeRows(ctx, band, g, T(at.NoData))
		})
		if err != nil {
			return fmt.Errorf("%s cannot be written: %w", filepath.Base(path), err)
		}
		return nil
	})
}

func typeOf[T float32 | float64 | int16]() gdal.DataType {
	var zero T
	switch any(zero).(type) {
	case float32:
		return gdal.Float32
	case float64:
		return gdal.Float64
	}
	return gdal.Int16
}

func createTIFF(path string, f grid.Frame, at Placement, kind gdal.DataType) (gdal.Dataset, error) {
	driver, err := gdal.GetDriverByName("GTiff")
	if err != nil {
		return gdal.Dataset{}, err
	}
	wkt, err := wktOf(at.CRS)
	if err != nil {
		return gdal.Dataset{}, err
	}
	set := driver.Create(path, f.W, f.H, 1, kind, []string{"TILED=YES", "COMPRESS=DEFLATE", "ZLEVEL=1", "NUM_THREADS=ALL_CPUS", "BIGTIFF=IF_SAFER"})
	if handle(set) == nil {
		return set, fmt.Errorf("the disk may be full or the folder closed to you")
	}
	err = set.SetGeoTransform(at.Transform)
	if err == nil && wkt != "" {
		err = set.SetProjection(wkt)
	}
	if err != nil {
		set.Close()
		return set, fmt.Errorf("its place cannot be stored")
	}
	return set, nil
}

// tileRows is the height of a tile of what we write: tiles are written once each.
const tileRows = 256

func writeRows[T float32 | float64 | int16](ctx context.Context, band gdal.RasterBand, g Rows[T], nodata T) error {
	for y := 0; y < g.H; y += tileRows {
		if err := ctx.Err(); err != nil {
			return err
		}
		h := min(tileRows, g.H-y)
		rows := filled(g.Of(y, y+h), nodata)
		if err := band.IO(gdal.Write, 0, y, g.W, h, rows, g.W, h, 0, 0); err != nil {
			return fmt.Errorf("rows %d to %d: the disk may be full", y+1, y+h)
		}
	}
	return nil
}

// filled returns cells with NaN replaced by nodata, copied where there is any.
func filled[T float32 | float64 | int16](cells []T, nodata T) []T {
	if nodata != nodata {
		return cells
	}
	copied := false
	for i, v := range cells {
		if v == v {
			continue
		}
		if !copied {
			cells, copied = append([]T(nil), cells...), true
		}
		cells[i] = nodata
	}
	return cells
}
