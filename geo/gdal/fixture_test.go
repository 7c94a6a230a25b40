package gdal

import (
	"context"
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"github.com/lukeroth/gdal"

	"runnel/geo/crs"
	"runnel/geo/grid"
)

// A tiff describes a test file that the package itself would not write.
type tiff struct {
	kind    gdal.DataType
	w, h    int
	bands   int
	t       [6]float64
	crs     string
	unit    string
	nodata  []float64
	scale   float64
	offset  float64
	cells   []float64
	options []string
}

var upright = [6]float64{500000, 2, 0, 5200000, 0, -2}

func (f tiff) write(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "ground.tif")
	err := do(func() error {
		driver, err := gdal.GetDriverByName("GTiff")
		if err != nil {
			return err
		}
		set := driver.Create(path, f.w, f.h, max(1, f.bands), f.kind, f.options)
		if handle(set) == nil {
			return errors.New("the test file cannot be made")
		}
		defer set.Close()
		if f.t != ([6]float64{}) {
			set.SetGeoTransform(f.t)
		}
		if f.crs != "" {
			sr, err := parseCRS(f.crs)
			if err != nil {
				return err
			}
			defer sr.Destroy()
			wkt, _ := sr.ToWKT()
			set.SetProjection(wkt)
		}
		band := set.RasterBand(1)
		if f.unit != "" {
			band.SetUnitType(f.unit)
		}
		if len(f.nodata) > 0 {
			band.SetNoDataValue(f.nodata[0])
		}
		if f.scale != 0 {
			band.SetScale(f.scale)
			band.SetOffset(f.offset)
		}
		if f.cells == nil {
			return nil
		}
		return band.IO(gdal.Write, 0, 0, f.w, f.h, f.cells, f.w, f.h, 0, 0)
	})
	if err != nil {
		t.Fatal(err)
	}
	return path
}

func read(t testing.TB, path string) *Raster {
	t.Helper()
	r, err := ReadRaster(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func noted(notes []string, part string) bool {
	return strings.Contains(strings.Join(notes, "\n"), part)
}

func cellsAre(t testing.TB, got []float32, want ...float32) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d cells, want %d", len(got), len(want))
	}
	for i, w := range want {
		if g := got[i]; g != w && !(grid.IsNoData(g) && grid.IsNoData(w)) {
			t.Errorf("cell %d is %v, want %v", i, g, w)
		}
	}
}

// readGround is ReadGrounds of one file.
func readGround(ctx context.Context, path string, o GroundOptions) (grid.Ground, crs.CRS, []string, error) {
	b, err := ReadGrounds(ctx, []string{path}, o)
	return b.Ground, b.CRS, b.Notes, err
}
