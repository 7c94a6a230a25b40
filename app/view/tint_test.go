package view

import (
	"context"
	"math"
	"testing"

	"runnel/analysis/compare"
	"runnel/geo"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// ramped is a ground of 80 by 60 m that rises eastward by so much a metre.
func ramped(rise float64) *plan.Site {
	site := plan.Site{Ground: grid.New[float32](grid.Square(80, 60, 0, 60, 1)), Setting: plan.UsualSetting()}
	for y := range site.Ground.H {
		for x := range site.Ground.W {
			site.Ground.Set(x, y, float32(10+rise*float64(x)))
		}
	}
	return &site
}

func sceneShowing(t *testing.T, m Maker, s *plan.Site) *Scene {
	t.Helper()
	account, err := compare.Measure(context.Background(), s, plan.AsItIs, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	scene, err := m.Scene(context.Background(), s, &account)
	if err != nil {
		t.Fatal(err)
	}
	scene.Show, scene.Units = m.Show, m.Units
	return scene
}

// At 4 px a metre, a plane of one slope is the colour of its class everywhere.
func TestSlopesHaveTheColourOfTheirClass(t *testing.T) {
	for class, rise := range []float64{0.01, 0.03, 0.06, 0.1, 0.2, 0.4} {
		s := sceneShowing(t, Maker{Show: Slopes}, ramped(rise))
		img := mustDraw(t, s, Camera{North: 60, Scale: 4}, 320, 240)
		for _, at := range [][2]int{{20, 20}, {160, 120}, {300, 220}} {
			if want := Light().Slopes[class]; distance(img, at[0], at[1], want) > 2 {
				t.Errorf("a slope of %g at %v is %v, want %v", rise, at, img.RGBAAt(at[0], at[1]), want)
			}
		}
	}
}

func TestHeightsRunFromTheFirstColourToTheLast(t *testing.T) {
	s := sceneShowing(t, Maker{Show: Heights}, ramped(0.05))
	img := mustDraw(t, s, Camera{North: 60, Scale: 4}, 320, 240)
	ramp := Light().Heights
	for _, at := range []struct {
		x    int
		want Colour
	}{{2, ramp[0]}, {160, ramp[4]}, {317, ramp[8]}} {
		if distance(img, at.x, 100, at.want) > 6 {
			t.Errorf("column %d is %v, want %v", at.x, img.RGBAAt(at.x, 100), at.want)
		}
	}
}

func TestReliefShadesTheTint(t *testing.T) {
	s := everythingScene(t)
	s.Heights, _ = s.heights(context.Background())
	lightest, darkest := 0.0, 1e3
	for _, show := range []Layers{Heights, Heights | Shade} {
		s.Show = show
		img := mustDraw(t, s, Camera{North: 80, Scale: 4}, 400, 320)
		if show == Heights {
			continue
		}
		for y := 100; y < 200; y++ {
			for x := 100; x < 300; x++ {
				// The tint changes by less than this from one side of a swell to the other.
				v := float64(img.RGBAAt(x, y).G)
				lightest, darkest = max(lightest, v), min(darkest, v)
			}
		}
	}
	if lightest-darkest < 20 {
		t.Errorf("relief changes the tint from %g to %g only", darkest, lightest)
	}
}

func TestATintIsKeptWhileTheGroundStays(t *testing.T) {
	site := ramped(0.05)
	first := sceneShowing(t, Maker{Show: Heights | Slopes}, site)
	if first.Lacks(Heights|Slopes) || !sceneShowing(t, Maker{Show: Shade}, site).Lacks(Heights) {
		t.Fatal("a tint is made when it is not shown, or not made when it is")
	}
	again := sceneShowing(t, Maker{Show: Shade, Before: first}, site)
	if again.Heights != first.Heights || again.Slopes != first.Slopes {
		t.Error("the same ground is graded anew")
	}
	other := sceneShowing(t, Maker{Show: Shade, Before: first}, ramped(0.06))
	if other.Heights != nil || other.Slopes != nil {
		t.Error("another ground has the colours of the one before")
	}
}

func TestGroundOfNoHeightIsNotTinted(t *testing.T) {
	site := ramped(0.05)
	for i := range site.Ground.V {
		site.Ground.V[i] = grid.NoData
	}
	s := Scene{Site: site, Ground: site.Ground}
	if err := s.tint(Heights | Slopes)(context.Background()); err != nil || s.Lacks(Heights) {
		t.Fatalf("the error is %v", err)
	}
	s.Show = Heights
	img := mustDraw(t, &s, Camera{North: 60, Scale: 4}, 320, 240)
	if distance(img, 160, 120, Light().Paper) > 2 {
		t.Errorf("unknown ground is %v", img.RGBAAt(160, 120))
	}
}

// A foot is 0.3048 m: geo.Foot. Round levels are whole multiples of 1, 2 or 5
// times a power of ten of it.
func TestContoursLieAtRoundLevelsInTheUnitsThatAreShown(t *testing.T) {
	site := ramped(0.05)
	metric := sceneShowing(t, Maker{Show: Contours}, site)
	feet := sceneShowing(t, Maker{Show: Contours, Units: Feet, Before: metric}, site)
	if metric.Interval != 0.2 || math.Abs(feet.Interval/geo.Foot-0.5) > 1e-9 {
		t.Fatalf("intervals of %g m and %g ft, want 0.2 and 0.5", metric.Interval, feet.Interval/geo.Foot)
	}
	if got := feet.IntervalText(); got != "Contours every 0.5 ft" {
		t.Errorf("it says %q", got)
	}
	for _, c := range feet.Contours {
		if n := c.Level / geo.Foot / 0.5; math.Abs(n-math.Round(n)) > 1e-6 {
			t.Errorf("a contour lies at %g ft", c.Level/geo.Foot)
		}
	}
}

func TestTheGridLiesAtRoundCoordinates(t *testing.T) {
	for _, of := range []struct {
		units Units
		scale float64
		want  float64 // [m]
	}{{Metres, 1, 200}, {Metres, 4, 50}, {Metres, 12, 10}, {Metres, 1000, 1}, {Feet, 4, 100 * geo.Foot}, {Feet, 12, 50 * geo.Foot}} {
		k := testCanvas(600, 400, Camera{Scale: of.scale})
		if got := k.gridStep(of.units); math.Abs(got-of.want) > 1e-9*of.want {
			t.Errorf("at %g px/m the grid of units %d is %g m, want %g", of.scale, of.units, got, of.want)
		}
	}
	c := Camera{West: 523_411.3, North: 4_811_230, Scale: 12}
	k := testCanvas(600, 400, c)
	k.clearTo(k.look.Paper)
	Furniture(k.dst, c, k.look, FurnitureOptions{Show: Grid})
	x, _ := c.ToScreen([2]float64{523_430, 0})
	if distance(k.dst, int(x), 150, k.look.Paper) < 20 || distance(k.dst, int(x)+8, 150, k.look.Paper) > 1 {
		t.Error("no line stands at 523 430 m east, or more than one")
	}
	if got := coordinate(4811200); got != "4\u00a0811\u00a0200" {
		t.Errorf("it is written %q", got)
	}
}
