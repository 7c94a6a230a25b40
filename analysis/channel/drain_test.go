package channel

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

func TestADrainIsReadFromItsGround(t *testing.T) {
	// The ditch falls 1 in 100 to the north, and is drawn 0.2 m beside its bed.
	s := siteOf(40, 60, 0.1, func(p orb.Point) float64 { return ditch(p) - 0.01*p[1] })
	add(s, plan.Drain, line(10.2, 5, 10.2, 45), "bed_width", 0.6, "side_left", 1.0, "side_right", 1.0, "water_depth", 0.2)
	_, lines := measured(t, s, Step{})
	section := Section{Bed: 0.6, Left: 1, Right: 1}
	near(t, "contact", lines[0].Measure.Contact, 40*section.WettedPerimeter(0.2), 1e-3)
	near(t, "surface", lines[0].Measure.Surface, 40*section.TopWidth(0.2), 1e-3)
	near(t, "volume", lines[0].Measure.Volume, 40*section.Area(0.2), 2e-3)
	near(t, "wet bank", lines[0].Measure.WetBank, 80, 1e-3)
	if got, want := lines[0].Measure.Level, 9.5-0.05+0.2; math.Abs(got-want) > 0.01 {
		t.Errorf("the water starts at %.3f m, want %.3f", got, want)
	}
}

func TestADrainCountsOnItsSiteOnly(t *testing.T) {
	for name, c := range map[string]struct {
		west   float64
		length float64
	}{
		"it runs inside":                {5, 20},
		"along the edge, 4 m outside":   {14, 20},
		"farther out than 5 m":          {16, 0},
		"no boundary, so all counts":    {math.NaN(), 50},
		"the boundary takes in a part":  {8, 20},
		"a part and the slack each end": {9.9, 20},
	} {
		s := siteOf(40, 60, 0.25, ditch)
		add(s, plan.Drain, line(10, 5, 10, 55))
		if !math.IsNaN(c.west) {
			add(s, plan.Boundary, orb.Polygon{orb.Ring(line(c.west, 25, 30, 25, 30, 35, c.west, 35, c.west, 25))})
		}
		_, lines := measured(t, s, Step{})
		// The slack of 5 m at either end makes 20 m of the 10 m; outside the corner
		// it is rounded off.
		if got := lines[0].Measure.Length; math.Abs(got-c.length) > 4.1 || got > c.length+0.5 {
			t.Errorf("%s: %.1f m count, want about %v", name, got, c.length)
		}
	}
}

func TestWhatAChannelTakesFromADrainIsCountedOnce(t *testing.T) {
	s := siteOf(40, 60, 0.1, ditch)
	add(s, plan.Drain, line(10, 5, 10, 55), "bed_width", 0.6, "water_depth", 0.2)
	alone, _ := NewNetwork(s, plan.AsItIs)
	add(s, plan.Channel, line(10, 30, 30, 30), "bed_width", 0.6, "bed_start", 9.5, "bed_end", 9.5)
	n, lines := measured(t, s, Step{})
	before, _ := alone.Measure(t.Context(), Step{})
	if lost := before[0].Measure.Contact - lines[1].Measure.Contact; lost < 0 || lost > 2 {
		t.Errorf("the drain loses %.2f m² to the channel's mouth", lost)
	}
	// Brute force over all the water there is, at one level.
	sum := lines[0].Measure.Surface + lines[1].Measure.Surface
	want := before[0].Measure.Surface
	for y := 20.0; y < 40; y += 0.02 {
		for x := 5.0; x < 40; x += 0.02 {
			p := at(x, y)
			if n.Proposed(p) < 9.7 && math.Abs(x-10) > 0.5 {
				want += 0.02 * 0.02
			}
		}
	}
	near(t, "surface of drain and channel", sum, want, 0.01)
}

func TestADrainCutsNothing(t *testing.T) {
	s := site(40, 60, 0.25)
	add(s, plan.Drain, line(10, 5, 10, 55))
	n, _ := NewNetwork(s, 1)
	if z, ok := n.Surface(at(10, 30)); ok || n.Proposed(at(10, 30)) != 10 {
		t.Errorf("a drain digs the ground to %v", z)
	}
}
