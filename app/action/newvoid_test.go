package action

import (
	"context"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/survey"
)

// tile writes 12 by 10 cells of 2 m of one plane, so many metres east of a corner, with a
// hole of 2 by 3 cells.
func tile(t *testing.T, name string, east float64) string {
	t.Helper()
	g := grid.New[float32](grid.Square(12, 10, 500_000+east, 4_000_000, 2))
	for i := range g.V {
		x, y := i%12, i/12
		p := g.Centre(x, y)
		g.V[i] = float32(20 + 0.05*(p[0]-500_000) - 0.02*(p[1]-4_000_000))
		if x >= 5 && x < 7 && y >= 4 && y < 7 {
			g.V[i] = grid.NoData
		}
	}
	path := filepath.Join(t.TempDir(), name)
	if err := gdal.WriteRaster(context.Background(), path, g, gdal.Place(g.Frame, utm)); err != nil {
		t.Fatal(err)
	}
	return path
}

func unknown(g grid.Ground) (n int) {
	for _, v := range g.V {
		if grid.IsNoData(v) {
			n++
		}
	}
	return n
}

func TestTilesSideBySideMakeOneGround(t *testing.T) {
	path := filepath.Join(t.TempDir(), "both.gpkg")
	r := run("new", path, "--ground", tile(t, "west.tif", 0), "--ground", tile(t, "east.tif", 24))
	if r.status != done || !strings.Contains(r.err, "the ground has 2 voids, 48.0 m² in all; they are left without heights, and --fill-voids") {
		t.Fatalf("it ends with %d and says\n%s", r.status, r.err)
	}
	s, err := gdal.OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	if s.Ground.W != 24 || s.Ground.H != 10 || unknown(s.Ground) != 12 || len(s.Survey.Sources) != 2 || len(s.Survey.Patches) != 0 {
		t.Errorf("%+v with %d unknown rests on %+v", s.Ground.Frame, unknown(s.Ground), s.Survey)
	}
}

func TestVoidsAreFilledWhereThatIsAskedFor(t *testing.T) {
	path := filepath.Join(t.TempDir(), "filled.gpkg")
	r := run("new", path, "--ground", tile(t, "west.tif", 0), "--fill-voids")
	if r.status != done || !strings.Contains(r.err, "1 void in the ground, 24.0 m² in all, got heights from around; nothing was measured there") {
		t.Fatalf("it ends with %d and says\n%s", r.status, r.err)
	}
	s, err := gdal.OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	if unknown(s.Ground) != 0 || len(s.Survey.Patches) != 1 || s.Survey.Patches[0].Why != survey.Void {
		t.Errorf("%d cells are unknown, patches %+v", unknown(s.Ground), s.Survey.Patches)
	}
	for i, v := range s.Ground.V { // a plane
		p := s.Ground.Centre(i%12, i/12)
		if want := 20 + 0.05*(p[0]-500_000) - 0.02*(p[1]-4_000_000); !(math.Abs(float64(v)-want) < 0.01) {
			t.Fatalf("cell %d is %v, want %v", i, v, want)
		}
	}
}

func TestVoidsAreOfRasters(t *testing.T) {
	said := refused(t, mistake, "new", filepath.Join(t.TempDir(), "a.gpkg"), "--points", text(t, "p.csv", "1,2,3,4,GS\n"), "--fill-voids")
	if !strings.Contains(said, "--fill-voids is for rasters") {
		t.Errorf("it says %q", said)
	}
}
