package gdal

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo"
	"runnel/geo/crs"
	"runnel/geo/plan"
)

// The colours of the corners of a test image, from the north-west clockwise.
var (
	red   = color.NRGBA{200, 0, 0, 255}
	green = color.NRGBA{0, 180, 0, 255}
	blue  = color.NRGBA{0, 0, 220, 255}
	white = color.NRGBA{255, 255, 255, 255}
)

// quarters is an image whose four quarters have the four colours.
func quarters(w, h int) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := [2][2]color.NRGBA{{red, green}, {white, blue}}[2*y/h][2*x/w]
			img.SetNRGBA(x, y, c)
		}
	}
	return img
}

// worldPNG writes an image with its world file, whose place is that of the middle
// of the first pixel; an empty world writes none.
func worldPNG(t testing.TB, img image.Image, world string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "orchard.png")
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if err := png.Encode(file, img); err != nil {
		t.Fatal(err)
	}
	if world != "" {
		if err := os.WriteFile(strings.TrimSuffix(path, ".png")+".pgw", []byte(world), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return path
}

// colourTIFF writes an image as bands of a GeoTIFF.
func colourTIFF(t testing.TB, f tiff, bands ...[]float64) string {
	t.Helper()
	f.bands = len(bands)
	path := f.write(t)
	err := do(func() error {
		set, err := gdal.OpenEx(path, gdal.OFRaster|gdal.OFUpdate, []string{"GTiff"}, nil, nil)
		if err != nil {
			return err
		}
		defer set.Close()
		for i, cells := range bands {
			if err := set.RasterBand(i+1).IO(gdal.Write, 0, 0, f.w, f.h, cells, f.w, f.h, 0, 0); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// bandsOf are the red, green, blue and alpha of an image.
func bandsOf(img *image.NRGBA) [][]float64 {
	bands := make([][]float64, 4)
	for i, v := range img.Pix {
		bands[i%4] = append(bands[i%4], float64(v))
	}
	return bands
}

// whole decodes all tiles of an underlay.
func whole(t testing.TB, u plan.Underlay) *image.NRGBA {
	t.Helper()
	img := image.NewNRGBA(image.Rect(0, 0, u.Frame.W, u.Frame.H))
	for i := range u.Picture.Tiles {
		tile, err := u.Picture.Tile(i)
		if err != nil {
			t.Fatal(err)
		}
		if tile == nil {
			continue
		}
		for y := range u.Picture.TileH {
			for x := range u.Picture.TileW {
				img.Set(i%u.Columns()*u.Picture.TileW+x, i/u.Columns()*u.Picture.TileH+y, tile.At(x, y))
			}
		}
	}
	return img
}

// seen is the colour of an underlay at a place on the ground.
func seen(t testing.TB, u plan.Underlay, at orb.Point) color.NRGBA {
	t.Helper()
	x, y, ok := u.Frame.Cell(at)
	if !ok {
		t.Fatalf("%v is off %+v", at, u.Frame)
	}
	return whole(t, u).NRGBAAt(x, y)
}

func near(a, b color.NRGBA, off int) bool {
	far := func(p, q uint8) bool { return int(p)-int(q) > off || int(q)-int(p) > off }
	return !far(a.R, b.R) && !far(a.G, b.G) && !far(a.B, b.B) && !far(a.A, b.A)
}

func underlay(t testing.TB, path string, o UnderlayOptions) (plan.Underlay, []string) {
	t.Helper()
	u, notes, err := ReadUnderlay(context.Background(), path, o)
	if err != nil {
		t.Fatal(err)
	}
	return u, notes
}

// plots is where the tests' ground lies: 40 by 40 m.
var plots = orb.Bound{Min: orb.Point{500000, 5199960}, Max: orb.Point{500040, 5200000}}

func onPlots(t testing.TB) UnderlayOptions { return UnderlayOptions{Site: utm10(t), Ground: plots} }

func TestAnImageInTheSitesSystemIsKeptPixelByPixel(t *testing.T) {
	img := quarters(80, 80)
	bands := bandsOf(img)
	path := colourTIFF(t, tiff{kind: gdal.Byte, w: 80, h: 80, t: [6]float64{500000, 0.5, 0, 5200000, 0, -0.5}, crs: "EPSG:32610"}, bands[:3]...)
	u, notes := underlay(t, path, onPlots(t))
	if f := u.Frame; f.W != 80 || f.H != 80 || f.West != 500000 || f.North != 5200000 || f.DX != 0.5 || f.DY != 0.5 {
		t.Errorf("the frame is %+v", f)
	}
	if got := whole(t, u); string(got.Pix) != string(img.Pix) {
		t.Error("the pixels are others")
	}
	if len(notes) > 0 || u.Name != "ground.tif" || u.Opacity != 1 || u.Hidden {
		t.Errorf("it is %q, %v, %v with %q", u.Name, u.Opacity, u.Hidden, notes)
	}
}

// The four corners of the image are placed by PROJ's own transformation of points;
// what is seen near them must be their colours.
func TestAnImageInDegreesLandsOnItsGround(t *testing.T) {
	toDegrees, release, err := NewTransform(utm10(t), crs.LonLat())
	if err != nil {
		t.Fatal(err)
	}
	defer release()
	nw, err := toDegrees(orb.Point{500005, 5199995})
	if err != nil {
		t.Fatal(err)
	}
	const step = 2e-6 // degrees: 0.22 m to the north, 0.15 m to the east
	bands := bandsOf(quarters(120, 120))
	path := colourTIFF(t, tiff{kind: gdal.Byte, w: 120, h: 120, t: [6]float64{nw[0], step, 0, nw[1], 0, -step}, crs: "EPSG:4326"}, bands[:3]...)
	u, _ := underlay(t, path, onPlots(t))
	toGround, release2, err := NewTransform(crs.LonLat(), utm10(t))
	if err != nil {
		t.Fatal(err)
	}
	defer release2()
	for _, c := range []struct {
		x, y float64
		want color.NRGBA
	}{{3, 3, red}, {117, 3, green}, {117, 117, blue}, {3, 117, white}, {57, 57, red}, {63, 57, green}, {63, 63, blue}, {57, 63, white}} {
		at, err := toGround(orb.Point{nw[0] + c.x*step, nw[1] - c.y*step})
		if err != nil {
			t.Fatal(err)
		}
		if got := seen(t, u, at); got != c.want {
			t.Errorf("pixel %v, %v is %v at %v, want %v", c.x, c.y, got, at, c.want)
		}
	}
}

func TestATurnedImageIsClearAtItsCorners(t *testing.T) {
	bands := bandsOf(quarters(40, 40))
	c := math.Sqrt2 / 4 // pixels of half a metre, turned by 45 degrees about the middle of the ground
	path := colourTIFF(t, tiff{kind: gdal.Byte, w: 40, h: 40, t: [6]float64{500020 - 40*c, c, c, 5199980, c, -c}, crs: "EPSG:32610"}, bands[:3]...)
	u, _ := underlay(t, path, onPlots(t))
	for at, want := range map[orb.Point]color.NRGBA{
		{500020 - 7, 5199980}: red, {500020, 5199980 + 7}: green, {500020 + 7, 5199980}: blue, {500020, 5199980 - 7}: white,
		{500020 - 12, 5199980 + 12}: {}, {500020 + 12, 5199980 - 12}: {},
	} {
		if got := seen(t, u, at); got != want {
			t.Errorf("at %v it is %v, want %v", at, got, want)
		}
	}
}

func TestAPNGIsPlacedByItsWorldFile(t *testing.T) {
	path := worldPNG(t, quarters(20, 20), "2\n0\n0\n-2\n500001\n5199999\n")
	_, _, err := ReadUnderlay(context.Background(), path, onPlots(t))
	if !errors.Is(err, ErrNoSystem) || !strings.HasPrefix(err.Error(), "orchard.png: it names no reference system") {
		t.Errorf("without a system: %v", err)
	}
	for _, system := range []string{OwnSystem, "EPSG:32610"} {
		o := onPlots(t)
		o.System = system
		u, _ := underlay(t, path, o)
		for at, want := range map[orb.Point]color.NRGBA{{500001, 5199999}: red, {500039, 5199999}: green, {500039, 5199961}: blue, {500001, 5199961}: white} {
			if got := seen(t, u, at); got != want {
				t.Errorf("as %s at %v it is %v, want %v", system, at, got, want)
			}
		}
	}
	_, _, err = ReadUnderlay(context.Background(), path, UnderlayOptions{Ground: plots})
	if err != nil {
		t.Errorf("on a site without a system: %v", err)
	}
}

func TestWhatCannotLieUnderTheMapIsOneSentence(t *testing.T) {
	far := colourTIFF(t, tiff{kind: gdal.Byte, w: 4, h: 4, t: [6]float64{503000, 1, 0, 5204000, 0, -1}, crs: "EPSG:32610"}, slope(4, 4), slope(4, 4), slope(4, 4))
	close := colourTIFF(t, tiff{kind: gdal.Byte, w: 4, h: 4, t: [6]float64{500100, 1, 0, 5199990, 0, -1}, crs: "EPSG:32610"}, slope(4, 4))
	empty := tiff{kind: gdal.Float32, w: 2, h: 2, t: upright, crs: "EPSG:32610", nodata: []float64{-1}, cells: []float64{-1, -1, -1, -1}}.write(t)
	site := filepath.Join(t.TempDir(), "site.gpkg")
	if err := SaveSite(site, plot(t)); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		far:                                 "it lies off the ground, 5 km from it; look at", // 2960 m east and 3996 m north
		close:                               "it lies off the ground, 60 m from it",
		empty:                               "it has no data over the ground",
		worldPNG(t, quarters(2, 2), ""):     "does not say where it lies; put its world file beside it",
		put(t, "letter.tif", "Dear Sir"):    "cannot be read as an image",
		put(t, "roof.vrt", "<VRTDataset/>"): "cannot be read as an image",
		site:                                "cannot be read as an image",
		"https://images.invalid/a.tif":      "is not a file on this computer",
	} {
		_, _, err := ReadUnderlay(context.Background(), path, onPlots(t))
		if err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v, want %q", path, err, want)
		}
	}
	o := onPlots(t)
	o.Site = crs.CRS{Metre: 1}
	if _, _, err := ReadUnderlay(context.Background(), close, o); !errors.Is(err, ErrNoSystem) {
		t.Errorf("an image with a system on a site without: %v", err)
	}
}

func TestHeightsAreGreyBetweenTheirPercentiles(t *testing.T) {
	cells := make([]float64, 400)
	for i := range cells {
		cells[i] = float64(i) // the 2nd percentile of 0 to 399 is 7.98 and the 98th 391.02
	}
	cells[399] = 1e6 // one wrong height must not darken the rest
	cells[200] = -9999
	path := tiff{kind: gdal.Float32, w: 20, h: 20, t: [6]float64{500000, 2, 0, 5200000, 0, -2}, crs: "EPSG:32610", nodata: []float64{210}, cells: cells}.write(t)
	u, _ := underlay(t, path, onPlots(t))
	for _, i := range []int{0, 5, 100, 300, 395, 399, 200, 210} {
		grey := uint8(math.Round(255 * min(1, max(0, (float64(i)-8)/(391-8)))))
		want := color.NRGBA{grey, grey, grey, 255}
		if i == 200 || i == 210 {
			want = color.NRGBA{}
		}
		if got := seen(t, u, orb.Point{500001 + 2*float64(i%20), 5199999 - 2*float64(i/20)}); !near(got, want, 2) {
			t.Errorf("height %d is %v, want %v", i, got, want)
		}
	}
}

func TestSixteenBitsAreBroughtToEight(t *testing.T) {
	low, high := make([]float64, 100), make([]float64, 100)
	for i := range low {
		low[i], high[i] = 1000+float64(i), 1000+30*float64(i)
	}
	path := colourTIFF(t, tiff{kind: gdal.UInt16, w: 10, h: 10, t: [6]float64{500000, 4, 0, 5200000, 0, -4}, crs: "EPSG:32610"}, high, low, low)
	u, _ := underlay(t, path, onPlots(t))
	first, last := seen(t, u, orb.Point{500001, 5199999}), seen(t, u, orb.Point{500039, 5199961})
	if first.R > 3 || last.R < 252 || last.G > 20 || last.G != last.B {
		t.Errorf("from %v to %v", first, last)
	}
}

func TestClearPixelsAreLeftOut(t *testing.T) {
	img := quarters(20, 20)
	for i := range img.Pix {
		if i%4 == 3 && i/4%20 >= 10 {
			img.Pix[i] = 0 // the east half
		}
	}
	at := [6]float64{500000, 2, 0, 5200000, 0, -2}
	rgba := colourTIFF(t, tiff{kind: gdal.Byte, w: 20, h: 20, t: at, crs: "EPSG:32610", options: []string{"ALPHA=YES", "PHOTOMETRIC=RGB"}}, bandsOf(img)...)
	bands := bandsOf(quarters(20, 20))
	marked := colourTIFF(t, tiff{kind: gdal.Byte, w: 20, h: 20, t: at, crs: "EPSG:32610", nodata: []float64{0}}, bands[0], bands[0], bands[0]) // green and blue are 0 there
	for name, path := range map[string]string{"alpha": rgba, "no data": marked} {
		u, _ := underlay(t, path, onPlots(t))
		if got := seen(t, u, orb.Point{500035, 5199995}); got != (color.NRGBA{}) {
			t.Errorf("%s: the clear part is %v", name, got)
		}
		if got := seen(t, u, orb.Point{500005, 5199995}); got.R != 200 || got.A != 255 {
			t.Errorf("%s: the other part is %v", name, got)
		}
	}
}

func TestAPaletteIsLookedUp(t *testing.T) {
	img := image.NewPaletted(image.Rect(0, 0, 20, 20), color.Palette{red, blue, color.NRGBA{}})
	for i := range img.Pix {
		img.Pix[i] = uint8(i % 20 / 8)
	}
	o := onPlots(t)
	o.System = OwnSystem
	u, _ := underlay(t, worldPNG(t, img, "2\n0\n0\n-2\n500001\n5199999\n"), o)
	for east, want := range map[float64]color.NRGBA{500003: red, 500025: blue, 500037: {}} {
		if got := seen(t, u, orb.Point{east, 5199990}); got != want {
			t.Errorf("at %v it is %v, want %v", east, got, want)
		}
	}
}

func TestALargeImageIsCutAndMadeCoarser(t *testing.T) {
	const side = 9000 // over 90 m: the ground and a quarter more on each side are 60 m and 6000 pixels
	img := image.NewGray(image.Rect(0, 0, side, side))
	for y := range side {
		for x := range side {
			img.Pix[y*side+x] = uint8((x + y) % 2 * 255) // from far it is grey
		}
	}
	o := onPlots(t)
	o.System = OwnSystem
	path := worldPNG(t, img, fmt.Sprintf("0.01\n0\n0\n-0.01\n%v\n%v\n", 499975.005, 5200024.995))
	u, notes := underlay(t, path, o)
	f, b := u.Frame, u.Frame.Bound()
	if f.W > plan.UnderlaySide || f.H > plan.UnderlaySide || f.W < 4000 || u.Check() != nil {
		t.Errorf("it is %d by %d pixels; %v", f.W, f.H, u.Check())
	}
	if math.Abs(b.Min[0]-499990) > 0.1 || math.Abs(b.Max[1]-5200010) > 0.1 || math.Abs(b.Max[0]-500050) > 0.2 || math.Abs(b.Min[1]-5199950) > 0.2 {
		t.Errorf("it covers %v, want the ground and 10 m on each side", b)
	}
	if !noted(notes, "more pixels than are kept") {
		t.Errorf("the notes are %q", notes)
	}
}

func TestAPhotographIsKeptAsJPEG(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 600, 600))
	for i := range img.Pix {
		img.Pix[i] = uint8(i/4%600*i/2400%251) | 3
		if i%4 == 3 {
			img.Pix[i] = 255
		}
	}
	path := filepath.Join(t.TempDir(), "air.jpg")
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(jpeg.Encode(file, img, nil), file.Close(), os.WriteFile(filepath.Join(filepath.Dir(path), "air.jgw"), []byte("0.06\n0\n0\n-0.06\n500002\n5199998\n"), 0o644)); err != nil {
		t.Fatal(err)
	}
	o := onPlots(t)
	o.System = OwnSystem
	u, _ := underlay(t, path, o)
	if len(u.Picture.Tiles) != 4 || u.Picture.Sound() != nil {
		t.Errorf("%d tiles; %v", len(u.Picture.Tiles), u.Picture.Sound())
	}
	for _, tile := range u.Picture.Tiles {
		if !strings.HasPrefix(string(tile), "\xff\xd8") {
			t.Error("a tile of a photograph is no JPEG")
		}
	}
}

func TestReadingAnImageIsStopped(t *testing.T) {
	bands := bandsOf(quarters(80, 80))
	path := colourTIFF(t, tiff{kind: gdal.Byte, w: 80, h: 80, t: [6]float64{500000, 0.5, 0, 5200000, 0, -0.5}, crs: "EPSG:32610"}, bands[:3]...)
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, _, err := ReadUnderlay(ctx, path, onPlots(t)); !errors.Is(err, context.Canceled) {
		t.Errorf("the error is %v", err)
	}
}

func TestAnImageIsPlacedAsItIsTold(t *testing.T) {
	path := worldPNG(t, quarters(80, 40), "")
	if _, _, err := ReadUnderlay(context.Background(), path, onPlots(t)); !errors.Is(err, ErrNoPlace) {
		t.Errorf("without a place: %v", err)
	}
	middle := plots.Center()
	// A quarter turn to the left at 0.5 m a pixel: right is north, below is east.
	turned := geo.Affine{middle[0] - 10, 0, 0.5, middle[1] - 20, 0.5, 0}
	for name, o := range map[string]UnderlayOptions{
		"on a site with a system":    {Site: utm10(t), Place: &turned},
		"on a site without":          {Place: &turned},
		"within a ground":            {Site: utm10(t), Ground: plots, Place: &turned},
		"whatever the file says, on": {Site: utm10(t), Place: &turned, System: OwnSystem},
	} {
		u, _ := underlay(t, path, o)
		for _, at := range []struct {
			pixel orb.Point
			want  color.NRGBA
		}{{orb.Point{20, 10}, red}, {orb.Point{60, 10}, green}, {orb.Point{60, 30}, blue}, {orb.Point{20, 30}, white}} {
			if got := seen(t, u, turned.To(at.pixel)); !near(got, at.want, 8) {
				t.Errorf("%s: pixel %v is %v, want %v", name, at.pixel, got, at.want)
			}
		}
	}
	flat := geo.Affine{0, 1, 2, 0, 2, 4}
	if _, _, err := ReadUnderlay(context.Background(), path, UnderlayOptions{Place: &flat}); err == nil || !strings.Contains(err.Error(), "give other points") {
		t.Errorf("squeezed to a line: %v", err)
	}
}
