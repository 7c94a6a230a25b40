package channel

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestTheZeroSectionHoldsNothing(t *testing.T) {
	var s Section
	if s.Area(1) != 0 || s.TopWidth(1) != 0 || s.HydraulicRadius(0) != 0 || s.WettedPerimeter(-1) != 0 {
		t.Error("the zero section holds water")
	}
}

// The formulas are those of Chow, Open-channel hydraulics (1959), table 2-1; the
// half-hexagon is its best section (section 7-6, from memory). The other figures
// follow by algebra.
func TestTrapezoids(t *testing.T) {
	root3 := math.Sqrt(3)
	for name, c := range map[string]struct {
		section                 Section
		y, area, wet, radius, w float64
	}{
		"a garden channel":         {Section{Bed: 0.6, Left: 3, Right: 3}, 0.3, 0.45, 2.49737, 0.180190, 2.4},
		"a wide channel":           {Section{Bed: 2, Left: 1.5, Right: 1.5}, 0.6, 1.74, 4.16333, 0.417935, 3.8},
		"the half-hexagon":         {Section{Bed: 2 / root3, Left: 1 / root3, Right: 1 / root3}, 1, root3, 2 * root3, 0.5, 4 / root3},
		"a rectangle":              {Section{Bed: 2, Left: 0, Right: 0}, 0.5, 1, 3, 1.0 / 3, 2},
		"one bank steeper":         {Section{Bed: 1, Left: 0, Right: 0.75}, 1, 1.375, 3.25, 1.375 / 3.25, 1.75},
		"a channel with no water":  {Section{Bed: 1, Left: 2, Right: 2}, 0, 0, 0, 0, 0},
		"water below the very bed": {Section{Bed: 1, Left: 2, Right: 2}, -0.3, 0, 0, 0, 0},
	} {
		s := c.section
		for what, got := range map[string][2]float64{
			"area": {s.Area(c.y), c.area}, "wetted perimeter": {s.WettedPerimeter(c.y), c.wet},
			"hydraulic radius": {s.HydraulicRadius(c.y), c.radius}, "top width": {s.TopWidth(c.y), c.w},
		} {
			if math.Abs(got[0]-got[1]) > 1e-5 {
				t.Errorf("%s: %s is %v, want %v", name, what, got[0], got[1])
			}
		}
	}
}

func TestAreaGrowsByTheTopWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Float64Range(0, 6)
		s := Section{Bed: rapid.Float64Range(0.05, 5).Draw(t, "bed"), Left: side.Draw(t, "left"), Right: side.Draw(t, "right")}
		y, dy := rapid.Float64Range(0.01, 2).Draw(t, "y"), 1e-4
		slope := (s.Area(y+dy) - s.Area(y-dy)) / (2 * dy)
		if math.Abs(slope-s.TopWidth(y)) > 1e-6 {
			t.Fatalf("area grows by %v, the top is %v wide", slope, s.TopWidth(y))
		}
		if s.WettedPerimeter(y) < s.TopWidth(y) {
			t.Fatal("there is less soil under the water than surface over it")
		}
	})
}

func TestProfilesAreStraightBetweenStations(t *testing.T) {
	p := Profile{{0, 10}, {10, 9}, {30, 9.5}}
	for chainage, want := range map[float64]float64{-5: 10, 0: 10, 5: 9.5, 10: 9, 20: 9.25, 30: 9.5, 99: 9.5} {
		if got := p.At(chainage); got != want {
			t.Errorf("the level at %v m is %v, want %v", chainage, got, want)
		}
	}
	if (Profile{}).At(3) != 0 {
		t.Error("the empty profile is not at nought")
	}
}

func TestEvenedProfilesKeepTheirSlope(t *testing.T) {
	p := Profile{{0, 10}, {1, 9.5}, {1, 9.5}, {2, 9}, {3, 8.5}, {4, 8}}
	for i, s := range p.even(3) {
		if want := 10 - 0.5*s.Chainage; math.Abs(s.Level-want) > 1e-12 {
			t.Errorf("station %d lies at %v, want %v", i, s.Level, want)
		}
	}
	if got := (Profile{{0, 1}, {1, 4}, {2, 1}}).even(1)[1].Level; got != 2 {
		t.Errorf("a spike of 3 is evened to %v, want 2", got)
	}
}
