package view

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func anyCamera(t *rapid.T) Camera {
	return Camera{
		West:  rapid.Float64Range(-1e6, 1e6).Draw(t, "west"),
		North: rapid.Float64Range(-1e7, 1e7).Draw(t, "north"),
		Scale: math.Exp(rapid.Float64Range(-4, 7).Draw(t, "log scale")),
	}
}

func near(a, b orb.Point, within float64) bool {
	return math.Abs(a[0]-b[0]) <= within && math.Abs(a[1]-b[1]) <= within
}

func TestAPlaceOnTheScreenComesBackFromTheGround(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCamera(t)
		x, y := rapid.Float64Range(-2000, 4000).Draw(t, "x"), rapid.Float64Range(-2000, 4000).Draw(t, "y")
		gotX, gotY := c.ToScreen(c.ToGround(x, y))
		// Coordinates of 10⁷ m leave some 2 nm, seen at up to 1100 px/m.
		if math.Abs(gotX-x) > 1e-4 || math.Abs(gotY-y) > 1e-4 {
			t.Fatalf("(%g, %g) comes back as (%g, %g)", x, y, gotX, gotY)
		}
	})
}

func TestZoomingKeepsTheGroundUnderThePointer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCamera(t)
		x, y := rapid.Float64Range(0, 2000).Draw(t, "x"), rapid.Float64Range(0, 2000).Draw(t, "y")
		held := c.ToGround(x, y)
		for range rapid.IntRange(1, 20).Draw(t, "steps") {
			c = c.ZoomAbout(x, y, rapid.Float64Range(0.5, 2).Draw(t, "factor"))
		}
		if got := c.ToGround(x, y); !near(got, held, 1e-6+1e-4/c.Scale) {
			t.Fatalf("under the pointer lies %v, before %v", got, held)
		}
	})
}

func TestZoomStopsAtTheWidestAndTheClosestView(t *testing.T) {
	c := Camera{Scale: 1}
	if got := c.ZoomAbout(10, 10, 1e12).Scale; got != greatestScale {
		t.Errorf("closest scale is %g, want %g", got, float64(greatestScale))
	}
	if got := c.ZoomAbout(10, 10, 0).Scale; got != leastScale {
		t.Errorf("widest scale is %g, want %g", got, leastScale)
	}
	if got := c.ZoomAbout(10, 10, math.NaN()).Scale; got != leastScale {
		t.Errorf("scale after a factor that is no number is %g, want %g", got, leastScale)
	}
}

func TestPanningMovesTheGroundWithThePointer(t *testing.T) {
	c := Camera{West: 100, North: 900, Scale: 4}
	before := c.ToGround(200, 300)
	x, y := c.Pan(30, -12).ToScreen(before)
	if math.Abs(x-230) > 1e-9 || math.Abs(y-288) > 1e-9 {
		t.Errorf("the ground at (200, 300) went to (%g, %g), want (230, 288)", x, y)
	}
}

func TestFitShowsTheWholeBoundInTheMiddle(t *testing.T) {
	for name, b := range map[string]orb.Bound{
		"a wide ground":     {Min: orb.Point{10, 20}, Max: orb.Point{410, 60}},
		"a tall ground":     {Min: orb.Point{-5, 0}, Max: orb.Point{5, 900}},
		"one point":         {Min: orb.Point{7, 7}, Max: orb.Point{7, 7}},
		"far from nought":   {Min: orb.Point{523400, 4811100}, Max: orb.Point{523490, 4811170}},
		"a ground of a mm²": {Min: orb.Point{0, 0}, Max: orb.Point{1e-3, 1e-3}},
	} {
		c := Fit(b, 800, 500)
		seen := c.Bound(800, 500)
		if !seen.Contains(b.Min) || !seen.Contains(b.Max) {
			t.Errorf("%s: %v is not within the view %v", name, b, seen)
		}
		if !near(seen.Center(), b.Center(), 1e-6) {
			t.Errorf("%s: the middle of the view is %v, want %v", name, seen.Center(), b.Center())
		}
	}
}

func TestFitBesideKeepsOutOfTheMargins(t *testing.T) {
	b, m := orb.Bound{Min: orb.Point{0, 0}, Max: orb.Point{90, 70}}, Margins{Left: 150, Top: 44, Right: 10, Bottom: 60}
	c := FitBeside(b, 640, 400, m)
	left, top := c.ToScreen(orb.Point{0, 70})
	right, bottom := c.ToScreen(orb.Point{90, 0})
	if left < m.Left || top < m.Top || right > 640-m.Right || bottom > 400-m.Bottom {
		t.Errorf("the ground is seen from (%.0f, %.0f) to (%.0f, %.0f)", left, top, right, bottom)
	}
	// 70 m in the 296 px that are left of the height, less a twentieth.
	if want := 0.95 * 296 / 70; math.Abs(c.Scale-want) > 1e-9 {
		t.Errorf("the scale is %g, want %g", c.Scale, want)
	}
}

func TestFitTakesABoundThatIsNoPlace(t *testing.T) {
	for _, b := range []orb.Bound{
		{Min: orb.Point{math.NaN(), 0}, Max: orb.Point{1, 1}},
		{Min: orb.Point{0, 0}, Max: orb.Point{math.Inf(1), 1}},
		{Min: orb.Point{5, 5}, Max: orb.Point{-5, -5}},
	} {
		if err := Fit(b, 100, 100).check(100, 100); err != nil {
			t.Errorf("%v: %v", b, err)
		}
	}
}
