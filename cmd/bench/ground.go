package main

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"

	"runnel/analysis/synthetic"
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

// write makes g.file an uncompressed GeoTIFF of the ground: the heights as they
// lie in memory, with the header that makes them a raster, and then GDAL's copy.
func (g *ground) write(folder string) error {
	raw := filepath.Join(folder, "ground.bil")
	defer os.Remove(raw)
	if err := writeHeights(raw, g.V); err != nil {
		return err
	}
	header := fmt.Sprintf("NROWS %d\nNCOLS %d\nNBANDS 1\nNBITS 32\nPIXELTYPE FLOAT\nBYTEORDER I\nLAYOUT BIL\nULXMAP 0.5\nULYMAP %g\nXDIM 1\nYDIM 1\n",
		g.H, g.W, float64(g.H)-0.5)
	if err := os.WriteFile(filepath.Join(folder, "ground.hdr"), []byte(header), 0o644); err != nil {
		return err
	}
	g.file = filepath.Join(folder, "ground.tif")
	return silent(exec.Command("gdal_translate", "-q", raw, g.file))
}

func writeHeights(path string, heights []float32) error {
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	defer file.Close()
	out := bufio.NewWriterSize(file, 1<<20)
	for len(heights) > 0 { // a part at a time: the whole would be encoded in memory first
		part := heights[:min(len(heights), 1<<18)]
		if err := binary.Write(out, binary.LittleEndian, part); err != nil {
			return err
		}
		heights = heights[len(part):]
	}
	return out.Flush()
}

// silent runs a command whose words matter only when it fails.
func silent(cmd *exec.Cmd) error {
	if said, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("%s: %w: %s", cmd.Path, err, said)
	}
	return nil
}
