package action

import (
	"bytes"
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/grid"
)

// bowl gathers all but its lowest row in the cell at 4, fills to 6, and leaves
// over the cell at 5, which its western neighbour drains to as well.
var bowl = grid.Parse(
	"9 8 9",
	"8 4 8",
	"9 6 9",
	"9 5 .",
)

var bowlWeights = grid.Parse(
	"0.5 1    0",
	"0   0.25 2",
	"0   0    1",
	"0   3    .",
)

// Worked by hand, on cells of 4 m².
func TestRunoffIsWhatTheCellsUpstreamShed(t *testing.T) {
	want := grid.Parse(
		"2 4  0",
		"0 19 8",
		"0 19 4",
		"0 31 .",
	)
	dir, ground := t.TempDir(), raster(t, bowl, utm, 2)
	must(t, "water", ground, dir, "--runoff", raster(t, bowlWeights, utm, 2))
	got := read(t, filepath.Join(dir, "runoff.tif"))
	if grid.Print(got.Grid) != grid.Print(want) {
		t.Errorf("the runoff is\n%swant\n%s", grid.Print(got.Grid), grid.Print(want))
	}
	if got.Transform != read(t, ground).Transform || got.CRS.Code != utm.Code {
		t.Errorf("it lies at %v in %v", got.Transform, got.CRS)
	}
}

func TestWeightsOfOneAddUpToTheArea(t *testing.T) {
	ones := grid.New[float32](pond.Frame)
	for c := range ones.V {
		ones.V[c] = 1
	}
	dir, path := t.TempDir(), raster(t, pond, utm, 2)
	must(t, "water", path, dir, "--runoff", raster(t, ones, utm, 2))
	area, runoff := read(t, filepath.Join(dir, "area.tif")).Grid, read(t, filepath.Join(dir, "runoff.tif")).Grid
	if grid.Print(area) != grid.Print(runoff) {
		t.Errorf("the runoff is\n%sand the area\n%s", grid.Print(runoff), grid.Print(area))
	}
	without := t.TempDir()
	must(t, "water", path, without)
	if _, err := os.Stat(filepath.Join(without, "runoff.tif")); err == nil {
		t.Error("runoff.tif is written though no weights are given")
	}
}

// with returns the weights of the bowl with one changed.
func with(x, y int, v float32) grid.Ground {
	g := bowlWeights.Clone()
	g.V[y*g.W+x] = v
	return g
}

func TestWeightsThatDoNotFitTheGroundAreOneSentence(t *testing.T) {
	moved := filepath.Join(t.TempDir(), "moved.tif")
	at := gdal.Placement{Transform: [6]float64{500_000.1, 2, 0, 4_000_000, 0, -2}, CRS: utm, NoData: -9999}
	if err := gdal.WriteRaster(context.Background(), moved, bowlWeights, at); err != nil {
		t.Fatal(err)
	}
	other := utm
	other.Code, other.Name = 32632, "WGS 84 / UTM zone 32N"
	for said, path := range map[string]string{
		"3 columns and 1 rows, and the ground 3 and 4": raster(t, grid.Parse("1 1 1"), utm, 2),
		"moved.tif lies elsewhere than the ground":     moved,
		"ground.tif lies elsewhere":                    raster(t, bowlWeights, utm, 2.1),
		"lies elsewhere than the ground; give":         raster(t, bowlWeights, other, 2),
		"no data at column 0, row 3":                   raster(t, with(0, 3, float32(math.NaN())), utm, 2),
		"is -0.5 at column 2, row 1":                   raster(t, with(2, 1, -0.5), utm, 2),
		"there is no such file":                        filepath.Join(t.TempDir(), "none.tif"),
	} {
		dir := filepath.Join(t.TempDir(), "out")
		if got := refused(t, failed, "water", raster(t, bowl, utm, 2), dir, "--runoff", path); !strings.Contains(got, said) {
			t.Errorf("%q is said, want %q", got, said)
		}
		if _, err := os.Stat(dir); err == nil {
			t.Errorf("%s: the folder is made", said)
		}
	}
}

func TestWeightsWithoutAReferenceSystemLieByTheirCoordinates(t *testing.T) {
	must(t, "water", raster(t, bowl, utm, 2), t.TempDir(), "--runoff", raster(t, bowlWeights, crs.CRS{}, 2))
}

func TestAWeightWhereTheGroundHasNoHeightDoesNotCount(t *testing.T) {
	dir := t.TempDir()
	must(t, "water", raster(t, bowl, utm, 2), dir, "--runoff", raster(t, with(2, 3, -7), utm, 2))
	if got := read(t, filepath.Join(dir, "runoff.tif")).Grid; got.At(1, 3) != 31 || !grid.IsNoData(got.At(2, 3)) {
		t.Errorf("the runoff is\n%s", grid.Print(got))
	}
}

func TestWeightsAreRefusedOnDiskAndWhereTheyWouldBeWrittenOver(t *testing.T) {
	ground, weights := raster(t, bowl, utm, 2), raster(t, bowlWeights, utm, 2)
	if got := refused(t, mistake, "water", ground, t.TempDir(), "--scratch", "--runoff", weights); !strings.Contains(got, "need the ground in memory") {
		t.Errorf("%q is said", got)
	}
	before, err := os.ReadFile(weights)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	own := filepath.Join(dir, "runoff.tif")
	if err := os.WriteFile(own, before, 0o666); err != nil {
		t.Fatal(err)
	}
	refused(t, mistake, "water", ground, dir, "--runoff", own)
	if after, _ := os.ReadFile(own); !bytes.Equal(after, before) {
		t.Error("the weights are written over")
	}
}
