package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"time"

	"runnel/analysis/flow"
	"runnel/geo/gdal"
)

// hillshade returns the seconds that gdaldem takes to shade the ground's file,
// its start and its writing included.
func (g ground) hillshade(ctx context.Context) (float64, error) {
	shaded := filepath.Join(filepath.Dir(g.file), "shaded.tif")
	defer os.Remove(shaded)
	return timed(func() error { return silent(exec.CommandContext(ctx, "gdaldem", "hillshade", "-q", g.file, shaded)) })
}

// oneShot measures a process of its own that reads the file and routes it once,
// with no memory warm, beside the yardstick.
func oneShot(ctx context.Context, g ground, c *column) error {
	self, err := os.Executable()
	if err != nil {
		return err
	}
	var once, yardstick []float64
	for range g.rounds() {
		shade, err := g.hillshade(ctx)
		if err != nil {
			return err
		}
		took, err := timed(func() error { return silent(exec.CommandContext(ctx, self, "-once", g.file)) })
		if err != nil {
			return err
		}
		once, yardstick = append(once, took), append(yardstick, shade)
	}
	c.set(onceOfHillshade, median(once)/median(yardstick))
	return nil
}

// readAndRoute is the work that oneShot times.
func readAndRoute(ctx context.Context, file string) error {
	raster, err := gdal.ReadRaster(ctx, file)
	if err != nil {
		return err
	}
	_, err = flow.Route(ctx, raster.Grid, flow.Options{})
	return err
}

// timed returns how long f took [s].
func timed(f func() error) (float64, error) {
	start := time.Now()
	err := f()
	return time.Since(start).Seconds(), err
}

func median(v []float64) float64 { return quantile(v, 0.5) }

// quantile returns the value that a share of v does not exceed.
func quantile(v []float64, share float64) float64 {
	sorted := slices.Sorted(slices.Values(v))
	return sorted[int(share*float64(len(sorted)-1)+0.5)]
}
