package action

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/grid"
)

// pond is a slope to the south with one hollow two cells wide, and a cell of no data.
var pond = grid.Parse(
	"9 9 9 9 9 9",
	"8 8 8 8 8 8",
	"7 7 5 4 7 7",
	"6 6 6 6 6 6",
	"5 5 5 5 . 5",
)

// raster writes a ground of cells of a size [coordinate units] and returns its path.
func raster(t *testing.T, g grid.Ground, system crs.CRS, cell float64) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "ground.tif")
	at := gdal.Placement{Transform: [6]float64{500_000, cell, 0, 4_000_000, 0, -cell}, CRS: system, NoData: -9999}
	if err := gdal.WriteRaster(context.Background(), path, g, at); err != nil {
		t.Fatal(err)
	}
	return path
}

func read(t *testing.T, path string) *gdal.Raster {
	t.Helper()
	r, err := gdal.ReadRaster(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

var utm = crs.CRS{Code: 32633, Name: "WGS 84 / UTM zone 33N", Metre: 1}

func TestWaterOfAHollowOnASlope(t *testing.T) {
	path, dir := raster(t, pond, utm, 2), filepath.Join(t.TempDir(), "new", "folder")
	r := run("water", path, dir)
	if r.status != done {
		t.Fatalf("it ends with %d: %s", r.status, r.err)
	}
	filled := read(t, filepath.Join(dir, "filled.tif"))
	if got := filled.Grid.At(3, 2); got != 6 {
		t.Errorf("the hollow fills to %g, want 6", got)
	}
	if filled.Transform != read(t, path).Transform || filled.CRS.Code != 32633 {
		t.Errorf("the filled surface lies at %v in %v", filled.Transform, filled.CRS)
	}
	if !math.IsNaN(float64(filled.Grid.At(4, 4))) {
		t.Errorf("the cell of no data is filled to %g", filled.Grid.At(4, 4))
	}
	bearing := read(t, filepath.Join(dir, "bearing.tif")).Grid
	if got := bearing.At(1, 1); got != 135 { // to the hollow's cell at 5, south-east of it
		t.Errorf("the cell above the hollow drains at %g degrees, want 135", got)
	}
	if got := bearing.At(1, 4); got != 180 {
		t.Errorf("a cell of the south edge drains at %g degrees, want 180, off the ground", got)
	}
	checkArea(t, read(t, filepath.Join(dir, "area.tif")).Grid, bearing)
}

// checkArea holds the area to the law that what leaves is what fell.
func checkArea(t *testing.T, area, bearing grid.Ground) {
	t.Helper()
	var leaving float64
	for y := range area.H {
		for x := range area.W {
			b := float64(bearing.At(x, y))
			if math.IsNaN(b) {
				continue
			}
			sin, cos := math.Sincos(b * math.Pi / 180)
			nx, ny := x+int(math.Round(sin)), y-int(math.Round(cos))
			if !area.In(nx, ny) || math.IsNaN(float64(area.At(nx, ny))) {
				leaving += float64(area.At(x, y))
			}
		}
	}
	if want := 29 * 4.0; leaving != want { // 29 cells of 4 m²
		t.Errorf("%g m² leave the ground, %g m² lie on it", leaving, want)
	}
}

type collection struct {
	Type     string
	Features []struct {
		Geometry struct {
			Type        string
			Coordinates [][][][2]float64
		}
		Properties hollowProperties
	}
}

func hollowsIn(t *testing.T, dir string) collection {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, "hollows.geojson"))
	if err != nil {
		t.Fatal(err)
	}
	var c collection
	if err := json.Unmarshal(text, &c); err != nil {
		t.Fatalf("hollows.geojson: %v", err)
	}
	return c
}

func TestHollowsAreWrittenInLongitudeAndLatitude(t *testing.T) {
	dir := t.TempDir()
	must(t, "water", raster(t, pond, utm, 2), dir)
	c := hollowsIn(t, dir)
	if c.Type != "FeatureCollection" || len(c.Features) != 1 {
		t.Fatalf("a %s of %d features", c.Type, len(c.Features))
	}
	// Two cells of 4 m² that lie 1 and 2 m below their spill at 6. The map's scale on
	// the zone's central meridian is 0.9996, so ground measures differ by a little.
	p := c.Features[0].Properties
	for name, v := range map[string][2]float64{
		"cells": {float64(p.Cells), 2}, "area": {p.Area, 8}, "depth": {p.Depth, 2}, "volume": {p.Volume, 12}, "level": {p.Level, 6},
	} {
		if math.Abs(v[0]-v[1]) > 0.002*v[1] {
			t.Errorf("the %s is %g, want %g", name, v[0], v[1])
		}
	}
	for i, want := range [][3]float64{{0.4, 4, 1.6}, {0.8, 4, 3.2}, {1.2, 8, 5.6}, {1.6, 8, 8.8}, {2, 8, 12}} {
		for k, got := range p.Stages[i] {
			if math.Abs(got-want[k]) > 0.002*want[k] {
				t.Errorf("stage %d is %v, want %v", i+1, p.Stages[i], want)
			}
		}
	}
	if p.ID != 1 || p.Into != nil || p.Parent != nil || len(p.Neighbours) != 0 {
		t.Errorf("the only hollow is %+v", p)
	}
	if math.Abs(p.Outlet[0]-15) > 0.001 || math.Abs(p.Outlet[1]-36.14) > 0.05 {
		t.Errorf("its outlet lies at %v", p.Outlet)
	}
	ring := c.Features[0].Geometry.Coordinates[0][0]
	if signedArea(ring) <= 0 {
		t.Error("the outer ring runs clockwise; RFC 7946 asks for the other way")
	}
	// The raster's corner lies on the zone's central meridian, 15° E, at about 36.14° N.
	for _, p := range ring {
		if math.Abs(p[0]-15) > 0.001 || math.Abs(p[1]-36.14) > 0.05 {
			t.Errorf("the hollow lies at %v", p)
		}
	}
}

func TestWithoutAReferenceSystemTheFilesOwnCoordinatesAreWrittenAndItIsSaid(t *testing.T) {
	dir := t.TempDir()
	r := run("water", raster(t, pond, crs.CRS{}, 2), dir)
	if r.status != done || !strings.Contains(r.err, "hollows.geojson are the file's own") {
		t.Fatalf("status %d, %q", r.status, r.err)
	}
	for _, p := range hollowsIn(t, dir).Features[0].Geometry.Coordinates[0][0] {
		if p[0] < 500_004 || p[0] > 500_008 || p[1] < 3_999_994 || p[1] > 3_999_996 {
			t.Errorf("the hollow lies at %v", p)
		}
	}
}

func TestWaterSaysHowItWent(t *testing.T) {
	dir := t.TempDir()
	must(t, "water", raster(t, pond, utm, 2), dir)
	text, err := os.ReadFile(filepath.Join(dir, "water.json"))
	if err != nil {
		t.Fatal(err)
	}
	var f struct {
		Cells, Known, Hollows int
		Seconds               map[string]float64
		PeakBytes             int64 `json:"peak_bytes"`
	}
	if err := json.Unmarshal(text, &f); err != nil {
		t.Fatal(err)
	}
	if f.Cells != 30 || f.Known != 29 || f.Hollows != 1 || f.PeakBytes < 1<<20 {
		t.Errorf("water.json says %+v", f)
	}
	for _, stage := range []string{"read", "fill", "direction", "accumulation", "hollows", "write"} {
		if _, ok := f.Seconds[stage]; !ok {
			t.Errorf("water.json does not time %s", stage)
		}
	}
}

func TestWaterOnTheSmallestGrounds(t *testing.T) {
	for name, g := range map[string]grid.Ground{
		"one cell": grid.Parse("5"), "one row": grid.Parse("3 1 2 9"), "one column": grid.Parse("3", "1", "2"), "all flat": grid.Parse("2 2 2", "2 2 2"),
	} {
		dir := t.TempDir()
		if r := run("water", raster(t, g, utm, 1), dir); r.status != done {
			t.Errorf("%s: %s", name, r.err)
			continue
		}
		bearing := read(t, filepath.Join(dir, "bearing.tif")).Grid
		for _, b := range bearing.V {
			if math.IsNaN(float64(b)) {
				t.Errorf("%s: a cell drains nowhere", name)
			}
		}
	}
}

func TestWhatIsNoGroundIsRefused(t *testing.T) {
	whole, err := os.ReadFile(raster(t, pond, utm, 2))
	if err != nil {
		t.Fatal(err)
	}
	for name, path := range map[string]string{
		"there is no such file":    filepath.Join(t.TempDir(), "none.tif"),
		"a folder":                 t.TempDir(),
		"an empty file":            text(t, "empty.tif", ""),
		"text":                     text(t, "text.tif", "these are not heights\n"),
		"a header and no more":     text(t, "cut.tif", string(whole[:min(len(whole)-40, 160)])),
		"a drawing":                text(t, "a.geojson", `{"type":"Point","coordinates":[1,2]}`),
		"an address on a network":  "https://example.com/ground.tif",
		"a path inside an archive": "/vsizip/ground.zip/ground.tif",
		"a ground without heights": raster(t, grid.Parse(". .", ". ."), utm, 1),
	} {
		dir := filepath.Join(t.TempDir(), "out")
		if said := refused(t, failed, "water", path, dir); len(said) < 25 {
			t.Errorf("%s: %q", name, said)
		}
		if _, err := os.Stat(filepath.Join(dir, "water.json")); err == nil {
			t.Errorf("%s: results were written", name)
		}
	}
	refused(t, failed, "water", raster(t, pond, utm, 2), text(t, "file", "x"))
}
