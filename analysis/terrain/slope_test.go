package terrain

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"runnel/analysis/synthetic"
	"runnel/geo/grid"
)

func slopeOf(t *testing.T, g grid.Ground) grid.Ground {
	t.Helper()
	slope, err := Slope(context.Background(), g)
	if err != nil {
		t.Fatal(err)
	}
	return slope
}

func TestSlopeOfAPlaneIsItsOwn(t *testing.T) {
	for c, got := range slopeOf(t, slant(grid.Square(130, 90, 0, 45, 0.5), 0.03, -0.04)).V {
		if math.Abs(float64(got)-0.05) > 1e-4 { // float32 heights near 100 m over 1 m
			t.Fatalf("cell %d: slope %g, want 0.05", c, got)
		}
	}
}

// A cone has the same slope everywhere. Horn's differences over two cells see its
// curve across the fall: by the series of the cone's height they fall short by
// about a quarter of (cell / distance from the tip)², half as much again with the
// weights of the outer rows.
func TestSlopeOfAConeComesNearItsOwnAwayFromTheTip(t *testing.T) {
	const steep, cell = 0.2, 0.5
	g := grid.New[float32](grid.Square(201, 201, 0, 201*cell, cell))
	middle := g.Frame.Centre(100, 100)
	for y := range g.H {
		for x := range g.W {
			p := g.Frame.Centre(x, y)
			g.Set(x, y, float32(50-steep*math.Hypot(p[0]-middle[0], p[1]-middle[1])))
		}
	}
	slope := slopeOf(t, g)
	for y := 1; y < g.H-1; y++ {
		for x := 1; x < g.W-1; x++ {
			away := math.Hypot(float64(x-100), float64(y-100))
			if away < 4 {
				continue
			}
			if got, bound := float64(slope.At(x, y)), steep*0.5/(away*away)+4e-5; math.Abs(got-steep) > bound {
				t.Fatalf("%.1f cells from the tip: slope %g, want %g within %.2g", away, got, steep, bound)
			}
		}
	}
}

// GDAL's own tool is the outside judge: `gdaldem slope -p -alg Horn` writes the
// slope in percent. The two do the same sums, in float and in double.
func TestSlopeIsThatOfGdaldem(t *testing.T) {
	if _, err := exec.LookPath("gdaldem"); err != nil {
		t.Skip("gdaldem is not here")
	}
	g := synthetic.Site(80, 60, 3)
	g.DX, g.DY, g.West, g.North = 0.5, 0.5, 0, 0.5*float64(g.H)
	theirs := gdaldemSlope(t, g)
	ours, n := slopeOf(t, g), 0
	for y := 1; y < g.H-1; y++ {
		for x := 1; x < g.W-1; x++ {
			want, got := theirs[y*g.W+x], 100*float64(ours.At(x, y))
			if want == -9999 {
				continue
			}
			n++
			if math.Abs(got-want) > 0.01+1e-4*want {
				t.Fatalf("cell (%d, %d): slope %.5f %%, gdaldem has %.5f %%", x, y, got, want)
			}
		}
	}
	if n < g.Len()/2 {
		t.Errorf("only %d of %d cells could be compared", n, g.Len())
	}
}

// gdaldemSlope returns the slopes [%] that GDAL finds, -9999 for none.
func gdaldemSlope(t *testing.T, g grid.Ground) []float64 {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, "ncols %d\nnrows %d\nxllcorner 0\nyllcorner 0\ncellsize %g\nNODATA_value -9999\n", g.W, g.H, g.DX)
	for y := range g.H {
		for _, z := range g.Row(y) {
			if grid.IsNoData(z) {
				z = -9999
			}
			b.WriteString(strconv.FormatFloat(float64(z), 'f', -1, 32) + " ")
		}
		b.WriteString("\n")
	}
	folder := t.TempDir()
	from, to := filepath.Join(folder, "ground.asc"), filepath.Join(folder, "slope.asc")
	if err := os.WriteFile(from, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("gdaldem", "slope", from, to, "-p", "-of", "AAIGrid", "-q").CombinedOutput(); err != nil {
		t.Fatalf("gdaldem: %v: %s", err, out)
	}
	text, err := os.ReadFile(to)
	if err != nil {
		t.Fatal(err)
	}
	var all []float64
	for _, line := range strings.Split(string(text), "\n") {
		fields := strings.Fields(line)
		if len(fields) != g.W {
			continue
		}
		for _, field := range fields {
			v, err := strconv.ParseFloat(field, 64)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, v)
		}
	}
	if len(all) != g.Len() {
		t.Fatalf("gdaldem wrote %d of %d cells", len(all), g.Len())
	}
	return all
}

func TestSlopeStopsWhenAskedAndRefusesWhatIsNoGrid(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Slope(ctx, grid.Parse("1 2", "3 4")); !errors.Is(err, context.Canceled) {
		t.Errorf("the error is %v", err)
	}
	if _, err := Slope(context.Background(), grid.Ground{Frame: grid.Square(3, 3, 0, 3, 1)}); err == nil {
		t.Error("a grid of no heights has a slope")
	}
}
