package gdal

import (
	"context"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo/grid"
)

// hill is the height of a ground that tiles of any net show parts of [m].
func hill(p orb.Point) float64 {
	return 40 + 6*math.Sin((p[0]-500000)/37) + 5*math.Cos((p[1]-5200000)/29)
}

// piece writes a tile of the hill of w by h cells and returns its path.
func piece(t testing.TB, name string, f grid.Frame, change func(*grid.Ground)) string {
	t.Helper()
	g := grid.New[float32](f)
	for i := range g.V {
		g.V[i] = float32(hill(g.Centre(i%g.W, i/g.W)))
	}
	if change != nil {
		change(&g)
	}
	path := filepath.Join(t.TempDir(), name)
	if err := WriteRaster(context.Background(), path, g, Place(g.Frame, utm10(t))); err != nil {
		t.Fatal(err)
	}
	return path
}

func grounds(t testing.TB, o GroundOptions, paths ...string) Brought {
	t.Helper()
	b, err := ReadGrounds(context.Background(), paths, o)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// offHill is how far known heights lie from the hill at most [m], and how many cells have none.
func offHill(g grid.Ground) (worst float64, unknown int) {
	for i, v := range g.V {
		if grid.IsNoData(v) {
			unknown++
			continue
		}
		worst = max(worst, math.Abs(float64(v)-hill(g.Centre(i%g.W, i/g.W))))
	}
	return worst, unknown
}

func TestTilesOfOneNetAreCopiedSideBySide(t *testing.T) {
	a := piece(t, "a.tif", grid.Square(40, 30, 500000, 5200000, 2), nil)
	b := piece(t, "b.tif", grid.Square(20, 50, 500080, 5199980, 2), nil)
	got := grounds(t, GroundOptions{}, a, b)
	if got.Ground.Frame != grid.Square(60, 60, 500000, 5200000, 2) || got.CRS.Code != 32610 {
		t.Fatalf("frame %+v in %v", got.Ground.Frame, got.CRS)
	}
	worst, unknown := offHill(got.Ground)
	if worst > 1e-5 || unknown != 60*60-40*30-20*50 {
		t.Errorf("off by %v m, %d cells are not known", worst, unknown)
	}
	if len(got.Sources) != 2 || got.Sources[0].Name != "a.tif" || got.Sources[0].Count != 1200 || got.Sources[1].Count != 1000 ||
		got.Sources[1].Cell != 2 || !strings.Contains(got.Sources[0].System, "32610") {
		t.Errorf("sources %+v", got.Sources)
	}
}

func TestTheFirstTileWinsAndGapsStay(t *testing.T) {
	a := piece(t, "a.tif", grid.Square(20, 20, 500000, 5200000, 2), func(g *grid.Ground) { g.V[5*20+15] = grid.NoData })
	b := piece(t, "b.tif", grid.Square(20, 20, 500020, 5200000, 2), func(g *grid.Ground) {
		for i := range g.V {
			g.V[i] += 0.5
		}
		g.V[19*20+19] = grid.NoData
	})
	got := grounds(t, GroundOptions{}, a, b).Ground
	for _, c := range []struct {
		x, y int
		add  float64
	}{{14, 5, 0}, {15, 5, 0.5}, {19, 19, 0}, {20, 19, 0.5}, {29, 19, math.NaN()}} {
		want := hill(got.Centre(c.x, c.y)) + c.add
		if v := float64(got.V[c.y*got.W+c.x]); !(math.Abs(v-want) < 1e-5) && !(math.IsNaN(v) && math.IsNaN(want)) {
			t.Errorf("cell %d, %d is %v, want %v", c.x, c.y, v, want)
		}
	}
	notes := grounds(t, GroundOptions{}, a, b).Notes
	if said := strings.Join(notes, "\n"); !strings.Contains(said, "0.50 m above them in the mean of 199 cells") {
		t.Errorf("the step is not told:\n%s", said)
	}
}

// TestTilesOfOtherNetsAndSystemsFollowTheFirst: tiles off by half a cell, of a larger
// cell, of a smaller one, in another zone and in degrees.
func TestTilesOfOtherNetsAndSystemsFollowTheFirst(t *testing.T) {
	a := piece(t, "a.tif", grid.Square(40, 40, 500000, 5200000, 2), nil)
	for name, f := range map[string]grid.Frame{
		"half a cell off": grid.Square(40, 40, 500081, 5200001, 2), "coarser": grid.Square(16, 16, 500080, 5200000, 5),
		"finer": grid.Square(160, 160, 500080, 5200000, 0.5),
	} {
		got := grounds(t, GroundOptions{}, a, piece(t, "b.tif", f, nil)).Ground
		if got.DX != 2 || math.Abs(math.Mod(got.West-500000, 2)) > 1e-9 || math.Abs(math.Mod(got.North-5200000, 2)) > 1e-9 {
			t.Errorf("%s: frame %+v", name, got.Frame)
		}
		if worst, _ := offHill(got); worst > 0.25 { // half a cell of a coarse tile's edge is level
			t.Errorf("%s: off by %v m", name, worst)
		}
		for x := range got.W - 2 { // no seam
			if v := got.V[20*got.W+x]; grid.IsNoData(v) {
				t.Errorf("%s: no height in column %d", name, x)
			}
		}
	}
	for _, system := range []string{"EPSG:32611", "EPSG:4326"} {
		b := warped(t, piece(t, "b.tif", grid.Square(60, 60, 500070, 5200010, 2), nil), system)
		got := grounds(t, GroundOptions{}, a, b)
		if worst, _ := offHill(got.Ground); worst > 0.2 || got.CRS.Code != 32610 {
			t.Errorf("%s: off by %v m in %v", system, worst, got.CRS)
		}
		for x := range 90 {
			if v := got.Ground.V[25*got.Ground.W+x]; grid.IsNoData(v) {
				t.Errorf("%s: no height in column %d", system, x)
			}
		}
		if said := strings.Join(got.Notes, "\n"); !strings.Contains(said, "b.tif: It is brought to WGS 84 / UTM zone 10N") {
			t.Errorf("%s: that it is brought there is not told:\n%s", system, said)
		}
	}
}

// warped writes a raster in another system, as GDAL resamples it.
func warped(t *testing.T, path, system string) string {
	t.Helper()
	to := filepath.Join(t.TempDir(), "b.tif")
	err := do(func() error {
		from, err := gdal.Open(path, gdal.ReadOnly)
		if err != nil {
			return err
		}
		defer from.Close()
		out, err := gdal.Warp(to, nil, []gdal.Dataset{from}, []string{"-t_srs", system, "-r", "bilinear", "-of", "GTiff", "-dstnodata", "-9999"})
		if err != nil {
			return err
		}
		out.Close()
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return to
}

// TestNoDataDoesNotBleedIntoHeights resamples a ground with holes: every height that
// comes out lies among those that went in, so that none is mixed with -9999.
func TestNoDataDoesNotBleedIntoHeights(t *testing.T) {
	cells := slope(40, 30)
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range cells {
		low, high = min(low, v), max(high, v)
	}
	for i := range cells {
		if i%7 == 3 || i%40 > 30 && i/40 > 20 {
			cells[i] = -9999
		}
	}
	path := tiff{kind: gdal.Float32, w: 40, h: 30, t: upright, crs: "EPSG:32610", nodata: []float64{-9999}, cells: cells}.write(t)
	for name, o := range map[string]GroundOptions{
		"finer": {Cell: 0.7}, "coarser": {Cell: 7}, "another zone": {CRS: "EPSG:32611"}, "another zone, coarser": {CRS: "EPSG:32611", Cell: 9},
	} {
		g := grounds(t, o, path).Ground
		l, h, known := grid.Extent(g)
		if l < low-1e-4 || h > high+1e-4 || known == 0 {
			t.Errorf("%s: heights from %v to %v, want within %v to %v", name, l, h, low, high)
		}
	}
}

func TestAMosaicIsCutOut(t *testing.T) {
	a := piece(t, "a.tif", grid.Square(40, 30, 500000, 5200000, 2), nil)
	b := piece(t, "b.tif", grid.Square(40, 30, 500080, 5200000, 2), nil)
	far := piece(t, "far.tif", grid.Square(40, 30, 600000, 5200000, 2), nil)
	cut := orb.Bound{Min: orb.Point{500070, 5199980}, Max: orb.Point{500090, 5199990}}
	got := grounds(t, GroundOptions{Bound: cut}, a, b, far)
	if got.Ground.Frame != grid.Square(10, 5, 500070, 5199990, 2) || len(got.Sources) != 2 {
		t.Fatalf("frame %+v of %d files", got.Ground.Frame, len(got.Sources))
	}
	if worst, unknown := offHill(got.Ground); worst > 1e-5 || unknown > 0 {
		t.Errorf("off by %v m, %d cells are not known", worst, unknown)
	}
	if said := strings.Join(got.Notes, "\n"); !strings.Contains(said, "far.tif: It lies outside") {
		t.Errorf("the file outside is not told of:\n%s", said)
	}
	if _, err := ReadGrounds(t.Context(), []string{far, far}, GroundOptions{Bound: cut}); err == nil || !strings.Contains(err.Error(), "none of the 2 files") {
		t.Errorf("nothing inside says %v", err)
	}
}

func TestAMosaicIsRefused(t *testing.T) {
	a := piece(t, "a.tif", grid.Square(40, 30, 500000, 5200000, 2), nil)
	far := piece(t, "far.tif", grid.Square(4, 3, 900000, 5900000, 2), nil)
	here := piece(t, "here.tif", grid.Square(4, 3, 500000, 5200000, 2), nil)
	broken := put(t, "broken.tif", "no raster")
	plain := tiff{kind: gdal.Float32, w: 4, h: 3, t: upright, cells: slope(4, 3)}.write(t)
	for name, c := range map[string]struct {
		paths []string
		says  string
	}{
		"none":                       {nil, "no elevation file is given"},
		"tiles a long way apart":     {[]string{a, far}, "more than the 200 million that fit in memory"},
		"a broken one":               {[]string{a, broken}, "broken.tif: "},
		"a system after no system":   {[]string{plain, here}, "the first file names no reference system"},
		"one that is not there":      {[]string{a, "/nowhere/x.tif"}, "there is no such file"},
		"an address":                 {[]string{a, "https://ground.invalid/a.tif"}, "is not a file on this computer"},
		"more than anyone has tiles": {make([]string, mostTiles+1), "1000 is the most"},
	} {
		_, err := ReadGrounds(t.Context(), c.paths, GroundOptions{})
		if err == nil || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: it says %v, want %q", name, err, c.says)
		}
	}
}
