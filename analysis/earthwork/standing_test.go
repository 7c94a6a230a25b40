package earthwork

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

func TestWaterStandsWhereItCanComeToOnly(t *testing.T) {
	for name, c := range map[string]struct {
		ground grid.Ground
		seeds  []Seed
		want   grid.Ground
	}{
		"the low ground behind a ridge stays dry": {
			grid.Parse("9 9 9 9 9", "9 1 9 1 9", "9 9 9 9 9"),
			[]Seed{{At: orb.Point{1.5, 1.5}, Level: 3}},
			grid.Parse(". . . . .", ". 2 . . .", ". . . . ."),
		},
		"water does not pass a corner": {
			grid.Parse("9 9 9 9", "9 1 9 9", "9 9 1 9", "9 9 9 9"),
			[]Seed{{At: orb.Point{1.5, 2.5}, Level: 3}},
			grid.Parse(". . . .", ". 2 . .", ". . . .", ". . . ."),
		},
		"no data stops it": {
			grid.Parse("9 9 9 9 9", "9 1 . 1 9", "9 9 9 9 9"),
			[]Seed{{At: orb.Point{1.5, 1.5}, Level: 3}},
			grid.Parse(". . . . .", ". 2 . . .", ". . . . ."),
		},
		"a seed above the water wets nothing": {
			grid.Parse("9 9 9", "9 5 9", "9 9 9"),
			[]Seed{{At: orb.Point{1.5, 1.5}, Level: 5}},
			grid.Parse(". . .", ". . .", ". . ."),
		},
		"each pool has its own level": {
			grid.Parse("1 1 9 1 1"),
			[]Seed{{At: orb.Point{0.5, 0.5}, Level: 3}, {At: orb.Point{4.5, 0.5}, Level: 2}},
			grid.Parse("2 2 . 1 1"),
		},
		"a seed's water stops at its reach": {
			grid.Parse("1 1 1 1 1 1"),
			[]Seed{{At: orb.Point{0.5, 0.5}, Level: 3, Reach: 1}},
			grid.Parse("2 2 2 . . ."),
		},
		"a seed off the ground is left out": {
			grid.Parse("1 1"), []Seed{{At: orb.Point{7, 7}, Level: 3}, {At: orb.Point{math.NaN(), 0}, Level: 3}}, grid.Parse(". ."),
		},
	} {
		w, err := standing(t.Context(), c.ground, c.ground, c.seeds)
		if err != nil || grid.Print(w.Depth) != grid.Print(c.want) {
			t.Errorf("%s: %v\n%swant\n%s", name, err, grid.Print(w.Depth), grid.Print(c.want))
		}
	}
}

func TestGroundThatIsNoneIsReported(t *testing.T) {
	if _, err := standing(t.Context(), grid.Ground{}, grid.Ground{}, nil); err == nil {
		t.Error("water stands on no ground")
	}
}

// On a plane that dips under water all is known: the surface ends at the shore,
// the soil under it is longer by the secant.
func TestOnAPlaneTheMeasuresAreExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := grid.New[float32](grid.Frame{W: 40, H: 10, North: 5, DX: 0.5, DY: 0.5})
		dip, shore := rapid.Float64Range(0.05, 1).Draw(t, "dip"), rapid.Float64Range(2, 18).Draw(t, "shore")
		for i := range g.V {
			g.V[i] = float32(dip * (g.Centre(i%g.W, i/g.W)[0] - shore))
		}
		w, err := standing(t.Context(), g, g, []Seed{{At: orb.Point{0.25, 2.5}, Level: 0}})
		if err != nil {
			t.Fatal(err)
		}
		for what, pair := range map[string][2]float64{
			"surface":  {w.Surface, 5 * shore},
			"contact":  {w.Contact, 5 * shore * math.Hypot(1, dip)},
			"volume":   {w.Volume, 5 * shore * shore * dip / 2},
			"wet bank": {w.WetBank, 4.5}, // between the middles of the outer rows
		} {
			if math.Abs(pair[0]/pair[1]-1) > 1e-3 {
				t.Fatalf("%s is %v, want %v", what, pair[0], pair[1])
			}
		}
	})
}

func TestTheEdgeOfARoundPond(t *testing.T) {
	g := grid.New[float32](grid.Square(100, 100, 0, 10, 0.1))
	for i := range g.V {
		c := g.Centre(i%g.W, i/g.W)
		g.V[i] = float32(math.Hypot(c[0]-5.02, c[1]-4.97) / 3)
	}
	w, err := standing(t.Context(), g, g, []Seed{{At: orb.Point{5, 5}, Level: 1}})
	if err != nil {
		t.Fatal(err)
	}
	// A cone 1 m deep and 3 m in radius.
	for what, pair := range map[string][2]float64{
		"surface": {w.Surface, math.Pi * 9}, "contact": {w.Contact, math.Pi * 3 * math.Sqrt(10)},
		"volume": {w.Volume, math.Pi * 3}, "wet bank": {w.WetBank, 6 * math.Pi},
	} {
		if math.Abs(pair[0]/pair[1]-1) > 3e-3 {
			t.Errorf("%s is %v, want %v", what, pair[0], pair[1])
		}
	}
}

// A sill is no soil: one that parts water of one level changes nothing but that it
// stands in it.
func TestASillAddsNoSoil(t *testing.T) {
	for name, sill := range map[string][]float64{
		"square to the cells": {15, 7, 15, 13}, "slantwise": {14.2, 7, 15.9, 13}, "aslant by half": {12, 7, 18, 13},
	} {
		site := func() *plan.Site {
			s := siteOf(0.1, level)
			add(s, plan.Channel, line(5, 10, 25, 10), map[string]float64{"bed_start": 9.5, "bed_end": 9.5, "water_level": 9.8})
			return s
		}
		s := site()
		add(s, plan.Sill, line(sill...), map[string]float64{"crest": 9.8})
		_, open, _ := both(t, site())
		sections, wet, proposed := both(t, s)
		for what, pair := range map[string][2]float64{
			"contact": {wet.Contact, open.Contact}, "surface": {wet.Surface, open.Surface}, "volume": {wet.Volume, open.Volume},
			"wet bank": {wet.WetBank, open.WetBank}, "contact along the sections": {sections.Contact, open.Contact},
		} {
			if math.Abs(pair[0]/pair[1]-1) > 1e-3 {
				t.Errorf("%s: %s is %v, without the sill %v", name, what, pair[0], pair[1])
			}
		}
		if z, depth := proposed.At(150, 99), wet.Depth.At(150, 99); z < 9.79 || !grid.IsNoData(depth) {
			t.Errorf("%s: the wall stands at %v m under %v m of water", name, z, depth)
		}
	}
}

func TestSquaresWithOppositeCornersWetPartTheWater(t *testing.T) {
	root := math.Sqrt(0.5)
	for name, c := range map[string]struct {
		depth [4]float64
		want  float64
	}{
		"all dry":          {[4]float64{-1, -1, -1, -1}, 0},
		"all wet":          {[4]float64{1, 1, 1, 1}, 0},
		"a corner":         {[4]float64{1, -1, -1, -1}, root},
		"a side":           {[4]float64{1, 1, -1, -1}, 1},
		"opposite corners": {[4]float64{1, -1, 1, -1}, 2 * root},
		"the other two":    {[4]float64{-1, 1, -1, 1}, 2 * root},
		"near one corner":  {[4]float64{1, -3, -3, -3}, root / 2},
	} {
		if got := cut(c.depth, 1, 1); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}
