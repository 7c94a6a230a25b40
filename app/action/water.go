package action

import (
	"context"
	"io"
	"math"
	"path/filepath"
	"runtime/debug"
	"time"

	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/scratch"
)

// Water finds the water paths and the hollows of a ground, in its own cells.
type Water struct {
	Ground  string  `arg:"" help:"An elevation raster."`
	Dir     string  `arg:"" help:"The folder for the results."`
	Depth   float64 `default:"0.05" placeholder:"M" help:"The least depth of a hollow to write, in metres."`
	Area    float64 `default:"1" placeholder:"M2" help:"The least area of a hollow to write, in m²."`
	Volume  float64 `default:"0.05" placeholder:"M3" help:"The least volume of a hollow to write, in m³."`
	Runoff  string  `placeholder:"FILE" help:"A raster of weights, the share of the rain that runs off each cell, to add up along the paths."`
	Scratch bool    `help:"Work on disk, in the folder for the results, as is done on a ground larger than memory."`
}

// Help tells what is written.
func (w *Water) Help() string {
	return `The ground is taken as it is: nothing is resampled. Written into the folder:

filled.tif: the surface when every hollow is full, in the file's height unit.

bearing.tif: the way each cell drains, a compass bearing in degrees; -1 is none.

area.tif: the area that drains through each cell, itself included, in m².

runoff.tif: with --runoff, the same with each cell's area times its weight, in m² of
full runoff. Each cell that has a height needs a weight of 0 or more, in a raster of
the ground's own columns, rows and place; columns and rows are counted from 0.

hollows.geojson: the hollows that have the least depth, area and volume, with id,
cells, area_m2, depth_m, volume_m3 and level, the level of its spill in the file's
height unit. stages are depth in m, area in m² and volume in m³ at each fifth of the
depth; outlet is the place where the water leaves; into the id of the next hollow
that it comes to, parent that of the one it lies in, and neighbours those of the
ones that it spills into or that spill into it.

water.json: how many cells, cells with a height (known) and hollows, the seconds
taken, the memory used.

A ground of more than 200 million cells is worked on in the folder for the results,
which takes some 30 bytes a cell while it lasts; weights need it in memory.`
}

// WaterFigures are what is said of a run over a ground.
type WaterFigures struct {
	// Cells are all cells of the raster, Known those that have a height.
	Cells int `json:"cells"`
	Known int `json:"known"`
	// Hollows are those that are written.
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
	ground  *gdal.Raster
	space   *scratch.Space // where all of it is kept, nil for memory
	flow    *flow.Flow
	tree    *hollow.Tree
	hollows []hollow.Nested
	weights []float64          // of runoff [m²], nil for none; gone once they are added up
	runoff  grid.Grid[float64] // what they add up to, without cells where there are none
}

// Run works the ground out and writes the results.
func (w *Water) Run(ctx context.Context, s Streams) error {
	if !(w.Depth >= 0 && w.Area >= 0 && w.Volume >= 0) {
		return mistyped("the least depth, area and volume of a hollow are %g m, %g m² and %g m³; give 0 or more", w.Depth, w.Area, w.Volume)
	}
	if err := w.checkRunoff(); err != nil {
		return err
	}
	var of paths
	var f WaterFigures
	defer func() { of.space.Close() }()
	var err error
	f.Seconds.Read, err = timed(func() error { return w.read(ctx, &of) })
	if err != nil {
		return err
	}
	s.tell(w.Ground, of.ground.Notes)
	if err := folder(w.Dir); err != nil {
		return err
	}
	if err := of.work(ctx, w, &f.Seconds); err != nil {
		return sentence("%s: %w", filepath.Base(w.Ground), err)
	}
	f.Cells, f.Known, f.Hollows = of.ground.Grid.Len(), of.ground.Known, len(of.hollows)
	f.Seconds.Write, err = timed(func() error { return of.write(ctx, w.Dir, s) })
	if err != nil {
		return err
	}
	f.PeakBytes = peakBytes()
	return writeFile(filepath.Join(w.Dir, "water.json"), func(out io.Writer) error { return writeJSON(out, f) })
}

// read reads the ground, into the folder where it is too large for memory, and
// the weights of runoff.
func (w *Water) read(ctx context.Context, of *paths) (err error) {
	var refusal error // without a space a ground too large for memory is not read
	of.ground, err = gdal.ReadRasterInto(ctx, w.Ground, func(f grid.Frame) *scratch.Space {
		if !w.Scratch && f.Len() <= grid.MaxCells {
			return nil
		}
		if w.Runoff != "" {
			refusal = sentence("%s: %w, and it is too large; leave out --runoff or cut it to the site", filepath.Base(w.Ground), errWeightsOnDisk)
			return nil
		}
		if refusal = folder(w.Dir); refusal == nil {
			of.space = scratch.New(w.Dir)
		}
		return of.space
	})
	if refusal != nil {
		return refusal
	}
	if err == nil && w.Runoff != "" {
		of.weights, err = of.readWeights(ctx, w.Runoff)
	}
	return err
}

// work runs the stages and times them.
func (of *paths) work(ctx context.Context, w *Water, t *WaterSeconds) (err error) {
	belongs := map[string]*float64{
		"fall": &t.Direction, "flats": &t.Direction, "carve": &t.Direction,
		"passes": &t.Fill, "tree": &t.Fill, "fill": &t.Fill, "count": &t.Accumulation,
	}
	of.flow, err = flow.Route(ctx, of.ground.Grid, flow.Options{Space: of.space, Stage: func(name string, seconds float64) {
		if stage := belongs[name]; stage != nil {
			*stage = millionth(*stage + seconds)
		}
	}})
	if err != nil {
		return err
	}
	if of.space != nil {
		debug.FreeOSMemory() // what routing took besides
	}
	if err := of.addRunoff(ctx, t); err != nil {
		return err
	}
	metre := of.ground.HeightMetre
	t.Hollows, err = timed(func() error {
		if of.tree, err = hollow.NewTree(ctx, of.flow); err != nil {
			return err
		}
		of.hollows, err = of.tree.Nest(hollow.Threshold{Depth: w.Depth / metre, Area: w.Area, Volume: w.Volume / metre})
		return err
	})
	return err
}

// timed returns how long f took [s].
func timed(f func() error) (float64, error) {
	start := time.Now()
	err := f()
	return millionth(time.Since(start).Seconds()), err
}

// noBearing stands in a cell that has no direction.
const noBearing = -1

func (of *paths) write(ctx context.Context, dir string, s Streams) error {
	at := gdal.Placement{Transform: of.ground.Transform, CRS: of.ground.CRS, NoData: math.NaN()}
	if err := gdal.WriteRows(ctx, filepath.Join(dir, "filled.tif"), of.filled(), at); err != nil {
		return err
	}
	if err := gdal.WriteRows(ctx, filepath.Join(dir, "area.tif"), of.areas(), at); err != nil {
		return err
	}
	if of.runoff.V != nil {
		if err := gdal.WriteRaster(ctx, filepath.Join(dir, runoffFile), of.runoff, at); err != nil {
			return err
		}
	}
	at.NoData = noBearing
	if err := gdal.WriteRows(ctx, filepath.Join(dir, "bearing.tif"), of.bearings(), at); err != nil {
		return err
	}
	return of.writeHollows(ctx, filepath.Join(dir, "hollows.geojson"), s)
}

func (of *paths) filled() gdal.Rows[float32] {
	g := of.flow.Filled
	return gdal.Rows[float32]{Frame: g.Frame, Of: func(lo, hi int) []float32 {
		of.space.Release()
		return g.V[lo*g.W : hi*g.W]
	}}
}

func (of *paths) areas() gdal.Rows[float64] {
	cell := of.ground.Grid.CellArea()
	return converted(of, of.flow.Cells, func(cells uint32) float64 {
		if cells == 0 {
			return math.NaN()
		}
		return float64(cells) * cell
	})
}

func (of *paths) bearings() gdal.Rows[int16] {
	var bearing [256]int16
	for d := range bearing {
		bearing[d] = noBearing
		if d < 8 {
			bearing[d] = int16(of.ground.Bearing(grid.Dir(d)))
		}
	}
	return converted(of, of.flow.Dir, func(d grid.Dir) int16 { return bearing[d] })
}

// converted are the cells of a grid in another form.
func converted[T any, U float32 | float64 | int16](of *paths, g grid.Grid[T], form func(T) U) gdal.Rows[U] {
	var rows []U
	return gdal.Rows[U]{Frame: g.Frame, Of: func(lo, hi int) []U {
		of.space.Release()
		rows = rows[:0]
		for _, v := range g.V[lo*g.W : hi*g.W] {
			rows = append(rows, form(v))
		}
		return rows
	}}
}
