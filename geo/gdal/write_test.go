package gdal

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"runnel/geo/crs"
	"runnel/geo/grid"
)

func withNoData(at Placement, v float64) Placement {
	at.NoData = v
	return at
}

func TestWrittenRasterReadsBackBitForBit(t *testing.T) {
	folder := t.TempDir()
	c := utm10(t)
	rapid.Check(t, func(r *rapid.T) {
		w, h := rapid.IntRange(1, 300).Draw(r, "w"), rapid.IntRange(1, 9).Draw(r, "h")
		g := grid.New[float32](grid.Square(w, h, 1.0/3, rapid.Float64Range(-1e6, 1e7).Draw(r, "north"), 0.3))
		for i := range g.V {
			g.V[i] = rapid.SampledFrom([]float32{0, 1.1, 8848.86, -430, grid.NoData}).Draw(r, "z")
		}
		g.V[0] = 5
		nodata := rapid.SampledFrom([]float64{math.NaN(), -9999, -math.MaxFloat32}).Draw(r, "nodata")
		path := filepath.Join(folder, "out.tif")
		if err := WriteRaster(context.Background(), path, g, withNoData(Place(g.Frame, c), nodata)); err != nil {
			r.Fatal(err)
		}
		got := read(t, path)
		cellsAre(t, got.Grid.V, g.V...)
		if got.Grid.Frame != g.Frame || got.CRS != c {
			r.Fatalf("frame %+v in %v, want %+v in %v", got.Grid.Frame, got.CRS, g.Frame, c)
		}
	})
}

func TestWriteRasterKeepsTheFilesOwnPlace(t *testing.T) {
	folder := t.TempDir()
	for name, at := range map[string]Placement{
		"turned":              {Transform: [6]float64{0, 1.5, 1, 10, 1, -1.5}, CRS: utm10(t)},
		"south-up":            {Transform: [6]float64{0, 1, 0, 10, 0, 1.25}, CRS: utm10(t)},
		"degrees":             {Transform: [6]float64{10, 1e-5, 0, 45, 0, -1e-5}, CRS: crs.LonLat()},
		"no reference system": {Transform: upright},
	} {
		g := grid.Grid[int16]{Frame: grid.Square(2, 2, 0, 0, 1), V: []int16{0, 45, -1, 315}}
		path := filepath.Join(folder, "out.tif")
		if err := WriteRaster(context.Background(), path, g, withNoData(at, -1)); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		r := read(t, path)
		if r.Transform != at.Transform || !r.CRS.Same(at.CRS) && at.CRS.Known() {
			t.Errorf("%s: transform %v in %v, want %v in %v", name, r.Transform, r.CRS, at.Transform, at.CRS)
		}
		cellsAre(t, r.Grid.V, 0, 45, grid.NoData, 315)
	}
}

func TestWriteRasterStoresTheTypeItIsGiven(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out.tif")
	f := grid.Square(1, 1, 0, 1, 1)
	kind := func() (name string, nodata float64) {
		do(func() error {
			set, err := openRaster(path)
			if err != nil {
				return err
			}
			defer set.Close()
			name = set.RasterBand(1).RasterDataType().Name()
			nodata, _ = set.RasterBand(1).NoDataValue()
			return nil
		})
		return name, nodata
	}
	check := func(err error, want string) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		if name, nodata := kind(); name != want || nodata != -1 {
			t.Errorf("the file holds %s with no data as %v, want %s and -1", name, nodata, want)
		}
	}
	ctx := context.Background()
	check(WriteRaster(ctx, path, grid.Grid[float32]{Frame: f, V: []float32{1}}, withNoData(Place(f, crs.CRS{}), -1)), "Float32")
	check(WriteRaster(ctx, path, grid.Grid[float64]{Frame: f, V: []float64{1}}, withNoData(Place(f, crs.CRS{}), -1)), "Float64")
	check(WriteRaster(ctx, path, grid.Grid[int16]{Frame: f, V: []int16{1}}, withNoData(Place(f, crs.CRS{}), -1)), "Int16")
}

func TestFailedWriteLeavesTheOldFileAndNothingElse(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "out.tif")
	if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	g := grid.Parse("1 2")
	if err := WriteRaster(ctx, path, g, withNoData(Place(g.Frame, crs.CRS{}), -9999)); err == nil {
		t.Fatal("a cancelled write succeeds")
	}
	if held, _ := os.ReadFile(path); string(held) != "old" {
		t.Errorf("the file holds %q, want what it held", held)
	}
	if left, _ := os.ReadDir(folder); len(left) != 1 {
		t.Errorf("the folder holds %d files, want 1", len(left))
	}
	if err := WriteRaster(context.Background(), path, g, withNoData(Place(g.Frame, crs.CRS{}), -9999)); err != nil {
		t.Fatal(err)
	}
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o600 {
		t.Errorf("the new file's mode is %v, want the old one's", info.Mode())
	}
}

func TestWriteRasterRefusesInPlainWords(t *testing.T) {
	g := grid.Parse("1 2")
	folder := t.TempDir()
	for want, path := range map[string]string{
		"end its name in .tif": filepath.Join(folder, "out.asc"),
		"cannot be written":    filepath.Join(folder, "none", "out.tif"),
	} {
		if err := WriteRaster(context.Background(), path, g, withNoData(Place(g.Frame, crs.CRS{}), 0)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
	if err := WriteRaster(context.Background(), filepath.Join(folder, "out.tif"), grid.Ground{}, Placement{}); err == nil {
		t.Error("a grid of no cells is written")
	}
}

// Half a million cells in whole tiles and in parts of tiles keep their places.
func TestWriteRasterFillsEveryTile(t *testing.T) {
	g := grid.New[float64](grid.Square(700, 700, 0, 700, 1))
	for i := range g.V {
		g.V[i] = float64(i)
	}
	path := filepath.Join(t.TempDir(), "out.tif")
	if err := WriteRaster(context.Background(), path, g, withNoData(Place(g.Frame, crs.CRS{}), -1)); err != nil {
		t.Fatal(err)
	}
	r := read(t, path)
	for i, v := range r.Grid.V {
		if v != float32(i) {
			t.Fatalf("cell %d is %v", i, v)
		}
	}
}
