package gdal

import (
	"context"
	"path/filepath"
	"testing"

	"runnel/geo/crs"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// wide is a ground of 4 million cells.
func wide() grid.Ground {
	g := grid.New[float32](grid.Square(2000, 2000, 500000, 5200000, 0.5))
	for i := range g.V {
		g.V[i] = float32(i%2000)*0.01 + float32(i%77)*0.001
	}
	return g
}

func BenchmarkReadRaster(b *testing.B) {
	g := wide()
	path := filepath.Join(b.TempDir(), "wide.tif")
	if err := WriteRaster(context.Background(), path, g, withNoData(Place(g.Frame, crs.CRS{}), -9999)); err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(4 * g.Len()))
	for b.Loop() {
		read(b, path)
	}
}

func BenchmarkReadGroundWarped(b *testing.B) {
	g := wide()
	path := filepath.Join(b.TempDir(), "wide.tif")
	if err := WriteRaster(context.Background(), path, g, withNoData(Place(g.Frame, utm10(b)), -9999)); err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(4 * g.Len()))
	for b.Loop() {
		ground(b, path, GroundOptions{CRS: "EPSG:26910"})
	}
}

func BenchmarkSaveSite(b *testing.B) {
	s := plot(b)
	s.Ground = wide()
	path := filepath.Join(b.TempDir(), "wide.gpkg")
	for b.Loop() {
		if err := SaveSite(path, s); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkOpenSite(b *testing.B) {
	s := plot(b)
	s.Ground = wide()
	path := filepath.Join(b.TempDir(), "wide.gpkg")
	if err := SaveSite(path, s); err != nil {
		b.Fatal(err)
	}
	var got *plan.Site
	for b.Loop() {
		var err error
		if got, err = OpenSite(path); err != nil {
			b.Fatal(err)
		}
	}
	sameSite(b, got, s)
}
