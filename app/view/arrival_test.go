package view

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

func TestArrivalsAreDrawnWhereTheyLieAndMakeTheTilesAnew(t *testing.T) {
	scene := everythingScene(t)
	b := scene.Bound()
	at := b.Center()
	square := func(by float64) orb.Polygon {
		return orb.Bound{Min: orb.Point{at[0] + by, at[1] + by}, Max: orb.Point{at[0] + by + 6, at[1] + by + 6}}.ToPolygon()
	}
	a := NewArrivals([]plan.Feature{{Kind: plan.Roof, Geometry: square(0)}, {Kind: plan.Roof, Geometry: orb.Point{1, 1}}}, []orb.Geometry{square(-12), orb.Point{at[0], at[1] - 3}})
	if len(a.outlines) != 3 {
		t.Errorf("%d shapes are kept; a roof that is a point cannot be drawn", len(a.outlines))
	}
	camera := Fit(orb.Bound{Min: orb.Point{at[0] - 20, at[1] - 20}, Max: orb.Point{at[0] + 20, at[1] + 20}}, 400, 400)
	bare := mustDraw(t, scene, camera, 400, 400)
	shown := *scene
	shown.Arrivals = a
	with := mustDraw(t, &shown, camera, 400, 400)
	look := Light()
	px := func(p orb.Point) (int, int) { x, y := camera.ToScreen(p); return int(x), int(y) }
	x, y := px(orb.Point{at[0], at[1] + 3}) // on the roof's west edge
	if distance(with, x, y, look.Accent) > 40 {
		t.Errorf("the roof's edge is %v", with.RGBAAt(x, y))
	}
	x, y = px(orb.Point{at[0] - 18, at[1] + 18})
	if with.RGBAAt(x, y) != bare.RGBAAt(x, y) {
		t.Error("ground where nothing arrives is drawn otherwise")
	}
	if newPlate(scene).imprint(look) == newPlate(&shown).imprint(look) {
		t.Error("tiles would not be drawn anew")
	}
}

func TestPinsMarkTheirPlaces(t *testing.T) {
	scene := everythingScene(t)
	camera := Fit(scene.Bound(), 300, 300)
	img := mustDraw(t, scene, camera, 300, 300)
	at := scene.Bound().Center()
	DrawOverlay(img, scene, Overlay{Pins: []Pin{{At: at, Name: "7"}}, Hot: -1}, camera, Light())
	x, y := camera.ToScreen(at)
	if d := distance(img, int(x)+6, int(y), Light().Accent); d > 60 {
		t.Errorf("beside the place the picture is %v", img.RGBAAt(int(x)+6, int(y)))
	}
}

func TestTheSlipOfAPinStaysOnThePicture(t *testing.T) {
	k := testCanvas(100, 80, Camera{Scale: 1})
	for _, c := range []struct{ at, want orb.Point }{
		{orb.Point{50, 40}, orb.Point{64, 26}}, {orb.Point{95, 40}, orb.Point{81, 26}},
		{orb.Point{50, 5}, orb.Point{64, 19}}, {orb.Point{99, 2}, orb.Point{85, 16}},
	} {
		if got := k.beside(c.at, 14, 11); got != c.want {
			t.Errorf("beside %v it stands at %v, want %v", c.at, got, c.want)
		}
	}
}
