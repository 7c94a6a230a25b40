package view

import (
	"bytes"
	"context"
	"image"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/analysis/caution"
	"runnel/geo/plan"
)

// bare is what tiles hold of a scene: all but what is laid over it.
func bare(s *Scene) *Scene {
	t := *s
	t.Show = s.Show.Without(over)
	return &t
}

// worst returns the greatest difference between two pictures and how many pixels
// differ by more than the rounding of edges explains.
func worst(a, b *image.RGBA) (most, rough int) {
	for i := range a.Pix {
		d := abs(int(a.Pix[i]) - int(b.Pix[i]))
		if most = max(most, d); d > 24 {
			rough++
		}
	}
	return most, rough
}

// laid waits until tiles have nothing more to draw, and lays them.
func laid(tb testing.TB, t *Tiles, c Camera, w, h int) *image.RGBA {
	tb.Helper()
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	for range 4000 {
		if t.Lay(dst, c, time.Now()).IsZero() {
			return dst
		}
		time.Sleep(time.Millisecond)
	}
	tb.Fatal("the map does not get sharp")
	return nil
}

func someCamera(t *rapid.T) Camera {
	at := orb.Point{rapid.Float64Range(0, 100).Draw(t, "east"), rapid.Float64Range(0, 80).Draw(t, "north")}
	scale := math.Exp(rapid.Float64Range(0, 4.2).Draw(t, "log scale"))
	return Camera{West: at[0] - 300/scale, North: at[1] + 200/scale, Scale: scale}.Settled()
}

func TestTilesLaidTogetherAreTheMap(t *testing.T) {
	s := bare(everythingScene(t))
	tiles := NewTiles(func() {})
	defer tiles.Stop()
	tiles.Show(s, Light())
	rapid.Check(t, func(t *rapid.T) {
		c := someCamera(t)
		whole, err := Draw(context.Background(), s, c, 600, 400, Light())
		if err != nil {
			t.Fatal(err)
		}
		dst := image.NewRGBA(whole.Rect)
		for range 4000 {
			if tiles.Lay(dst, c, time.Now()).IsZero() {
				break
			}
			time.Sleep(time.Millisecond)
		}
		if most, rough := worst(whole, dst); rough > 40 {
			t.Fatalf("%d values differ, by up to %d", rough, most)
		}
	})
}

// The labels of a window that is the picture itself are those that Draw writes.
func TestASheetOfLabelsOverTilesIsTheMap(t *testing.T) {
	s := everythingScene(t)
	c := Fit(s.Bound(), 900, 700).Settled()
	want := mustDraw(t, s, c, 900, 700)
	got := mustDraw(t, bare(s), c, 900, 700)
	p := newPlate(s)
	l := levelOf(c.Scale)
	e := &edition{mark: p.imprint(Light()), words: p.words(), plate: p, look: Light()}
	sheet, err := drawSheet(context.Background(), labelJob{moment{edition: e, level: l}, got.Rect.Add(c.corner(l)), image.Rectangle{}, newTypesetter()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(sheet.sprites) < 20 {
		t.Fatalf("only %d things are laid over the map", len(sheet.sprites))
	}
	if most, rough := worst(want, got); rough < 1000 {
		t.Fatalf("labels hardly show: %d values differ, by up to %d", rough, most)
	}
	sheet.lay(got, c)
	if most, rough := worst(want, got); rough > 40 {
		t.Errorf("%d values differ, by up to %d", rough, most)
	}
}

func TestLabelsStayWhereTheyAreWhileTheMapIsMoved(t *testing.T) {
	s := everythingScene(t)
	p := newPlate(s)
	e := &edition{mark: p.imprint(Light()), words: p.words(), plate: p, look: Light()}
	l := levelOf(24)
	window := image.Rect(0, -1900, 900, -1100)
	before, err := drawSheet(context.Background(), labelJob{moment{edition: e, level: l}, window, window, newTypesetter()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	after, err := drawSheet(context.Background(), labelJob{moment{edition: e, level: l}, window.Add(image.Pt(400, 150)), window, newTypesetter()}, before)
	if err != nil {
		t.Fatal(err)
	}
	shared := window.Intersect(after.window)
	in := func(sheet *labelSheet) map[image.Point]bool {
		places := map[image.Point]bool{}
		for _, w := range sheet.written {
			if w.image.Rect.Add(w.at).In(shared) {
				places[w.at] = true
			}
		}
		return places
	}
	was, is := in(before), in(after)
	if len(was) < 5 || len(after.written) == len(is) {
		t.Fatalf("%d labels stand in both windows, %d of %d in the second", len(was), len(is), len(after.written))
	}
	for at := range was {
		if !is[at] {
			t.Errorf("the label at %v has gone", at)
		}
	}
}

func TestTilesKeepWithinTheirBound(t *testing.T) {
	s := everythingScene(t)
	const most = 40 * 4 * tileSide * tileSide
	tiles := newTiles(func() {}, most)
	defer tiles.Stop()
	tiles.Show(s, Light())
	r := rand.New(rand.NewPCG(1, 2))
	c := Fit(s.Bound(), 500, 400)
	for range 60 {
		c = c.ZoomAbout(500*r.Float64(), 400*r.Float64(), 0.8+0.5*r.Float64()).Pan(300*(r.Float64()-0.5), 200*(r.Float64()-0.5))
		if c.Scale > 80 || c.Scale < 1 {
			c = Fit(s.Bound(), 500, 400)
		}
		laid(t, tiles, c.Settled(), 500, 400)
		tiles.mu.Lock()
		held, count := tiles.store.held, tiles.store.recent.Len()
		tiles.mu.Unlock()
		if held > most || held != count*4*tileSide*tileSide {
			t.Fatalf("%d bytes are held in %d tiles, the bound is %d", held, count, most)
		}
	}
}

// Otherwise two dozen grounds of a large site would be held while a thing is dragged.
func TestTilesDoNotHoldOnToScenesThatWereShown(t *testing.T) {
	s := everythingScene(t)
	tiles := NewTiles(func() {})
	defer tiles.Stop()
	c := Fit(s.Bound(), 300, 200).Settled()
	for i := range 4 {
		shown := *s
		shown.Trails = []Trail{{Number: i + 1}}
		tiles.Show(&shown, Light())
		laid(t, tiles, c, 300, 200)
	}
	tiles.mu.Lock()
	defer tiles.mu.Unlock()
	for i, m := range tiles.past {
		if m.plate != nil && m.edition != tiles.now {
			t.Errorf("moment %d of %d holds its scene", i, len(tiles.past))
		}
	}
	for _, sheet := range tiles.sheets {
		if sheet.plate != nil {
			t.Error("labels hold their scene")
		}
	}
}

// countdown is a context that ends after it has been asked a number of times.
type countdown struct {
	context.Context
	left int
}

func (c *countdown) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

func TestATileThatIsCancelledLeavesNothingHalfDrawn(t *testing.T) {
	s := everythingScene(t)
	p := newPlate(s)
	e := &edition{mark: p.imprint(Light()), plate: p, look: Light()}
	key := tileKey{sheetKey{1, levelOf(8)}, 1, -2}
	fresh, err := newTileCanvas().drawTile(context.Background(), e, key)
	if err != nil {
		t.Fatal(err)
	}
	k := newTileCanvas()
	for asked := range 60 {
		tile, err := k.drawTile(&countdown{context.Background(), asked}, e, key)
		if err == nil {
			if !bytes.Equal(tile.Pix, fresh.Pix) {
				t.Fatalf("whole after %d looks, the tile is another", asked)
			}
			break
		}
		if tile != nil {
			t.Fatalf("cancelled at look %d, there is a tile", asked)
		}
		again, err := k.drawTile(context.Background(), e, key)
		if err != nil || !bytes.Equal(again.Pix, fresh.Pix) {
			t.Fatalf("after one cancelled at look %d the next is another, error %v", asked, err)
		}
	}
}

func TestAnotherThemeNeverShowsTilesOfTheOther(t *testing.T) {
	s := everythingScene(t)
	c := Fit(s.Bound(), 500, 400).Settled()
	tiles := NewTiles(func() {})
	defer tiles.Stop()
	tiles.Show(s, Light())
	light := laid(t, tiles, c, 500, 400)
	tiles.Show(s, Dark())
	dst := image.NewRGBA(light.Rect)
	limit := uint8(0)
	for i := 0; i < len(light.Pix); i += 4 {
		if y := i / 4 / 500; y > 150 && y < 250 {
			limit = max(limit, light.Pix[i])
		}
	}
	for sharp := false; !sharp; {
		sharp = tiles.Lay(dst, c, time.Now()).IsZero()
		bright := 0
		for i := 0; i < len(dst.Pix); i += 4 {
			if dst.Pix[i] > 200 && dst.Pix[i+1] > 200 && dst.Pix[i+2] > 190 {
				bright++
			}
		}
		// Light paper covers most of the light map; on the dark one only ink is bright.
		if share := float64(bright) / (500 * 400); share > 0.15 {
			t.Fatalf("%.0f %% of the dark map is as bright as paper", 100*share)
		}
	}
	tiles.Show(s, Light())
	if !bytes.Equal(laid(t, tiles, c, 500, 400).Pix, light.Pix) {
		t.Error("back in the light the map is another")
	}
}

func TestOnlyTilesThatAnEditTouchesAreDrawnAnew(t *testing.T) {
	s := everythingScene(t)
	tiles := NewTiles(func() {})
	defer tiles.Stop()
	tiles.Show(s, Light())
	c := Camera{West: 0, North: 80, Scale: 20}.Settled()
	laid(t, tiles, c, 1500, 1200)
	number := tiles.now.number
	before := len(tiles.store.sheets[sheetKey{number, levelOf(c.Scale)}])
	site := *s.Site
	site.Plan = site.Plan.Clone()
	for i, f := range site.Plan.Features {
		if f.Kind == plan.Tree {
			at := f.Point()
			site.Plan.Features[i].Geometry = orb.Point{at[0] + 1, at[1]}
			break
		}
	}
	edited := *s
	edited.Site = &site
	tiles.Show(&edited, Light())
	kept := len(tiles.store.sheets[sheetKey{tiles.now.number, levelOf(c.Scale)}])
	if tiles.now.number == number || kept < before-6 || kept >= before {
		t.Errorf("%d tiles of %d are kept", kept, before)
	}
	got := laid(t, tiles, c, 1500, 1200)
	fresh := NewTiles(func() {})
	defer fresh.Stop()
	fresh.Show(&edited, Light())
	if want := laid(t, fresh, c, 1500, 1200); !bytes.Equal(got.Pix, want.Pix) {
		most, rough := worst(got, want)
		t.Errorf("the map is not that of the edited plan: %d values differ, by up to %d", rough, most)
	}
}

// imprinted says of each field of a scene why the tiles' imprint may trust it.
var imprinted = map[string]string{
	"Site": "features", "Underlays": "rest", "Scheme": "features", "Ground": "held", "Shade": "held", "Contours": "held",
	"Interval": "held", "Stale": "not drawn", "Drainage": "held", "Ponding": "held", "Wet": "held", "Days": "held", "Storm": "held",
	"Trails": "rest", "Sure": "held", "Heights": "held", "Slopes": "held", "Doubt": "held", "Cautions": "words", "Show": "held",
	"Ghost": "rest", "Arrivals": "held", "Units": "words", "Faults": "words",
}

func TestWhateverASceneHoldsIsInItsImprint(t *testing.T) {
	of := reflect.TypeFor[Scene]()
	for i := range of.NumField() {
		if f := of.Field(i); f.IsExported() && imprinted[f.Name] == "" {
			t.Errorf("%s is not: add it to imprint or to words, in print.go", f.Name)
		}
	}
}

func TestScenesThatLookAlikeHaveOneImprint(t *testing.T) {
	s := everythingScene(t)
	other := *s
	other.Cautions = []caution.Caution{{At: orb.Point{3, 3}}}
	a, b := newPlate(s), newPlate(&other)
	if a.imprint(Light()) != b.imprint(Light()) || a.words() == b.words() {
		t.Error("a caution more makes other tiles, or no other signs")
	}
	for name, change := range map[string]func(*Scene){
		"layers": func(s *Scene) { s.Show = s.Show.Without(Hollows) },
		"trails": func(s *Scene) { s.Trails = []Trail{{Number: 1}} },
		"storm":  func(s *Scene) { s.Storm = &Storm{} },
		"ground": func(s *Scene) { s.Ground = s.Ground.Clone() },
		"plan": func(s *Scene) {
			site := *s.Site
			site.Plan = site.Plan.Clone()
			site.Plan.Features[0] = site.Plan.Features[0].At(orb.LineString{{1, 1}, {2, 2}})
			s.Site = &site
		},
	} {
		other := *s
		change(&other)
		if newPlate(&other).imprint(Light()) == a.imprint(Light()) {
			t.Errorf("other %s have the same imprint", name)
		}
	}
	if a.imprint(Dark()) == a.imprint(Light()) || a.imprint(Light().Scaled(2)) == a.imprint(Light()) {
		t.Error("another look has the same imprint")
	}
}
