package view

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/analysis/compare"
	"runnel/analysis/terrain"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

func TestTheSceneOfTheDemoSiteHasAllThatItsMapShows(t *testing.T) {
	s := demoScene(t, 1)
	if d := s.Drainage; s.Shade.Len() != s.Ground.Len() || d.Flow.Cells.Len() != s.Ground.Len() || len(s.Contours) == 0 || len(s.Ponding.Hollows) == 0 {
		t.Errorf("shade %d, cells %d, contours %d, hollows %d", s.Shade.Len(), d.Flow.Cells.Len(), len(s.Contours), len(s.Ponding.Hollows))
	}
	if s.prepared == nil || s.prepared.pond.deepest <= 0 || s.prepared.cut.deepest <= 0 {
		t.Error("a scheme with a channel has no standing water or no cut")
	}
	if s.Scheme != s.Site.Plan.Schemes[0].ID || s.Show != AllLayers {
		t.Errorf("scheme %d, layers %b", s.Scheme, s.Show)
	}
}

func TestASceneOfNoGroundSaysWhatToDo(t *testing.T) {
	if _, err := NewScene(context.Background(), &plan.Site{}, plan.AsItIs); err == nil {
		t.Error("a site with no ground gives a scene")
	}
}

func TestASceneStopsWhenAsked(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	s := Scene{Ground: grid.Parse("1 2", "3 4")}
	if err := steps(ctx, s.shape, s.drainAfresh); !errors.Is(err, context.Canceled) {
		t.Errorf("error is %v", err)
	}
}

func TestFeaturesThatCannotBeDrawnAreLeftOut(t *testing.T) {
	site := plan.Site{Plan: plan.Plan{Features: []plan.Feature{
		{ID: 1, Kind: plan.Well, Geometry: orb.Point{1, 1}},
		{ID: 2, Kind: plan.Well, Geometry: orb.LineString{{1, 1}, {2, 2}}},
		{ID: 3, Kind: plan.NoKind, Geometry: orb.Point{1, 1}},
		{ID: 4, Kind: 200, Geometry: orb.Point{1, 1}},
		{ID: 5, Kind: plan.Path, Geometry: orb.LineString{{1, 1}, {math.NaN(), 2}}},
		{ID: 6, Kind: plan.Path, Geometry: orb.LineString{{1, 1}}},
		{ID: 7, Kind: plan.Roof, Geometry: orb.Polygon{}},
		{ID: 8, Kind: plan.Roof},
		{ID: 9, Kind: plan.Path, Scheme: 4, Geometry: orb.LineString{{1, 1}, {2, 2}}},
	}}}
	s := Scene{Site: &site, Scheme: plan.AsItIs}
	var ids []plan.ID
	for _, f := range s.features() {
		ids = append(ids, f.ID)
	}
	if !slices.Equal(ids, []plan.ID{1}) {
		t.Errorf("drawn are %v, want only the sound well of the site as it is", ids)
	}
}

func TestHalvedReliefKeepsItsMeanAndItsPlace(t *testing.T) {
	g := grid.Grid[uint8]{Frame: grid.Square(3, 2, 10, 50, 2), V: []uint8{10, 20, 70, 30, 40, 0}}
	h := grid.New[uint8](halved(g.Frame))
	halve(g, h, mean, band{0, h.H})
	if !slices.Equal(h.V, []uint8{25, 70}) {
		t.Errorf("halves are %v, want 25, the mean of four, and 70, the one cell known", h.V)
	}
	if h.West != g.West || h.North != g.North || h.DX != 4 || h.DY != 4 {
		t.Errorf("the frame is %+v", h.Frame)
	}
}

func TestAStaircaseOutlineBecomesAStraightLine(t *testing.T) {
	var ring orb.Ring
	for i := range 20 {
		v := float64(i)
		ring = append(ring, orb.Point{v, v}, orb.Point{v + 1, v})
	}
	for i, p := range middles(append(ring, orb.Point{20, 20}, orb.Point{0, 20}, orb.Point{0, 0}))[:38] {
		if off := math.Abs(p[0]-p[1]) - 0.5; math.Abs(off) > 1e-12 {
			t.Fatalf("point %d at %v strays from the line by %g", i, p, off)
		}
	}
}

func TestContourSpacingTellsWhichLinesThereIsRoomFor(t *testing.T) {
	var c terrain.Contour
	for i := range 10 {
		c.Lines = append(c.Lines, orb.LineString{{0, float64(10 * i)}, {100, float64(10 * i)}})
	}
	s := Scene{Ground: grid.New[float32](grid.Square(100, 100, 0, 100, 1)), Contours: []terrain.Contour{c}}
	s.Prepare()
	if got := s.prepared.spacing; math.Abs(got-10) > 1e-9 {
		t.Fatalf("spacing is %g m, want 10", got)
	}
	for _, of := range []struct {
		scale        float64
		light, heavy bool
	}{{2, true, true}, {0.3, false, true}, {0.05, false, false}} {
		k := testCanvas(10, 10, Camera{Scale: of.scale})
		if light, heavy := k.contourSet(s.prepared); light != of.light || heavy != of.heavy {
			t.Errorf("at %g px/m light lines %v, heavy lines %v", of.scale, light, heavy)
		}
	}
}

func TestTheIntervalIsSaidInTheScenesUnits(t *testing.T) {
	s := Scene{Interval: 0.2}
	if got := s.IntervalText(); got != "" {
		t.Errorf("a scene of no contours says %q", got)
	}
	s.Contours = []terrain.Contour{{Level: 84}}
	for units, want := range map[Units]string{Metres: "Contours every 0.2 m", Feet: "Contours every 0.5 ft"} {
		s.Units = units
		s.Interval = map[Units]float64{Metres: 0.2, Feet: 0.5 * 0.3048}[units]
		if got := s.IntervalText(); got != want {
			t.Errorf("the interval is %q, want %q", got, want)
		}
	}
}

// TestAReliefTakenOverIsThatOfTheWholeGround holds the shading of changed rows alone
// to that of all.
func TestAReliefTakenOverIsThatOfTheWholeGround(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 40).Draw(t, "w"), rapid.SampledFrom([]int{1, 2, 3, 17, 600}).Draw(t, "h")
		site := plan.Site{Ground: grid.New[float32](grid.Square(w, h, 0, float64(h), 1)), Setting: plan.UsualSetting()}
		for i := range site.Ground.V {
			site.Ground.V[i] = float32(i*i%17) / 4
		}
		scene := func(before *Scene, ground grid.Ground) *Scene {
			s, err := Maker{Before: before, Show: Shade}.Scene(context.Background(), &site, &compare.Account{Proposed: ground})
			if err != nil {
				t.Fatal(err)
			}
			return s
		}
		before := scene(nil, site.Ground)
		for range 3 {
			changed := before.Ground.Clone()
			for range rapid.IntRange(1, 5).Draw(t, "cells") {
				z := rapid.SampledFrom([]float32{0, 2, 9}).Draw(t, "height")
				changed.V[rapid.IntRange(0, min(len(changed.V)-1, 9*w)).Draw(t, "cell")] = z
			}
			after, whole := scene(before, changed), scene(nil, changed)
			for i, g := range whole.prepared.shades {
				if !slices.Equal(after.prepared.shades[i].V, g.V) {
					t.Fatalf("at size %d the relief differs", i)
				}
			}
			before = after
		}
	})
}
