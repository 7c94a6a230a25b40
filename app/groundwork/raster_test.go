package groundwork

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/surface"
	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/survey"
)

func TestAMosaicIsAsGoodAsItsCoarsestTile(t *testing.T) {
	fine := OfRasters([]survey.Source{{Cell: 0.5}})
	both := OfRasters([]survey.Source{{Cell: 0.5}, {Cell: 10}})
	if !(both.Quality.Error > fine.Quality.Error) || len(both.Sources) != 2 {
		t.Errorf("%+v and %+v", fine.Quality, both.Quality)
	}
	if given := OfRasters([]survey.Source{{Cell: 0.5, Error: 0.3}}); given.Quality.Error != 0.3 {
		t.Errorf("a given error of 0.3 m becomes %v", given.Quality.Error)
	}
	if !OfRasters(nil).Empty() {
		t.Error("of no raster something is known")
	}
}

// town is where a town's surface model, bare ground and footprints lie, if they do.
const town = "RUNNEL_TOWN"

// TestBuildingsTakenOutOfASurfaceModelComeNearTheBareGround takes the buildings of a town
// out of its surface model by their footprints and compares with the bare ground that
// was measured by laser of the same flight.
func TestBuildingsTakenOutOfASurfaceModelComeNearTheBareGround(t *testing.T) {
	dir := os.Getenv(town)
	if dir == "" {
		t.Skipf("set %s to a folder with dsm.tif, dtm.tif and buildings.geojson", town)
	}
	read := func(name string) (grid.Ground, gdal.Brought) {
		b, err := gdal.ReadGrounds(t.Context(), []string{filepath.Join(dir, name)}, gdal.GroundOptions{})
		if err != nil {
			t.Fatal(err)
		}
		return b.Ground, b
	}
	dsm, from := read("dsm.tif")
	dtm, _ := read("dtm.tif")
	drawn, _, err := gdal.ReadDrawn(t.Context(), filepath.Join(dir, "buildings.geojson"), gdal.DrawnOptions{To: from.CRS})
	if err != nil {
		t.Fatal(err)
	}
	var covers []surface.Cover
	for _, d := range drawn {
		if area, ok := d.Geometry.(orb.Polygon); ok {
			covers = append(covers, surface.Cover{Outline: area, Why: survey.Building})
		}
	}
	bared, err := surface.Bare(t.Context(), dsm, covers)
	if err != nil {
		t.Fatal(err)
	}
	off := func(g grid.Ground) (rmse, bias float64, n int) {
		for i, v := range dtm.V {
			if p := dtm.Centre(i%dtm.W, i/dtm.W); !grid.IsNoData(v) && within(p, covers) && !grid.IsNoData(dsm.V[i]) {
				d := float64(g.V[i] - v)
				rmse, bias, n = rmse+d*d, bias+d, n+1
			}
		}
		return math.Sqrt(rmse / float64(n)), bias / float64(n), n
	}
	before, biasBefore, n := off(dsm)
	after, biasAfter, _ := off(bared.Ground)
	t.Logf("%d buildings, %d cells under them: RMSE %.2f m, bias %.2f m; without them RMSE %.2f m, bias %.2f m; %d cells in %d patches sink by %.2f m in the mean, %.2f m at most",
		len(covers), n, before, biasBefore, after, biasAfter, bared.Cells, len(bared.Patches), bared.Sunk, bared.Most)
	if len(covers) < 80 || !(after < before/3) {
		t.Errorf("RMSE goes from %.2f m to %.2f m, which should be a third at most", before, after)
	}
}

func within(p orb.Point, covers []surface.Cover) bool {
	for _, c := range covers {
		if c.Outline.Bound().Contains(p) && inside(p, c.Outline) {
			return true
		}
	}
	return false
}

func inside(p orb.Point, area orb.Polygon) (in bool) {
	for _, ring := range area {
		for i := range len(ring) - 1 {
			a, b := ring[i], ring[i+1]
			if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+(p[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
				in = !in
			}
		}
	}
	return in
}
