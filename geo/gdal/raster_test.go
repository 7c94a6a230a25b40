package gdal

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/lukeroth/gdal"

	"runnel/geo"
	"runnel/geo/grid"
)

func TestReadRasterKeepsCellsAsTheyAre(t *testing.T) {
	no := grid.NoData
	cases := []struct {
		name string
		file tiff
		want []float32
		note string
	}{
		{"floats with a declared filler", tiff{kind: gdal.Float32, w: 2, h: 2, t: upright, crs: "EPSG:32610",
			nodata: []float64{-5}, cells: []float64{1.5, -5, 3, 4}}, []float32{1.5, no, 3, 4}, ""},
		{"NaN is the declared filler", tiff{kind: gdal.Float32, w: 2, h: 1, t: upright, crs: "EPSG:32610",
			nodata: []float64{math.NaN()}, cells: []float64{math.NaN(), 4}}, []float32{no, 4}, ""},
		{"the lowest float is the declared filler", tiff{kind: gdal.Float32, w: 2, h: 1, t: upright, crs: "EPSG:32610",
			nodata: []float64{-math.MaxFloat32}, cells: []float64{-math.MaxFloat32, 4}}, []float32{no, 4}, ""},
		{"a filler that is not declared", tiff{kind: gdal.Float32, w: 3, h: 1, t: upright, crs: "EPSG:32610",
			cells: []float64{-9999, 4, 3e38}}, []float32{no, 4, no}, "2 cells hold values that are no heights"},
		{"whole numbers with scale and offset", tiff{kind: gdal.Int16, w: 3, h: 1, t: upright, crs: "EPSG:32610",
			nodata: []float64{-32768}, scale: 0.01, offset: 100, cells: []float64{250, -32768, -9999}}, []float32{102.5, no, 0.01}, ""},
		{"doubles, compressed in tiles", tiff{kind: gdal.Float64, w: 2, h: 1, t: upright, crs: "EPSG:32610",
			cells: []float64{0.1, 8848.86}, options: []string{"TILED=YES", "COMPRESS=LERC", "MAX_Z_ERROR=0"}}, []float32{0.1, 8848.86}, ""},
		{"no reference system", tiff{kind: gdal.Float32, w: 1, h: 1, t: upright, cells: []float64{7}}, []float32{7}, "names no reference system"},
		{"no place at all", tiff{kind: gdal.Float32, w: 1, h: 1, cells: []float64{7}}, []float32{7}, "does not say where it lies"},
		{"a second band", tiff{kind: gdal.Float32, w: 1, h: 1, bands: 2, t: upright, cells: []float64{7}}, []float32{7}, "2 bands; the first"},
		{"rows from south to north", tiff{kind: gdal.Float32, w: 1, h: 2, t: [6]float64{0, 1, 0, 10, 0, 1}, cells: []float64{1, 2}}, []float32{1, 2}, "south to north"},
		{"turned", tiff{kind: gdal.Float32, w: 1, h: 2, t: [6]float64{0, 1, 1, 10, 1, -1}, cells: []float64{1, 2}}, []float32{1, 2}, "it is turned"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := read(t, c.file.write(t))
			cellsAre(t, r.Grid.V, c.want...)
			if c.note == "" && len(r.Notes) > 0 || c.note != "" && !noted(r.Notes, c.note) {
				t.Errorf("notes %q, want %q", r.Notes, c.note)
			}
			if r.Grid.W != c.file.w || r.Grid.H != c.file.h {
				t.Errorf("%d by %d cells, want %d by %d", r.Grid.W, r.Grid.H, c.file.w, c.file.h)
			}
		})
	}
}

func TestReadRasterMeasuresTheCellOnTheGround(t *testing.T) {
	// A degree at latitude 45 is 78 846.8 by 111 131.7 m, as in TestEllipsoidMeasuresADegree.
	// A mercator map stretches by the secant of the latitude, near enough.
	const second = 1.0 / 3600
	y45 := 5621521.486 // latitude 45 in spherical Mercator, a·ln(tan(67.5°))
	cases := []struct {
		name         string
		t            [6]float64
		crs          string
		dx, dy, near float64
		note         string
	}{
		{"metres", upright, "EPSG:32610", 2, 2, 0, ""},
		{"degrees", [6]float64{10, second, 0, 45 + second, 0, -second}, "EPSG:4326", 78846.8 / 3600, 111131.7 / 3600, 1e-3, "degrees"},
		{"international feet", [6]float64{636000, 2, 0, 850000, 0, -2}, "EPSG:2994", 0.6096, 0.6096, 1e-12, "0.3048 m"},
		{"survey feet", [6]float64{1.18e7, 6, 0, 6.9e6, 0, -6}, "EPSG:2283", 6 * geo.SurveyFoot, 6 * geo.SurveyFoot, 1e-12, "US survey feet"},
		{"a map that stretches", [6]float64{0, 10, 0, y45 + 10, 0, -10}, "EPSG:3857", 10 * math.Sqrt2 / 2, 10 * math.Sqrt2 / 2, 0.05, "not those on the ground"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := read(t, tiff{kind: gdal.Float32, w: 2, h: 2, t: c.t, crs: c.crs, cells: []float64{1, 2, 3, 4}}.write(t))
			if math.Abs(r.Grid.DX-c.dx) > c.near || math.Abs(r.Grid.DY-c.dy) > c.near {
				t.Errorf("the cell is %.6f by %.6f m, want %.6f by %.6f", r.Grid.DX, r.Grid.DY, c.dx, c.dy)
			}
			if c.note != "" && !noted(r.Notes, c.note) {
				t.Errorf("notes %q, want %q", r.Notes, c.note)
			}
			if r.Transform != c.t {
				t.Errorf("transform %v, want %v", r.Transform, c.t)
			}
		})
	}
}

func TestReadRasterSaysInWhatUnitHeightsAre(t *testing.T) {
	one := []float64{100}
	cases := []struct {
		name string
		file tiff
		want float64
		note string
	}{
		{"nothing said in a metric system", tiff{crs: "EPSG:32610"}, 1, ""},
		{"the band says feet", tiff{crs: "EPSG:32610", unit: "ft"}, geo.Foot, "heights are in feet (0.3048 m)"},
		{"the band says US feet", tiff{crs: "EPSG:32610", unit: "US survey foot"}, geo.SurveyFoot, "US survey feet"},
		{"the band says metres where positions are feet", tiff{crs: "EPSG:2994", unit: "metre"}, 1, ""},
		{"the vertical system says US feet", tiff{crs: compound(t), unit: ""}, geo.SurveyFoot, "US survey feet"},
		{"nothing said where positions are feet", tiff{crs: "EPSG:2994"}, geo.Foot, "does not say in what unit"},
		{"a unit that is not known", tiff{crs: "EPSG:32610", unit: "fathom"}, 1, "not known"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			c.file.kind, c.file.w, c.file.h, c.file.t, c.file.cells = gdal.Float32, 1, 1, upright, one
			r := read(t, c.file.write(t))
			if math.Abs(r.HeightMetre-c.want) > 1e-12 {
				t.Errorf("a unit of height is %v m, want %v", r.HeightMetre, c.want)
			}
			if c.note != "" && !noted(r.Notes, c.note) {
				t.Errorf("notes %q, want %q", r.Notes, c.note)
			}
			if r.Grid.V[0] != 100 {
				t.Errorf("the height is %v, want it as the file has it", r.Grid.V[0])
			}
		})
	}
}

// compound is UTM zone 10 with NAVD88 heights in US survey feet (EPSG:6360).
func compound(t testing.TB) string {
	t.Helper()
	var wkt [2]string
	err := do(func() error {
		for i, code := range []string{"EPSG:26910", "EPSG:6360"} {
			sr, err := parseCRS(code)
			if err != nil {
				return err
			}
			wkt[i], _ = sr.ToWKT()
			sr.Destroy()
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return `COMPD_CS["both",` + wkt[0] + "," + wkt[1] + "]"
}

func TestReadRasterStopsWhenAsked(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	path := tiff{kind: gdal.Float32, w: 2, h: 2, t: upright, cells: []float64{1, 2, 3, 4}}.write(t)
	if _, err := ReadRaster(ctx, path); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want that it was cancelled", err)
	}
}

// A height file of the shuttle mission is 1201 by 1201 big-endian numbers,
// named by its south-west corner.
func TestReadRasterTakesAHeightFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "N45E010.hgt")
	cells := make([]int16, 1201*1201)
	for i := range cells {
		cells[i] = int16(i % 1201)
	}
	cells[5] = -32768
	var b bytes.Buffer
	binary.Write(&b, binary.BigEndian, cells)
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	r := read(t, path)
	if !grid.IsNoData(r.Grid.V[5]) || r.Grid.V[6] != 6 || !r.CRS.Degrees {
		t.Errorf("cells 5 and 6 are %v and %v in %v", r.Grid.V[5], r.Grid.V[6], r.CRS)
	}
}

func TestBearingsTurnWithTheRaster(t *testing.T) {
	turned := func(degrees float64) [6]float64 {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return [6]float64{0, 2 * cos, -2 * sin, 0, -2 * sin, -2 * cos}
	}
	cases := map[string]struct {
		t    [6]float64
		want [8]int
	}{
		"north-up":              {upright, [8]int{0, 45, 90, 135, 180, 225, 270, 315}},
		"south-up":              {[6]float64{0, 2, 0, 0, 0, 2}, [8]int{180, 135, 90, 45, 0, 315, 270, 225}},
		"mirrored east to west": {[6]float64{0, -2, 0, 0, 0, -2}, [8]int{0, 315, 270, 225, 180, 135, 90, 45}},
		"turned 30 clockwise":   {turned(30), [8]int{30, 75, 120, 165, 210, 255, 300, 345}},
		"cells not square":      {[6]float64{0, 1, 0, 0, 0, -3}, [8]int{0, 45, 90, 135, 180, 225, 270, 315}},
	}
	for name, c := range cases {
		r := Raster{Transform: c.t}
		for d, want := range c.want {
			if got := r.Bearing(grid.Dir(d)); got != want {
				t.Errorf("%s: direction %d bears %d, want %d", name, d, got, want)
			}
		}
		if got := r.Bearing(grid.NoDir); got != -1 {
			t.Errorf("%s: no direction bears %d, want -1", name, got)
		}
	}
}

func ExampleReadRaster() {
	r, err := ReadRaster(context.Background(), filepath.Join("..", "..", "testdata", "verge.asc"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(grid.Print(r.Grid))
	fmt.Println(r.Notes[0])
	// Output:
	//  4.2    4  3.8    .
	//    4  3.6  3.5  3.4
	//  3.9  3.5  3.2    3
	// It names no reference system; its coordinates are taken to be metres.
}
