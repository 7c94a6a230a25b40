package action

import (
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"

	"runnel/analysis/flow"
	"runnel/geo/gdal"
	"runnel/geo/grid"
)

// runoffFile is the name of what the weights of a ground add up to.
const runoffFile = "runoff.tif"

// errWeightsOnDisk refuses weights where the ground is not in memory: they and
// their sums take 21 bytes a cell, which are not kept on disk.
var errWeightsOnDisk = errors.New("weights of runoff need the ground in memory")

// checkRunoff refuses flags that do not go together.
func (w *Water) checkRunoff() error {
	if w.Runoff == "" {
		return nil
	}
	if w.Scratch {
		return mistyped("%v; leave out --scratch or --runoff", errWeightsOnDisk)
	}
	in, err := os.Stat(w.Runoff)
	if err != nil {
		return nil // for the reader to say
	}
	if out, err := os.Stat(filepath.Join(w.Dir, runoffFile)); err == nil && os.SameFile(in, out) {
		return mistyped("%s would be written over the weights of runoff; choose another folder", runoffFile)
	}
	return nil
}

// readWeights reads the square metres of full runoff that each cell of the ground
// brings: the share of the rain that runs off it times its plan area.
func (of *paths) readWeights(ctx context.Context, path string) ([]float64, error) {
	r, err := gdal.ReadRaster(ctx, path)
	if err != nil {
		return nil, err
	}
	name, ground := filepath.Base(path), of.ground.Grid
	switch {
	case r.Grid.W != ground.W || r.Grid.H != ground.H:
		return nil, sentence("%s has %d columns and %d rows, and the ground %d and %d; give weights of the ground's own cells",
			name, r.Grid.W, r.Grid.H, ground.W, ground.H)
	case !samePlace(r, of.ground):
		return nil, sentence("%s lies elsewhere than the ground; give weights of the ground's own cells", name)
	}
	area := ground.CellArea()
	weights := make([]float64, ground.Len())
	for c, v := range r.Grid.V {
		switch x, y := c%ground.W, c/ground.W; {
		case grid.IsNoData(ground.V[c]):
		case grid.IsNoData(v):
			return nil, sentence("%s has no data at column %d, row %d, where the ground has a height; give a weight there, 0 for no runoff", name, x, y)
		case v < 0:
			return nil, sentence("%s is %g at column %d, row %d; give a weight of 0 or more", name, v, x, y)
		default:
			weights[c] = float64(v) * area
		}
	}
	return weights, nil
}

// samePlace reports whether the corners of two rasters of one size lie within a
// hundredth of a cell of each other: files in text round their coordinates.
func samePlace(a, b *gdal.Raster) bool {
	if a.CRS.Code != 0 && b.CRS.Code != 0 && a.CRS.Code != b.CRS.Code {
		return false
	}
	t, u := a.Transform, b.Transform
	most := 0.01 * min(math.Hypot(u[1], u[4]), math.Hypot(u[2], u[5]))
	for _, x := range []float64{0, float64(b.Grid.W)} {
		for _, y := range []float64{0, float64(b.Grid.H)} {
			east := t[0] - u[0] + x*(t[1]-u[1]) + y*(t[2]-u[2])
			north := t[3] - u[3] + x*(t[4]-u[4]) + y*(t[5]-u[5])
			if math.Hypot(east, north) > most {
				return false
			}
		}
	}
	return true
}

// addRunoff adds up the weights along the paths.
func (of *paths) addRunoff(ctx context.Context, t *WaterSeconds) error {
	if of.weights == nil {
		return nil
	}
	seconds, err := timed(func() (err error) {
		of.runoff, err = flow.Accumulate(ctx, of.flow.Dir, of.weights)
		return err
	})
	of.weights = nil
	t.Accumulation = millionth(t.Accumulation + seconds)
	return err
}
