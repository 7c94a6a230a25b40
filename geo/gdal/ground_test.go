package gdal

import (
	"context"
	"errors"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/grid"
)

func ground(t testing.TB, path string, o GroundOptions) (grid.Ground, crs.CRS, []string) {
	t.Helper()
	g, c, notes, err := readGround(context.Background(), path, o)
	if err != nil {
		t.Fatal(err)
	}
	return g, c, notes
}

func TestGroundThatIsRightAlreadyIsCopied(t *testing.T) {
	cells := slope(40, 30)
	cells[7] = -9999
	file := tiff{kind: gdal.Float32, w: 40, h: 30, t: upright, crs: "EPSG:32610", nodata: []float64{-9999}, cells: cells}
	path := file.write(t)
	own := read(t, path)
	g, c, _ := ground(t, path, GroundOptions{})
	if c.Code != 32610 || g.Frame != grid.Square(40, 30, 500000, 5200000, 2) {
		t.Fatalf("frame %+v in %v", g.Frame, c)
	}
	cellsAre(t, g.V, own.Grid.V...)

	t.Run("from south to north, with the rows turned", func(t *testing.T) {
		file.t = [6]float64{500000, 2, 0, 5200000 - 60, 0, 2}
		south, _, _ := ground(t, file.write(t), GroundOptions{})
		if south.Frame != g.Frame {
			t.Fatalf("frame %+v, want %+v", south.Frame, g.Frame)
		}
		for y := range g.H {
			cellsAre(t, south.Row(y), g.Row(g.H-1-y)...)
		}
	})
	t.Run("cropped to whole cells", func(t *testing.T) {
		bound := orb.Bound{Min: orb.Point{500010, 5199971}, Max: orb.Point{500014.5, 5199980}}
		for _, transform := range [][6]float64{upright, {500000, 2, 0, 5200000 - 60, 0, 2}} {
			file.t = transform
			path := file.write(t)
			whole, _, _ := ground(t, path, GroundOptions{})
			part, _, _ := ground(t, path, GroundOptions{Bound: bound})
			if part.Frame != grid.Square(3, 5, 500010, 5199980, 2) {
				t.Fatalf("frame %+v", part.Frame)
			}
			for y := range part.H {
				cellsAre(t, part.Row(y), whole.Row(y + 10)[5:8]...)
			}
		}
	})
}

// A plane stays a plane however its cells are turned, stretched or renamed:
// height falls 1 in 50 to the east and 1 in 80 to the north.
func TestGroundKeepsAPlane(t *testing.T) {
	plane := func(p orb.Point) float64 { return 100 - (p[0]-500000)/50 - (p[1]-5200000)/80 }
	utm := utm10(t)
	sin, cos := math.Sincos(25 * math.Pi / 180)
	const second = 1e-5
	cases := []struct {
		name string
		t    [6]float64
		crs  string
		o    GroundOptions
		unit string
		near float64 // [m], of height
	}{
		{"turned by 25 degrees", [6]float64{500000, 2 * cos, 2 * sin, 5200000, 2 * sin, -2 * cos}, "EPSG:32610", GroundOptions{}, "", 0.001},
		{"in degrees", [6]float64{-123, second, 0, 46.951, 0, -second}, "EPSG:4326", GroundOptions{}, "", 0.002},
		{"in degrees, to a system that is named", [6]float64{-123, second, 0, 46.951, 0, -second}, "EPSG:4326", GroundOptions{CRS: "EPSG:32610"}, "", 0.002},
		{"in Web Mercator", [6]float64{-13692297, 1.5, 0, 5935000, 0, -1.2}, "EPSG:3857", GroundOptions{}, "", 0.002},
		{"with cells that are not square", [6]float64{500000, 2, 0, 5200000, 0, -1}, "EPSG:32610", GroundOptions{}, "", 0.001},
		{"in larger cells", upright, "EPSG:32610", GroundOptions{Cell: 5}, "", 0.03},
		{"in smaller cells", upright, "EPSG:32610", GroundOptions{Cell: 0.5}, "", 0.001},
		{"heights in feet", [6]float64{500000, 2, 0, 5200000, 0, -1}, "EPSG:32610", GroundOptions{}, "ft", 0.001},
		{"heights in feet that the person names", [6]float64{500000, 2, 0, 5200000, 0, -1}, "EPSG:32610", GroundOptions{HeightUnit: "ft"}, "", 0.001},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			path := planeFile(t, c.t, c.crs, c.unit, func(p orb.Point) float64 {
				if c.unit == "ft" || c.o.HeightUnit == "ft" {
					return plane(p) / 0.3048
				}
				return plane(p)
			})
			g, got, _ := ground(t, path, c.o)
			if got.Code != utm.Code || g.DX != g.DY {
				t.Fatalf("%v by %v m in %v", g.DX, g.DY, got)
			}
			if c.o.Cell != 0 && g.DX != c.o.Cell {
				t.Errorf("the cell is %v m, want %v", g.DX, c.o.Cell)
			}
			known := 0
			for y := 3; y < g.H-3; y++ { // at the rim the mean has fewer cells to draw on
				for x := 3; x < g.W-3; x++ {
					if grid.IsNoData(g.At(x, y)) || grid.IsNoData(g.At(x-3, y)) || grid.IsNoData(g.At(x+3, y)) ||
						grid.IsNoData(g.At(x, y-3)) || grid.IsNoData(g.At(x, y+3)) {
						continue
					}
					known++
					if want := plane(g.Centre(x, y)); math.Abs(float64(g.At(x, y))-want) > c.near {
						t.Fatalf("cell %d, %d is %v, want %v", x, y, g.At(x, y), want)
					}
				}
			}
			if known < g.Len()/4 {
				t.Errorf("%d of %d cells are known", known, g.Len())
			}
		})
	}
}

// planeFile writes heights that are a function of the position in zone 10.
func planeFile(t testing.TB, transform [6]float64, name, unit string, z func(orb.Point) float64) string {
	t.Helper()
	from, err := systemNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	move, done, err := NewTransform(from, utm10(t))
	if err != nil {
		t.Fatal(err)
	}
	defer done()
	const w, h = 60, 60
	cells := make([]float64, w*h)
	for i := range cells {
		p, err := move(at(transform, float64(i%w)+0.5, float64(i/w)+0.5))
		if err != nil {
			t.Fatal(err)
		}
		cells[i] = z(p)
	}
	return tiff{kind: gdal.Float64, w: w, h: h, t: transform, crs: name, unit: unit, cells: cells}.write(t)
}

func TestGroundNeverMixesInNoData(t *testing.T) {
	cells := slope(40, 40)
	for i := range cells {
		if i%7 == 0 || i%40 > 30 {
			cells[i] = -9999 // not declared
		} else {
			cells[i] = 50
		}
	}
	path := tiff{kind: gdal.Float32, w: 40, h: 40, t: upright, crs: "EPSG:32610", cells: cells}.write(t)
	for _, o := range []GroundOptions{{Cell: 5}, {Cell: 0.7}, {CRS: "EPSG:26910"}} {
		g, _, notes := ground(t, path, o)
		low, high, _ := grid.Extent(g)
		if low != 50 || high != 50 {
			t.Errorf("%+v: heights run from %v to %v, want 50 alone", o, low, high)
		}
		if !noted(notes, "taken for no data") {
			t.Errorf("%+v: notes %q", o, notes)
		}
	}
}

// A tall ground is brought over in several bands of rows.
func TestGroundIsWholeAcrossTheBandsItIsMadeIn(t *testing.T) {
	const h = 3 * warpRows
	cells := make([]float64, 4*h)
	for i := range cells {
		cells[i] = float64(i / 4)
	}
	path := tiff{kind: gdal.Float32, w: 4, h: h, t: [6]float64{500000, 2, 0, 5200000, 0, -1}, crs: "EPSG:32610", cells: cells}.write(t)
	g, _, _ := ground(t, path, GroundOptions{Cell: 1})
	if g.W != 8 || g.H != h {
		t.Fatalf("%d by %d cells, want 8 by %d", g.W, g.H, h)
	}
	for y := range g.H {
		if math.Abs(float64(g.At(3, y))-float64(y)) > 1e-3 {
			t.Fatalf("row %d is %v, want %d", y, g.At(3, y), y)
		}
	}
}

func TestGroundIsCroppedInTheTargetSystem(t *testing.T) {
	plane := func(p orb.Point) float64 { return (p[0] - 500000) / 10 }
	path := planeFile(t, [6]float64{-123, 1e-5, 0, 46.951, 0, -1e-5}, "EPSG:4326", "", plane)
	whole, c, _ := ground(t, path, GroundOptions{Cell: 1})
	middle := whole.Bound().Center()
	bound := orb.Bound{Min: orb.Point{middle[0] - 6, middle[1] - 9}, Max: orb.Point{middle[0] + 6, middle[1] + 9}}
	part, got, _ := ground(t, path, GroundOptions{Cell: 1, Bound: bound})
	if got != c || part.Frame != grid.Square(12, 18, bound.Min[0], bound.Max[1], 1) {
		t.Fatalf("frame %+v in %v", part.Frame, got)
	}
	for x := range part.W {
		if want := plane(part.Centre(x, 4)); math.Abs(float64(part.At(x, 4))-want) > 0.01 {
			t.Errorf("column %d is %v, want %v", x, part.At(x, 4), want)
		}
	}
}

func TestGroundWithoutReferenceSystem(t *testing.T) {
	path := filepath.Join("..", "..", "testdata", "verge.asc")
	g, c, notes := ground(t, path, GroundOptions{})
	if c.Known() || c.RequireMetres() != nil || g.Frame != grid.Square(4, 3, 1200, 3401.5, 0.5) {
		t.Errorf("frame %+v in %+v", g.Frame, c)
	}
	if !noted(notes, "no reference system") {
		t.Errorf("notes %q", notes)
	}
	named, c, notes := ground(t, path, GroundOptions{CRS: "EPSG:2193"})
	if c.Code != 2193 || named.Frame != g.Frame || !noted(notes, "taken to be in") {
		t.Errorf("frame %+v in %v, notes %q", named.Frame, c, notes)
	}
	cellsAre(t, named.V, g.V...)
}

func TestReadGroundRefusesInPlainWords(t *testing.T) {
	path := tiff{kind: gdal.Float32, w: 4, h: 4, t: upright, crs: "EPSG:32610", cells: slope(4, 4)}.write(t)
	far := orb.Bound{Min: orb.Point{1, 1}, Max: orb.Point{2, 2}}
	for want, o := range map[string]GroundOptions{
		"lies outside":                   {Bound: far},
		"lies outside it":                {Bound: far, Cell: 1},
		"not in metres":                  {CRS: "EPSG:4326"},
		"not known":                      {HeightUnit: "fathom"},
		"not a known reference system":   {CRS: "EPSG:9999999"},
		"the cell is -1 m":               {Cell: -1},
		"more than the 200 million":      {Cell: 1e-6},
		"give its south-west":            {Bound: orb.Bound{Min: orb.Point{2, 2}, Max: orb.Point{1, 1}}},
		"no such file; look at the path": {Cell: 1e9},
	} {
		file := path
		if o.Cell == 1e9 {
			file = "none.tif"
		}
		if _, _, _, err := readGround(context.Background(), file, o); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: error %v, want one with %q", o, err, want)
		}
	}
}

func TestReadGroundTakesAHeaderTooLargeIfItIsCropped(t *testing.T) {
	path := huge(t)
	if _, _, _, err := readGround(context.Background(), path, GroundOptions{}); err == nil || !strings.Contains(err.Error(), "200 million") {
		t.Fatalf("error %v, want one that it is too large", err)
	}
	bound := orb.Bound{Min: orb.Point{500000, 5199900}, Max: orb.Point{500100, 5200000}}
	g, _, _ := ground(t, path, GroundOptions{Bound: bound})
	if g.W != 50 || g.H != 50 {
		t.Errorf("%d by %d cells, want 50 by 50", g.W, g.H)
	}
}

func TestASystemThatStretchesTheGroundIsTold(t *testing.T) {
	path := tiff{kind: gdal.Float32, w: 40, h: 30, t: [6]float64{500000, 2, 0, 5200000, 0, -2}, crs: "EPSG:32632"}.write(t)
	for system, told := range map[string]bool{"": false, "EPSG:32632": false, "EPSG:32626": true} {
		_, _, notes, err := readGround(context.Background(), path, GroundOptions{CRS: system})
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(strings.Join(notes, " "), "are off by"); got != told {
			t.Errorf("in %q it is said that %q", system, notes)
		}
	}
}

func TestAGroundSaysWhatItsHeightsAreTakenFor(t *testing.T) {
	for _, c := range []struct {
		file       tiff
		how, taken string
		note       string
	}{
		{tiff{crs: "EPSG:32610"}, "", "m", "they are taken to be in metres"},
		{tiff{crs: "EPSG:32610", unit: "fathom"}, "", "m", "They are taken to be in metres"},
		{tiff{crs: "EPSG:2994"}, "", "ft", "as its coordinates are"},
		{tiff{crs: "EPSG:32610", unit: "m"}, "", "", ""},
		{tiff{crs: "EPSG:32610"}, "ft", "", ""},
	} {
		c.file.kind, c.file.w, c.file.h, c.file.t, c.file.cells = gdal.Float32, 2, 2, upright, []float64{1, 2, 3, 4}
		b, err := ReadGrounds(context.Background(), []string{c.file.write(t)}, GroundOptions{HeightUnit: c.how})
		if err != nil {
			t.Fatal(err)
		}
		if b.Taken != c.taken || !noted(b.Notes, c.note) || c.note == "" && noted(b.Notes, "taken to be") {
			t.Errorf("%q in %s, asked for in %q: taken for %q, notes %q", c.file.unit, c.file.crs, c.how, b.Taken, b.Notes)
		}
	}
}

func TestAFileThatNoOtherWayHelpsSaysSo(t *testing.T) {
	none := tiff{kind: gdal.Float32, w: 2, h: 1, t: upright, crs: "EPSG:32610", nodata: []float64{1}, cells: []float64{1, 1}}.write(t)
	good := tiff{kind: gdal.Float32, w: 2, h: 2, t: upright, crs: "EPSG:32610", cells: []float64{1, 2, 3, 4}}.write(t)
	for name, c := range map[string]struct {
		path     string
		o        GroundOptions
		hopeless bool
	}{
		"nothing in it":        {put(t, "a.tif", ""), GroundOptions{}, true},
		"not a raster":         {put(t, "b.tif", "II*"), GroundOptions{}, true},
		"no height in it":      {none, GroundOptions{}, true},
		"a system in degrees":  {good, GroundOptions{CRS: "EPSG:4326"}, false},
		"a part that is empty": {good, GroundOptions{Bound: orb.Bound{Min: orb.Point{0, 0}, Max: orb.Point{1, 1}}}, false},
	} {
		_, err := ReadGrounds(context.Background(), []string{c.path}, c.o)
		if err == nil || errors.Is(err, ErrNoOtherWay) != c.hopeless || strings.Contains(err.Error(), ErrNoOtherWay.Error()) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
