package view

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// pngOf is one tile of one colour.
func pngOf(t testing.TB, w, h int, c color.Color) []byte {
	t.Helper()
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.Set(x, y, c)
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

var (
	brick = color.NRGBA{180, 60, 30, 255}
	leaf  = color.NRGBA{40, 120, 50, 255}
)

// underlain is a slope of 40 by 40 m with an image of two tiles over its west and
// middle: the first brick, the second leaf, and a third that is clear.
func underlain(t testing.TB, opacity float64) *Scene {
	t.Helper()
	ground := grid.New[float32](grid.Square(40, 40, 0, 40, 1))
	for i := range ground.V {
		ground.V[i] = float32(i%40) * 0.5
	}
	u := plan.Underlay{
		ID: 1, Name: "air", Opacity: opacity, Frame: grid.Square(30, 40, 0, 40, 1),
		Picture: &plan.Picture{TileW: 10, TileH: 40, Tiles: [][]byte{pngOf(t, 10, 40, brick), pngOf(t, 10, 40, leaf), nil}},
	}
	site := &plan.Site{Name: "Slope", Ground: ground, Underlays: []plan.Underlay{u}}
	s, err := FirstLook(context.Background(), site, plan.AsItIs)
	if err != nil {
		t.Fatal(err)
	}
	s.Show = 0
	return s
}

// pixelAt is what is drawn at a place on the ground.
func pixelAt(t testing.TB, s *Scene, at orb.Point) color.NRGBA {
	t.Helper()
	c := Camera{West: -10, North: 50, Scale: 8}
	drawn, err := Draw(context.Background(), s, c, 480, 480, Light())
	if err != nil {
		t.Fatal(err)
	}
	x, y := c.ToScreen(at)
	return color.NRGBAModel.Convert(drawn.At(int(x), int(y))).(color.NRGBA)
}

func asNRGBA(c Colour) color.NRGBA { return color.NRGBA{c.R, c.G, c.B, 255} }

func TestAnImageLiesAtItsPlaceUnderTheMap(t *testing.T) {
	s := underlain(t, 1)
	paper := asNRGBA(Light().Paper)
	for at, want := range map[orb.Point]color.NRGBA{
		{1, 39}: brick, {9, 1}: brick, {11, 20}: leaf, {19, 38}: leaf, {25, 20}: paper, {35, 20}: paper,
	} {
		if got := pixelAt(t, s, at); got != want {
			t.Errorf("at %v it is %v, want %v", at, got, want)
		}
	}
	s.Underlays = []plan.Underlay{s.Underlays[0]}
	s.Underlays[0].Hidden = true
	if got := pixelAt(t, s, orb.Point{5, 20}); got != paper {
		t.Errorf("hidden it is %v", got)
	}
}

func TestAnImageAtHalfItsOpacityIsMixedWithPaper(t *testing.T) {
	paper := Light().Paper
	want := asNRGBA(mix(paper, Colour(brick), 0.5))
	got := pixelAt(t, underlain(t, 0.5), orb.Point{5, 20})
	if unlike(got.R, want.R) > 1 || unlike(got.G, want.G) > 1 || unlike(got.B, want.B) > 1 {
		t.Errorf("it is %v, want %v", got, want)
	}
}

func unlike(a, b uint8) int { return max(int(a)-int(b), int(b)-int(a)) }

// The slope falls to the west and the light comes from the north-west, so it is
// bright; the same slope the other way round is dark. The hue stays.
func TestTheReliefShowsThroughAnImage(t *testing.T) {
	bright := underlain(t, 1)
	dark := underlain(t, 1)
	for i := range dark.Shade.V {
		dark.Shade.V[i] = 60
	}
	dark.Prepare()
	bright.Show, dark.Show = Shade, Shade
	a, b := pixelAt(t, bright, orb.Point{5, 20}), pixelAt(t, dark, orb.Point{5, 20})
	if int(a.R)-int(b.R) < 25 {
		t.Errorf("in light it is %v, in shade %v", a, b)
	}
	if b.R < brick.R/2 {
		t.Errorf("in shade it is %v, too dark to see the image", b)
	}
	if ratio := float64(b.R) / float64(b.G); ratio < 2.8 || ratio > 3.2 { // 180 to 60
		t.Errorf("in shade it is %v, another hue", b)
	}
}

func TestTheUpperImageLiesOverTheLower(t *testing.T) {
	s := underlain(t, 1)
	over := s.Underlays[0]
	over.ID, over.Picture = 2, &plan.Picture{TileW: 30, TileH: 40, Tiles: [][]byte{pngOf(t, 30, 40, leaf)}}
	s.Underlays = []plan.Underlay{s.Underlays[0], over}
	if got := pixelAt(t, s, orb.Point{5, 20}); got != leaf {
		t.Errorf("it is %v, want %v", got, leaf)
	}
}

func TestADamagedTileIsLeftOut(t *testing.T) {
	s := underlain(t, 1)
	u := s.Underlays[0]
	tiles := u.Picture.Tiles
	u.Picture = &plan.Picture{TileW: 10, TileH: 40, Tiles: [][]byte{tiles[0][:40], tiles[1], tiles[2]}}
	s.Underlays = []plan.Underlay{u}
	if got := pixelAt(t, s, orb.Point{5, 20}); got != asNRGBA(Light().Paper) {
		t.Errorf("the damaged tile is %v", got)
	}
	if got := pixelAt(t, s, orb.Point{15, 20}); got != leaf {
		t.Errorf("the tile beside it is %v", got)
	}
	u.Frame.W = 7 // no whole tiles: nothing is drawn, and nothing breaks
	s.Underlays = []plan.Underlay{u}
	pixelAt(t, s, orb.Point{15, 20})
}

func TestAPictureIsDecodedOnce(t *testing.T) {
	u := underlain(t, 1).Underlays[0]
	other := u
	other.Opacity = 0.3
	if a, b := levelsOf(u), levelsOf(other); &a[0].v[0] != &b[0].v[0] {
		t.Error("another opacity decodes anew")
	}
}

func BenchmarkUnderlay(b *testing.B) {
	img := image.NewRGBA(image.Rect(0, 0, 512, 512))
	for i := range img.Pix {
		img.Pix[i] = uint8(i*i>>9) | 3
		if i%4 == 3 {
			img.Pix[i] = 255
		}
	}
	var tile bytes.Buffer
	if err := jpeg.Encode(&tile, img, nil); err != nil {
		b.Fatal(err)
	}
	p := &plan.Picture{TileW: 512, TileH: 512}
	for range 64 {
		p.Tiles = append(p.Tiles, tile.Bytes())
	}
	ground := grid.New[float32](grid.Square(1000, 1000, 0, 4096, 4.096))
	s, err := FirstLook(context.Background(), &plan.Site{Ground: ground, Underlays: []plan.Underlay{
		{ID: 1, Opacity: 0.8, Frame: grid.Square(4096, 4096, 0, 4096, 1), Picture: p}}}, plan.AsItIs)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("decode", func(b *testing.B) {
		for b.Loop() {
			fresh := *p
			levelsOf(plan.Underlay{Frame: s.Underlays[0].Frame, Picture: &fresh})
		}
	})
	for name, scale := range map[string]float64{"whole": 1080.0 / 4096, "near": 1, "close": 4} {
		b.Run(name, func(b *testing.B) {
			k := newCanvas(image.NewRGBA(image.Rect(0, 0, 1920, 1080)), Camera{West: 0, North: 4096, Scale: scale}, Light())
			for b.Loop() {
				if err := k.drawUnderlays(context.Background(), s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
