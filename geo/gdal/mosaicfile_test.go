package gdal

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/lukeroth/gdal"

	"runnel/geo/grid"
)

// systemOf is the definition of a system of a horizontal and a vertical one.
func systemOf(t *testing.T, across, up int) (wkt string) {
	t.Helper()
	err := do(func() error {
		flat, height, both := newReference(), newReference(), newReference()
		defer flat.Destroy()
		defer height.Destroy()
		defer both.Destroy()
		err := errors.Join(flat.FromEPSG(across), height.FromEPSG(up), both.SetCompoundCS("both", flat, height))
		if err == nil {
			wkt, err = both.ToWKT()
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return wkt
}

// TestUnitAndDatumAreRecorded reads heights whose system, or whose band, says what they are.
func TestUnitAndDatumAreRecorded(t *testing.T) {
	for name, c := range map[string]struct {
		crs         string
		o           GroundOptions
		unit, datum string
	}{
		"nothing said":       {"EPSG:32610", GroundOptions{}, "", ""},
		"a vertical system":  {systemOf(t, 32610, 5703), GroundOptions{}, "m", "NAVD88 height"},
		"in US survey feet":  {systemOf(t, 2285, 6360), GroundOptions{}, "us-ft", "NAVD88 height (ftUS)"},
		"said by the person": {"EPSG:32610", GroundOptions{HeightUnit: "ft"}, "ft", ""},
	} {
		path := tiff{kind: gdal.Float32, w: 40, h: 30, t: upright, crs: c.crs, cells: slope(40, 30)}.write(t)
		got := grounds(t, c.o, path).Sources
		if len(got) != 1 || got[0].Unit != c.unit || got[0].Datum != c.datum {
			t.Errorf("%s: %+v, want unit %q and datum %q", name, got, c.unit, c.datum)
		}
	}
}

// town is where a town's bare ground lies, with copies of it in variants beside, if it does.
const town = "RUNNEL_TOWN"

// TestOneGroundInManyFormsIsOneGround reads copies of a ground in other encodings, units
// and systems beside it.
func TestOneGroundInManyFormsIsOneGround(t *testing.T) {
	dir := os.Getenv(town)
	if dir == "" {
		t.Skipf("set %s to a folder with dtm.tif", town)
	}
	want := grounds(t, GroundOptions{}, filepath.Join(dir, "dtm.tif")).Ground
	for name, bound := range map[string]float64{ // largest RMSE [m]: resampling twice smooths edges
		"dtm_bigtiff_striped_lzw.tif": 0, "dtm_cog_deflate.tif": 0, "dtm_bigendian_uncompressed.tif": 0, "dtm.asc": 5e-4,
		"dtm_int16_cm_scale001.tif": 0.004, "dtm_southup.tif": 0, "dtm_epsg4326.tif": 0.15, "dtm_epsg2283_ftUS_z_ft.tif": 0.15,
	} {
		got := grounds(t, GroundOptions{CRS: "EPSG:26918", Cell: 2}, filepath.Join(dir, "../variants", name))
		sum, n := 0.0, 0
		for i, v := range got.Ground.V {
			x, y, ok := want.Cell(got.Ground.Centre(i%got.Ground.W, i/got.Ground.W))
			if !ok || grid.IsNoData(v) || grid.IsNoData(want.V[y*want.W+x]) {
				continue
			}
			d := float64(v - want.V[y*want.W+x])
			sum, n = sum+d*d, n+1
		}
		if rmse := math.Sqrt(sum / float64(n)); !(rmse <= bound) || n < want.Len()*9/10 {
			t.Errorf("%s: RMSE %.4f m over %d cells, want at most %v", name, rmse, n, bound)
		} else {
			t.Logf("%s: RMSE %.4f m over %d cells; %+v", name, rmse, n, got.Sources[0])
		}
	}
}
