package view

import (
	"bytes"
	"image"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// busy is an overlay with something of everything.
func busy(s *Scene, c Camera) Overlay {
	at, station := orb.Point{40, 40}, orb.Point{30, 30}
	o := Overlay{
		Sketch: orb.LineString{{10, 10}, {30, 20}, {35, 5}}, Closed: true, Marks: []orb.Point{{10, 10}, {30, 20}, {35, 5}}, Rubber: &at, Cue: Cue{Mark: PointMark, At: at},
		Handles: []orb.Point{{10, 10}, {30, 20}}, Hot: 1,
		Drop:    []orb.LineString{{{60, 60}, {62, 58}, {62, 55}, {64, 53}, {70, 53}}},
		Section: orb.LineString{{20, 60}, {24, 64}}, Station: &station,
	}
	if features := s.features(); len(features) > 1 {
		o.Selected, o.Under = features[0].ID, features[len(features)-1].ID
	}
	return o
}

func TestAnEmptyOverlayChangesNothing(t *testing.T) {
	s := everythingScene(t)
	c := Fit(s.Bound(), 500, 400)
	img := mustDraw(t, s, c, 500, 400)
	before := slices.Clone(img.Pix)
	DrawOverlay(img, s, Overlay{}, c, Light())
	DrawOverlay(img, s, Overlay{Selected: 424242, Hot: -1}, c, Light())
	DrawOverlay(img, nil, Overlay{}, c, Light())
	if !bytes.Equal(before, img.Pix) {
		t.Error("the picture changed")
	}
}

func TestEachPartOfAnOverlayIsDrawnWhereItIs(t *testing.T) {
	s := &Scene{}
	c := Camera{North: 100, Scale: 4}
	full := busy(s, c)
	look := Light()
	for _, of := range []struct {
		name string
		only Overlay
		at   orb.Point
		want Colour
	}{
		{"the sketch's side", Overlay{Sketch: orb.LineString{{10, 10}, {60, 10}}}, orb.Point{35, 10}, look.Accent},
		{"the drop's path", Overlay{Drop: []orb.LineString{{{10, 50}, {30, 50}, {60, 50}}}}, orb.Point{24, 50}, look.Drop},
		{"a handle's middle", Overlay{Handles: []orb.Point{{50, 50}}, Hot: -1}, orb.Point{50, 50}, look.Paper},
		{"the hot handle's middle", Overlay{Handles: []orb.Point{{50, 50}}, Hot: 0}, orb.Point{50, 50}, look.Accent},
		{"the station", Overlay{Station: full.Station}, *full.Station, look.Accent},
		{"the section", Overlay{Section: orb.LineString{{10, 50}, {60, 50}}}, orb.Point{30, 50}, look.Accent},
	} {
		img := mustDraw(t, s, c, 400, 400)
		DrawOverlay(img, s, of.only, c, look)
		x, y := c.ToScreen(of.at)
		if d := distance(img, int(x), int(y), of.want); d > 70 {
			t.Errorf("%s: at %v the picture is %v, want near %v", of.name, of.at, img.RGBAAt(int(x), int(y)), of.want)
		}
	}
}

func TestADropThatStaysEndsInARing(t *testing.T) {
	c := Camera{North: 100, Scale: 4}
	line := orb.LineString{{20, 50}, {40, 50}, {60, 50}}
	img := mustDraw(t, &Scene{}, c, 400, 400)
	DrawOverlay(img, nil, Overlay{Drop: []orb.LineString{line}, DropStays: true}, c, Light())
	if d := distance(img, 240, 200, Light().Paper); d > 10 {
		t.Errorf("the middle of the ring is %v", img.RGBAAt(240, 200))
	}
}

func TestTheSelectedFeatureIsRinged(t *testing.T) {
	site := plan.Site{Plan: plan.Plan{Features: []plan.Feature{
		{ID: 7, Kind: plan.Roof, Geometry: orb.Polygon{{{20, 30}, {50, 30}, {50, 60}, {20, 60}, {20, 30}}}},
		{ID: 8, Kind: plan.Well, Geometry: orb.Point{70, 70}},
		{ID: 9, Kind: plan.Path, Geometry: orb.LineString{{10, 10}, {90, 10}}},
	}}}
	s := &Scene{Site: &site, Show: Drawn}
	c := Camera{North: 100, Scale: 4}
	well := Light().Kinds[plan.Well].Least + 5
	for id, at := range map[plan.ID][2]float64{7: {80, 220}, 8: {280 + well, 120}, 9: {200, 360 - 2.4}} {
		img := mustDraw(t, s, c, 400, 400)
		DrawOverlay(img, s, Overlay{Selected: id}, c, Light())
		if d := distance(img, int(at[0]), int(at[1]), Light().Accent); d > 110 {
			t.Errorf("feature %d: its edge is %v", id, img.RGBAAt(int(at[0]), int(at[1])))
		}
	}
}

// An island 20 by 10 m stands 0.5 m above the bed of a channel along y = 50 m;
// its bank falls 2 in 1, so that the arms' beds lie from 1 to 3 m beyond it and their
// far banks end at 4 m.
func TestTheHighlightOfAChannelLeavesItsWaterToBeSeen(t *testing.T) {
	ground := grid.New[float32](grid.Square(400, 400, 0, 100, 0.25))
	island := orb.Polygon{{{40, 45}, {60, 45}, {60, 55}, {40, 55}, {40, 45}}}
	for y := range ground.H {
		for x := range ground.W {
			ground.Set(x, y, float32(-min(0.5, plan.Distance(island, ground.Centre(x, y))/2)))
		}
	}
	site := plan.Site{Plan: plan.Plan{Features: []plan.Feature{
		{ID: 1, Kind: plan.Channel, Geometry: orb.LineString{{5, 50}, {95, 50}}, Fields: map[string]plan.Value{"bed_width": {Number: 4}}},
		{ID: 2, Kind: plan.Island, Geometry: island, Fields: map[string]plan.Value{"arm_width": {Number: 2}, "side": {Number: 2}}},
	}}}
	s, c := &Scene{Site: &site, Ground: ground}, Camera{North: 100, Scale: 4}
	img := mustDraw(t, s, c, 400, 400)
	DrawOverlay(img, s, Overlay{Selected: 1, Hot: -1}, c, Light())
	beside := 50 + bankWidth(site.Plan.Features[0])/2 + 0.2
	for _, of := range []struct {
		name string
		at   orb.Point
		lit  bool
	}{
		{"the edge of its bed", orb.Point{20, 52}, false},
		{"outside its bank", orb.Point{20, beside}, true},
		{"its middle", orb.Point{20, 50}, false},
		{"the island's edge", orb.Point{50, 55}, true},
		{"the near edge of an arm's bed", orb.Point{50, 56}, false},
		{"the middle of an arm's bed", orb.Point{50, 57}, false},
		{"the far edge of an arm's bed", orb.Point{50, 58}, false},
		{"outside an arm's far bank", orb.Point{50, 59.2}, true},
		{"where its bed would run through the island", orb.Point{50, 52}, false},
		{"where its bed opens on the arms", orb.Point{37, 50.5}, false},
	} {
		x, y := c.ToScreen(of.at)
		if d := distance(img, int(x), int(y), Light().Accent); (d < 120) != of.lit {
			t.Errorf("%s is %v, %.0f off the accent", of.name, img.RGBAAt(int(x), int(y)), d)
		}
	}
}

func TestHandlesTooCloseToTellApartAreThinned(t *testing.T) {
	camera := Camera{West: 0, North: 100, Scale: 1}
	look := Light()
	drawn := func(handles ...orb.Point) int {
		dst := image.NewRGBA(image.Rect(0, 0, 100, 100))
		DrawOverlay(dst, nil, Overlay{Handles: handles, Hot: -1}, camera, look)
		inked := 0
		for i := 3; i < len(dst.Pix); i += 4 {
			if dst.Pix[i] > 0 {
				inked++
			}
		}
		return inked
	}
	one := drawn(orb.Point{20, 50})
	if got := drawn(orb.Point{20, 50}, orb.Point{24, 50}, orb.Point{28, 50}); got != one {
		t.Errorf("three handles 4 px apart ink %d px, want one handle's %d", got, one)
	}
	if got := drawn(orb.Point{20, 50}, orb.Point{40, 50}, orb.Point{60, 50}); got != 3*one {
		t.Errorf("three handles 20 px apart ink %d px, want three times %d", got, one)
	}
}

func TestARegionWashesItsCellsAndNoOthers(t *testing.T) {
	region := grid.New[bool](grid.Square(10, 10, 0, 100, 10))
	region.Set(3, 2, true)
	dst := image.NewRGBA(image.Rect(0, 0, 100, 100))
	DrawOverlay(dst, nil, Overlay{Hot: -1, Region: &region}, Camera{West: 0, North: 100, Scale: 1}, Light())
	for y := range 100 {
		for x := range 100 {
			in := x/10 == 3 && y/10 == 2
			if inked := dst.RGBAAt(x, y).A > 0; inked != in {
				t.Fatalf("pixel (%d, %d): inked %v, want %v", x, y, inked, in)
			}
		}
	}
}
