package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"

	"runnel/analysis/synthetic"
	"runnel/geo/gdal"
	"runnel/geo/grid"
)

// seed makes every run measure the same grounds.
const seed = 7

// A ground is one that is measured, and the file of it that the yardstick reads.
type ground struct {
	grid.Ground
	mcell int // million cells
	file  string
}

// newGround makes a square ground: "site" as surveyed, "flat" kept to 5 cm.
func newGround(kind string, mcell int) ground {
	side := int(math.Sqrt(float64(mcell)) * 1000)
	g := ground{Ground: synthetic.Site(side, side, seed), mcell: mcell}
	if kind == "flat" {
		g.Ground = synthetic.Rounded(g.Ground)
	}
	return g
}

// rounds is how often each thing is timed: seldom where it takes long.
func (g ground) rounds() int { return max(3, min(15, 120/g.mcell)) }

// temporary makes a folder that stays in memory where the system has one for that.
func temporary() (string, error) {
	for _, parent := range []string{"/dev/shm", ""} {
		if folder, err := os.MkdirTemp(parent, "bench-"); err == nil {
			return folder, nil
		}
	}
	return "", fmt.Errorf("no temporary folder can be made; the disk may be full")
}

// write makes g.file an uncompressed GeoTIFF of the ground.
func (g *ground) write(ctx context.Context, folder string) error {
	packed := filepath.Join(folder, "packed.tif")
	defer os.Remove(packed)
	if err := gdal.WriteRaster(ctx, packed, g.Ground, gdal.Placement{NoData: math.NaN()}); err != nil {
		return err
	}
	g.file = filepath.Join(folder, "ground.tif")
	return silent(exec.CommandContext(ctx, "gdal_translate", "-q", "-co", "COMPRESS=NONE", packed, g.file))
}

// silent runs a command whose words matter only when it fails.
func silent(cmd *exec.Cmd) error {
	if said, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("%s: %w: %s", cmd.Path, err, said)
	}
	return nil
}
