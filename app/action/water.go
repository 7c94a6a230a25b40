package action

import (
	"context"
	"io"
	"math"
	"path/filepath"
	"time"

	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/geo/gdal"
	"runnel/geo/grid"
)

// Water finds the water paths and the hollows of a ground, in its own cells.
type Water struct {
	Ground string `arg:"" help:"An elevation raster."`
	Dir    string `arg:"" help:"The folder for the results."`
}

// Help tells what is written.
func (w *Water) Help() string {
	return `The ground is taken as it is: nothing is resampled. Written into the folder:

filled.tif: the surface when every hollow is full, in the file's height unit.
bearing.tif: the way each cell drains, a compass bearing in degrees; -1 is none.
area.tif: the area that drains through each cell, itself included, in m².
hollows.geojson: every hollow, with cells, area_m2, depth_m, volume_m3 and level,
the level of its spill in the file's height unit.
water.json: how many cells, cells with a height (known) and hollows, the seconds
taken, the memory used.`
}

// WaterFigures are what is said of a run over a ground.
type WaterFigures struct {
	// Cells are all cells of the raster, Known those that have a height.
	Cells     int          `json:"cells"`
	Known     int          `json:"known"`
	Hollows   int          `json:"hollows"`
	Seconds   WaterSeconds `json:"seconds"`
	PeakBytes int64        `json:"peak_bytes"`
}

// WaterSeconds are the seconds that each stage took.
type WaterSeconds struct {
	Read         float64 `json:"read"`
	Fill         float64 `json:"fill"`
	Direction    float64 `json:"direction"`
	Accumulation float64 `json:"accumulation"`
	Hollows      float64 `json:"hollows"`
	Write        float64 `json:"write"`
}

// paths are what is worked out of a ground.
type paths struct {
	ground    *gdal.Raster
	filled    grid.Ground
	direction grid.Grid[grid.Dir]
	area      grid.Grid[float64]
	hollows   []hollow.Hollow
}

// Run works the ground out and writes the results.
func (w *Water) Run(ctx context.Context, s Streams) error {
	var of paths
	var f WaterFigures
	var err error
	f.Seconds.Read, err = timed(func() error { of.ground, err = gdal.ReadRaster(ctx, w.Ground); return err })
	if err != nil {
		return err
	}
	s.tell(w.Ground, of.ground.Notes)
	if err := folder(w.Dir); err != nil {
		return err
	}
	if err := of.work(ctx, &f.Seconds); err != nil {
		return sentence("%s: %w", filepath.Base(w.Ground), err)
	}
	f.Cells, f.Hollows = of.ground.Grid.Len(), len(of.hollows)
	_, _, f.Known = grid.Extent(of.ground.Grid)
	f.Seconds.Write, err = timed(func() error { return of.write(ctx, w.Dir, s) })
	if err != nil {
		return err
	}
	f.PeakBytes = peakBytes()
	return writeFile(filepath.Join(w.Dir, "water.json"), func(out io.Writer) error { return writeJSON(out, f) })
}

// work runs the stages and times them.
func (of *paths) work(ctx context.Context, t *WaterSeconds) (err error) {
	ground := of.ground.Grid
	for _, stage := range []struct {
		seconds *float64
		run     func() error
	}{
		{&t.Fill, func() error { of.filled, err = flow.Fill(ctx, ground); return err }},
		{&t.Direction, func() error { of.direction, err = flow.Directions(ctx, ground, of.filled); return err }},
		{&t.Accumulation, func() error { of.area, err = flow.Accumulate(ctx, of.direction, nil); return err }},
		{&t.Hollows, func() error { of.hollows, err = hollow.Find(ctx, ground, of.filled); return err }},
	} {
		if *stage.seconds, err = timed(stage.run); err != nil {
			return err
		}
	}
	return nil
}

func (of *paths) write(ctx context.Context, dir string, s Streams) error {
	at := gdal.Placement{Transform: of.ground.Transform, CRS: of.ground.CRS, NoData: math.NaN()}
	if err := gdal.WriteRaster(ctx, filepath.Join(dir, "filled.tif"), of.filled, at); err != nil {
		return err
	}
	if err := gdal.WriteRaster(ctx, filepath.Join(dir, "area.tif"), of.area, at); err != nil {
		return err
	}
	at.NoData = noBearing
	if err := gdal.WriteRaster(ctx, filepath.Join(dir, "bearing.tif"), of.bearings(), at); err != nil {
		return err
	}
	return of.writeHollows(filepath.Join(dir, "hollows.geojson"), s)
}

// noBearing stands in a cell that has no direction.
const noBearing = -1

func (of *paths) bearings() grid.Grid[int16] {
	var bearing [256]int16
	for d := range bearing {
		bearing[d] = noBearing
		if d < 8 {
			bearing[d] = int16(of.ground.Bearing(grid.Dir(d)))
		}
	}
	g := grid.New[int16](of.direction.Frame)
	for i, d := range of.direction.V {
		g.V[i] = bearing[d]
	}
	return g
}

// timed returns how long f took [s].
func timed(f func() error) (float64, error) {
	start := time.Now()
	err := f()
	return millionth(time.Since(start).Seconds()), err
}
