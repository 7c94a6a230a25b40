package channel

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A spillway with no crest set moves no water and spills none, wherever it stands:
// its crest is the freeboard above the water, or the lowest bank where that is lower.
func TestASpillwayWithNoCrestLeavesTheWater(t *testing.T) {
	// High ground to one side of the channel, beyond its banks.
	banked := func() *plan.Site {
		return siteOf(60, 30, 0.5, func(p orb.Point) float64 {
			if p[1] > 16.8 {
				return 10.4
			}
			return 10
		})
	}
	bare := banked()
	add(bare, plan.Channel, line(10, 15, 50, 15))
	_, lines := measured(t, bare, Step{})
	level := lines[0].Measure.Level
	for _, y := range []float64{15, 16.4, 17} {
		s := banked()
		add(s, plan.Channel, line(10, 15, 50, 15))
		spill := add(s, plan.Spillway, at(30, y))
		n, lines := measured(t, s, Step{}) // which wants no problem
		near(t, "the level", lines[0].Measure.Level, level, 1e-9)
		if u := usual(t, n, spill, "crest"); u.Level > 10+1e-6 || u.Level < level {
			t.Errorf("at %g m its crest is %g, the water %g, the lowest bank 10", y, u.Level, level)
		}
	}
}

func TestTheLevelsInUseWhereNoneIsSet(t *testing.T) {
	s := site(60, 30, 0.5)
	channel := add(s, plan.Channel, line(10, 15, 50, 15), "bed_end", 9.5)
	n, _ := NewNetwork(s, 1)
	if u := usual(t, n, channel, "bed_start"); math.Abs(u.Level-9.6) > 1e-6 || u.From != FromGround {
		t.Errorf("the bed at the start is %+v", u)
	}
	if u := usual(t, n, channel, "water_level"); math.Abs(u.Level-9.95) > 1e-6 || u.From != FromBank {
		t.Errorf("the water level is %+v", u)
	}
	for _, u := range n.Usuals() {
		if u.ID == channel && u.Field == "bed_end" {
			t.Errorf("a level that is set is listed: %+v", u)
		}
	}
}

func usual(t *testing.T, n *Network, id plan.ID, field string) Usual {
	t.Helper()
	for _, u := range n.Usuals() {
		if u.ID == id && u.Field == field {
			return u
		}
	}
	t.Errorf("nothing is said of %s of %d: %+v", field, id, n.Usuals())
	return Usual{}
}
