package view

import (
	"bytes"
	"context"
	"errors"
	"image"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/analysis/caution"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

func testCanvas(w, h int, c Camera) *canvas {
	return newCanvas(image.NewRGBA(image.Rect(0, 0, w, h)), c, Light())
}

// everything is a site of 100 by 80 m on which each kind stands twice.
func everything() *plan.Site {
	site := plan.Site{Name: "All kinds", Ground: grid.New[float32](grid.Square(200, 160, 0, 80, 0.5))}
	for y := range site.Ground.H {
		for x := range site.Ground.W {
			site.Ground.Set(x, y, float32(10+0.02*float64(x)-0.01*float64(y)+0.3*math.Sin(float64(x)/14)))
		}
	}
	site.Plan.Schemes = []plan.Scheme{{ID: 900, Name: "Everything"}}
	id := plan.ID(1)
	for i, spec := range plan.Specs() {
		for j := range 2 {
			f := plan.Feature{ID: id, Kind: spec.Kind, Name: spec.Label}
			if spec.InScheme {
				f.Scheme = 900
			}
			x, y := 6+float64(i%7)*13, 72-float64(i/7)*24-float64(j)*11
			switch spec.Shape {
			case plan.PointShape:
				f.Geometry = orb.Point{x + 4, y - 2}
			case plan.LineShape:
				f.Geometry = orb.LineString{{x, y}, {x + 5, y - 3}, {x + 11, y - 1}}
			case plan.AreaShape:
				f.Geometry = orb.Polygon{{{x, y}, {x + 11, y}, {x + 11, y - 7}, {x, y - 7}, {x, y}}}
			}
			site.Plan.Features = append(site.Plan.Features, f)
			id++
		}
	}
	return &site
}

// drainAfresh is drain with nothing remembered.
func (s *Scene) drainAfresh(ctx context.Context) error { return s.drain(ctx, nil) }

func everythingScene(t testing.TB) *Scene {
	t.Helper()
	site := everything()
	s := &Scene{Site: site, Scheme: 900, Ground: site.Ground, Show: AllLayers,
		Cautions: []caution.Caution{{At: orb.Point{50, 40}}}}
	if err := steps(context.Background(), s.shape, s.drainAfresh, s.fill); err != nil {
		t.Fatal(err)
	}
	s.Wet = grid.New[float32](s.Ground.Frame)
	for i := range s.Wet.V {
		x, y := i%s.Wet.W, i/s.Wet.W
		s.Wet.V[i] = grid.NoData
		if x > 150 && x < 190 && y > 120 && y < 150 {
			s.Wet.V[i] = 0.3
		}
	}
	s.Prepare()
	return s
}

func mustDraw(t testing.TB, s *Scene, c Camera, w, h int) *image.RGBA {
	t.Helper()
	img, err := Draw(context.Background(), s, c, w, h, Light())
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// distance is how far two colours are apart, 0 to 441.
func distance(img *image.RGBA, x, y int, c Colour) float64 {
	got := img.RGBAAt(x, y)
	d := func(a, b uint8) float64 { return float64(a) - float64(b) }
	return math.Sqrt(d(got.R, c.R)*d(got.R, c.R) + d(got.G, c.G)*d(got.G, c.G) + d(got.B, c.B)*d(got.B, c.B))
}

func TestARoofIsDrawnWhereItStands(t *testing.T) {
	site := plan.Site{Ground: grid.New[float32](grid.Square(100, 100, 0, 100, 1)), Plan: plan.Plan{Features: []plan.Feature{
		{ID: 1, Kind: plan.Roof, Geometry: orb.Polygon{{{20, 30}, {50, 30}, {50, 60}, {20, 60}, {20, 30}}}},
	}}}
	s := &Scene{Site: &site, Ground: site.Ground, Show: Drawn}
	img := mustDraw(t, s, Camera{North: 100, Scale: 4}, 400, 400)
	roof, n := Light().Kinds[plan.Roof].Body, 0
	for y := range 400 {
		for x := range 400 {
			e, north := float64(x)/4, 100-float64(y)/4
			if distance(img, x, y, roof) < 60 {
				n++
				if e < 19.5 || e > 50.5 || north < 29.5 || north > 60.5 {
					t.Fatalf("roof at %g east, %g north", e, north)
				}
			}
		}
	}
	// The strokes of the hatch are paler and take a seventh or so.
	if want := 30 * 30 * 16; n < want*8/10 {
		t.Errorf("%d px have the roof's colour, want about %d", n, want)
	}
}

func TestAPictureIsOpaqueAndStartsAtNought(t *testing.T) {
	s := everythingScene(t)
	for _, c := range []Camera{Fit(s.Bound(), 300, 200), {West: 50, North: 40, Scale: 400}, {West: -1e6, North: 1e6, Scale: 1e-3}} {
		img := mustDraw(t, s, c, 300, 200)
		if img.Rect.Min != (image.Point{}) || img.Stride != 4*300 || len(img.Pix) != 4*300*200 {
			t.Fatalf("bounds %v, stride %d", img.Rect, img.Stride)
		}
		for i := 3; i < len(img.Pix); i += 4 {
			if img.Pix[i] != 255 {
				t.Fatalf("pixel %d has an opacity of %d", i/4, img.Pix[i])
			}
		}
	}
}

func TestEveryKindLeavesItsMarkOnTheMap(t *testing.T) {
	s := everythingScene(t)
	s.Show = Drawn
	c := Fit(s.Bound(), 900, 700)
	all := mustDraw(t, s, c, 900, 700)
	for _, spec := range plan.Specs() {
		site := *s.Site
		site.Plan = site.Plan.Clone()
		for i := range site.Plan.Features {
			if site.Plan.Features[i].Kind == spec.Kind {
				site.Plan.Features[i].Geometry = nil
			}
		}
		without := *s
		without.Site = &site
		if bytes.Equal(all.Pix, mustDraw(t, &without, c, 900, 700).Pix) {
			t.Errorf("the map is the same without its %s", spec.Label)
		}
	}
}

func TestEachLayerShowsAndHidesAlone(t *testing.T) {
	s := everythingScene(t)
	c := Fit(s.Bound(), 600, 450)
	all := mustDraw(t, s, c, 600, 450)
	for name, layer := range map[string]Layers{"shade": Shade, "contours": Contours, "water": Water,
		"standing": Standing, "drawn": Drawn, "cautions": Cautions, "labels": Labels} {
		some := *s
		some.Show = AllLayers.Without(layer)
		if bytes.Equal(all.Pix, mustDraw(t, &some, c, 600, 450).Pix) {
			t.Errorf("hiding %s changes nothing", name)
		}
		if !some.Show.With(layer).Has(AllLayers) || some.Show.Has(layer) {
			t.Errorf("the set of layers without %s is %b", name, some.Show)
		}
	}
}

func TestBareSceneIsPaper(t *testing.T) {
	img := mustDraw(t, &Scene{Show: AllLayers}, Camera{Scale: 1}, 20, 10)
	if d := distance(img, 5, 5, Light().Desk); d != 0 {
		t.Errorf("an empty scene is %v", img.RGBAAt(5, 5))
	}
	ground := grid.New[float32](grid.Square(20, 10, 0, 10, 1))
	img = mustDraw(t, &Scene{Ground: ground}, Camera{North: 10, Scale: 1}, 20, 10)
	if d := distance(img, 10, 5, Light().Paper); d != 0 {
		t.Errorf("a ground with no layers is %v, want paper", img.RGBAAt(10, 5))
	}
}

func TestGroundThatIsNotKnownIsPaper(t *testing.T) {
	g := grid.New[uint8](grid.Square(40, 40, 0, 40, 1))
	for i := range g.V {
		if g.V[i] = 90; i%40 >= 20 {
			g.V[i] = 0
		}
	}
	for _, scale := range []float64{0.5, 1, 4, 20} {
		k := testCanvas(int(40*scale), int(40*scale), Camera{North: 40, Scale: scale})
		if err := k.relief(context.Background(), k.closeUp(g)); err != nil {
			t.Fatal(err)
		}
		y := int(20 * scale)
		if d := distance(k.dst, int(30*scale), y, k.look.Paper); d != 0 {
			t.Errorf("scale %g: unknown ground is %v", scale, k.dst.RGBAAt(int(30*scale), y))
		}
		if d := distance(k.dst, int(10*scale), y, k.look.shadeColour(90)); d > 2 {
			t.Errorf("scale %g: ground of shade 90 is %v", scale, k.dst.RGBAAt(int(10*scale), y))
		}
	}
}

func TestGroundThatIsNotKnownIsHatched(t *testing.T) {
	ground := grid.New[float32](grid.Square(40, 40, 0, 40, 1))
	s := &Scene{Ground: ground, Shade: grid.New[uint8](ground.Frame), Show: Shade}
	for i := range s.Shade.V {
		if s.Shade.V[i] = 90; i%40 >= 20 {
			s.Shade.V[i] = 0
		}
	}
	s.Prepare()
	img := mustDraw(t, s, Camera{North: 40, Scale: 4}, 160, 160)
	strokes := [2]int{}
	for y := 4; y < 156; y++ {
		for x := 4; x < 156; x++ {
			if d := distance(img, x, y, Light().shadeColour(90)); x < 78 && d > 2 {
				strokes[0]++
			}
			if d := distance(img, x, y, Light().Paper); x >= 82 && d > 15 {
				strokes[1]++
			}
		}
	}
	if share := float64(strokes[1]) / (74 * 152); strokes[0] != 0 || share < 0.05 || share > 0.4 {
		t.Errorf("%d px are hatched on known ground, a share of %.2f where it is not known; want none and 0.05 to 0.4", strokes[0], share)
	}
}

// A drain 4 px wide with water's colour round it, and a sill of 2 m across.
func TestASillStandsOutAcrossADrain(t *testing.T) {
	site := plan.Site{Plan: plan.Plan{Features: []plan.Feature{
		{ID: 1, Kind: plan.Drain, Geometry: orb.LineString{{5, 50}, {95, 50}}},
		{ID: 2, Kind: plan.Sill, Geometry: orb.LineString{{50, 48}, {50, 52}}},
	}}}
	s := &Scene{Site: &site, Show: Drawn}
	for name, look := range map[string]Palette{"light": Light(), "dark": Dark()} {
		img, err := Draw(context.Background(), s, Camera{North: 100, Scale: 4}, 400, 400, look)
		if err != nil {
			t.Fatal(err)
		}
		sill := look.Kinds[plan.Sill]
		if d := distance(img, 200, 200, sill.Core.Colour); d > 2 {
			t.Errorf("%s: its middle is %v", name, img.RGBAAt(200, 200))
		}
		if d := distance(img, 203, 200, look.Paper); d > 40 {
			t.Errorf("%s: beside it is %v, want the edge that sets it off", name, img.RGBAAt(203, 200))
		}
	}
}

func TestTheReliefBlendsEvenlyBetweenCells(t *testing.T) {
	g := grid.Grid[uint8]{Frame: grid.Square(2, 1, 0, 1, 1), V: []uint8{60, 200}}
	k := testCanvas(200, 100, Camera{North: 1, Scale: 100})
	if err := k.relief(context.Background(), g); err != nil {
		t.Fatal(err)
	}
	for x := 51; x < 150; x++ {
		shade := 60 + 140*(float64(x)+0.5-50)/100
		if d := distance(k.dst, x, 50, k.look.shadeColour(shade)); d > 3 {
			t.Fatalf("column %d is %v, want shade %.1f", x, k.dst.RGBAAt(x, 50), shade)
		}
	}
}

func TestDrawingRefusesAPictureOrViewThatCannotBe(t *testing.T) {
	s := &Scene{}
	for _, of := range []struct {
		w, h int
		c    Camera
	}{{0, 10, Camera{Scale: 1}}, {10, -1, Camera{Scale: 1}}, {1 << 20, 10, Camera{Scale: 1}},
		{10, 10, Camera{}}, {10, 10, Camera{Scale: math.NaN()}}, {10, 10, Camera{Scale: 1, West: math.Inf(1)}}} {
		if _, err := Draw(context.Background(), s, of.c, of.w, of.h, Light()); err == nil {
			t.Errorf("%d by %d pixels with %+v is drawn", of.w, of.h, of.c)
		}
	}
}

func TestDrawingStopsWhenAsked(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	s := everythingScene(t)
	if _, err := Draw(ctx, s, Fit(s.Bound(), 300, 200), 300, 200, Light()); !errors.Is(err, context.Canceled) {
		t.Errorf("error is %v", err)
	}
}

func TestNoViewOfASceneIsTooNearOrTooFarToDraw(t *testing.T) {
	s := everythingScene(t)
	rapid.Check(t, func(t *rapid.T) {
		at := orb.Point{rapid.Float64Range(-10, 110).Draw(t, "east"), rapid.Float64Range(-10, 90).Draw(t, "north")}
		scale := clampScale(math.Exp(rapid.Float64Range(-9, 8.5).Draw(t, "log scale")))
		w, h := rapid.IntRange(1, 240).Draw(t, "w"), rapid.IntRange(1, 160).Draw(t, "h")
		c := Camera{West: at[0] - float64(w)/2/scale, North: at[1] + float64(h)/2/scale, Scale: scale}
		img, err := Draw(context.Background(), s, c, w, h, Dark())
		if err != nil {
			t.Fatal(err)
		}
		DrawOverlay(img, s, busy(s, c), c, Dark())
		Furniture(img, c, Dark(), FurnitureOptions{Units: Feet})
	})
}
