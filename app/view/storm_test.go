package view

import (
	"bytes"
	"context"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/geo/grid"
)

func TestAStormStandsOnlyWhereItIsToBeShown(t *testing.T) {
	wet, ground := bowl(30, 9)
	var shown []int32
	for i := range wet.V {
		if i%wet.W < 15 {
			shown = append(shown, int32(i))
		}
	}
	s := NewStorm(0.04, wet, ground, shown)
	if west, east := s.At(orb.Point{12.5, 15.5}), s.At(orb.Point{18.5, 15.5}); !(west > 5) || east != 0 {
		t.Errorf("it stands %g m deep in the west and %g in the east, want the west alone", west, east)
	}
	if off := s.At(orb.Point{-50, 15}); off != 0 {
		t.Errorf("off the ground it stands %g m deep", off)
	}
	if got := s.Deepest(); got < 8 || got > 9 {
		t.Errorf("its deepest is %g m, want that of a bowl of 9 m", got)
	}
	var none *Storm
	if none.Deepest() != 0 || none.At(orb.Point{1, 1}) != 0 {
		t.Error("no storm has water")
	}
}

// TestAPondIsThatOfTheWholeGround holds the window that a pond is kept in to the
// plain way: every cell of the ground looked at.
func TestAPondIsThatOfTheWholeGround(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := grid.Square(rapid.IntRange(1, 12).Draw(t, "w"), rapid.IntRange(1, 12).Draw(t, "h"), 5, 40, 0.5)
		wet, ground := grid.New[float32](f), grid.New[float32](f)
		for i := range wet.V {
			wet.V[i] = rapid.SampledFrom([]float32{grid.NoData, grid.NoData, grid.NoData, 0, 0.2, 1}).Draw(t, "depth")
			ground.V[i] = float32(rapid.IntRange(0, 3).Draw(t, "height"))
		}
		p := newPond(wet, ground)
		for y := range f.H {
			for x := range f.W {
				want := float32(0)
				if wet.At(x, y) > 0 {
					want = wet.At(x, y)
				} else if besideWater(wet, x, y) {
					want = shoreDepth(wet, ground, x, y)
				}
				px, py, ok := p.depth.Cell(f.Centre(x, y))
				if got := float32(0); ok {
					got = p.depth.At(px, py)
					if got != want {
						t.Fatalf("cell (%d, %d) is %g, want %g", x, y, got, want)
					}
				} else if want > 0 {
					t.Fatalf("the water of cell (%d, %d) is left out", x, y)
				}
			}
		}
	})
}

func besideWater(wet grid.Ground, x, y int) bool {
	for d := range grid.StepX {
		if nx, ny := x+grid.StepX[d], y+grid.StepY[d]; wet.In(nx, ny) && wet.At(nx, ny) > 0 {
			return true
		}
	}
	return false
}

func TestGradesKeepTheSurest(t *testing.T) {
	share := grid.New[float32](grid.Square(600, 4, 0, 4, 1))
	for i := range share.V {
		share.V[i] = grid.NoData
	}
	share.Set(1, 1, 0.95)
	share.Set(2, 1, 0.2)
	share.Set(300, 2, 0.6)
	share.Set(0, 2, 1) // along the edge
	s := NewSureness(share)
	if g := s.graded[0]; g.At(1, 1) != 3 || g.At(2, 1) != 1 || g.At(300, 2) != 2 || g.At(9, 1) != 0 || g.At(0, 2) != 0 {
		t.Errorf("the grades are %v", g.V)
	}
	last := s.graded[len(s.graded)-1]
	if last.V[0] != 3 || slices.Max(last.V) != 3 || !slices.Contains(last.V, 2) {
		t.Errorf("at a quarter of the size they are %v", last.V)
	}
	for share, want := range map[float32]int{0: 0, 0.0999: 0, 0.1: 1, 0.5: 2, 0.9: 3, 1: 3, float32(math.NaN()): 0} {
		if got := gradeOf(share); got != want {
			t.Errorf("a share of %g has grade %d, want %d", share, got, want)
		}
	}
}

func TestHowSureAPathIsHasItsColour(t *testing.T) {
	share := grid.New[float32](grid.Square(10, 10, 0, 10, 1))
	share.Set(2, 3, 0.95)
	share.Set(7, 3, 0.55)
	s := &Scene{Ground: grid.New[float32](share.Frame), Sure: NewSureness(share), Show: Certainty}
	for name, look := range map[string]Palette{"light": Light(), "dark": Dark()} {
		img, err := Draw(context.Background(), s, Camera{North: 10, Scale: 20}, 200, 200, look)
		if err != nil {
			t.Fatal(err)
		}
		for x, grade := range map[int]int{50: 0, 150: 1} {
			want := mix(look.Paper, look.Sure[grade], float64(look.Sure[grade].A)/255)
			if d := distance(img, x, 70, want); d > 4 {
				t.Errorf("%s: grade %d is %v, want near %v", name, grade, img.RGBAAt(x, 70), want)
			}
		}
		if d := distance(img, 110, 150, look.Paper); d != 0 {
			t.Errorf("%s: where no water runs is %v", name, img.RGBAAt(110, 150))
		}
	}
}

func TestTrailsAreToldApartByColourAndDashes(t *testing.T) {
	for name, look := range map[string]Palette{"light": Light(), "dark": Dark()} {
		seen := map[string]int{}
		for number := 1; number <= len(look.Trails)*len(trailDashes); number++ {
			pen := look.trailPen(number)
			key := string([]byte{pen.Colour.R, pen.Colour.G, pen.Colour.B, byte(len(pen.Dash))})
			if len(pen.Dash) > 0 {
				key += string([]byte{byte(pen.Dash[0])})
			}
			if before := seen[key]; before > 0 {
				t.Errorf("%s: trails %d and %d look the same", name, before, number)
			}
			seen[key] = number
		}
	}
}

func TestATrailIsDrawnWithItsNumber(t *testing.T) {
	s := &Scene{Ground: grid.New[float32](grid.Square(100, 100, 0, 100, 1)), Show: Fates, Trails: []Trail{
		{Number: 1, Name: "Roof", Lines: []orb.LineString{{{20, 50}, {50, 50}, {80, 50}}}, Stays: []bool{true}},
	}}
	c := Camera{North: 100, Scale: 4}
	img := mustDraw(t, s, c, 400, 400)
	if d := distance(img, 200, 200, Light().TrailColour(1)); d > 10 {
		t.Errorf("its line is %v", img.RGBAAt(200, 200))
	}
	if d := distance(img, 75, 200, Light().TrailColour(1)); d > 60 {
		t.Errorf("beside its number is %v", img.RGBAAt(75, 200))
	}
	if d := distance(img, 320, 200, Light().Paper); d > 10 {
		t.Errorf("the ring at its end is %v within", img.RGBAAt(320, 200))
	}
	without := *s
	without.Show = 0
	if bytes.Equal(img.Pix, mustDraw(t, &without, c, 400, 400).Pix) {
		t.Error("hiding trails changes nothing")
	}
}

func TestTheLegendFollowsTheWaterThatIsShown(t *testing.T) {
	s := everythingScene(t)
	wet, ground := bowl(30, 9)
	var all []int32
	for i := range wet.V {
		all = append(all, int32(i))
	}
	s.Storm = NewStorm(0.04, wet, ground, all)
	s.Trails = []Trail{{Number: 3, Name: "Shed"}}
	s.Sure = NewSureness(grid.New[float32](s.Ground.Frame))
	words := func(show Layers, units Units) (all []string) {
		s.Show, s.Units = show, units
		for _, e := range s.Legend(Camera{}) {
			all = append(all, e.Text())
		}
		return all
	}
	for _, of := range []struct {
		layer Layers
		units Units
		want  string
	}{
		{Stormwater, Metres, "Standing after 40 mm of rain, depth"}, {Stormwater, Feet, "Standing after 1.57 in of rain, depth"},
		{Fates, Metres, "Water of Shed"}, {Certainty, Metres, "Water runs in half or more of the grounds"},
	} {
		if got := words(of.layer, of.units); !slices.Contains(got, of.want) {
			t.Errorf("the legend is %q, want %q in it", got, of.want)
		}
		if got := words(AllLayers.Without(of.layer), of.units); slices.Contains(got, of.want) {
			t.Errorf("hidden, %q is in the legend", of.want)
		}
	}
}
