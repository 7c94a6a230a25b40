package channel

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// gully is ground that falls 1 in 100 to the north from 10 m, with a ditch along
// x = 10 m, half a metre deep.
func gully(p orb.Point) float64 {
	bank := 10 - p[1]/100
	return min(bank, bank-0.5+max(0, math.Abs(p[0]-10)-0.3))
}

// dammed is a site with a drain down the gully and a sill across it 20 m along.
func dammed(crest float64) (s *plan.Site, drain, sill plan.ID) {
	s = siteOf(40, 40, 0.25, gully)
	drain = add(s, plan.Drain, line(10, 1, 10, 39), "bed_width", 0.6, "water_depth", 0.1)
	return s, drain, add(s, plan.Sill, line(8.5, 21, 11.5, 21), "crest", crest)
}

func TestASillHoldsADrainsWaterToItsCrest(t *testing.T) {
	for _, drawn := range []string{"downhill", "uphill"} {
		// The bed lies at 9.29 m under the sill, so that water of 0.1 m reaches 9.6 m
		// 21 m further up.
		s, drain, _ := dammed(9.59)
		if drawn == "uphill" {
			s.Plan.Features[0].Geometry = line(10, 39, 10, 1)
		}
		n, lines := measured(t, s, Step{})
		for y, want := range map[float64]float64{20: 9.59, 12: 9.59, 22: 9.28 + 0.1, 30: 9.2 + 0.1} {
			station := y - 1
			if drawn == "uphill" {
				station = 39 - y
			}
			if c, _ := n.Section(drain, station); math.Abs(c.Level-want) > 0.012 {
				t.Errorf("drawn %s: %v m down the water stands at %.3f m, want %.3f", drawn, y, c.Level, want)
			}
		}
		s.Plan.Features = s.Plan.Features[:1]
		_, open := measured(t, s, Step{})
		if got, was := lines[0].Measure, open[0].Measure; got.Contact < 1.1*was.Contact || got.Depth < 0.29 || got.Depth > 0.31 {
			t.Errorf("drawn %s: the drain touches %v m² and is %v m deep, without the sill %v m²", drawn, got.Contact, got.Depth, was.Contact)
		}
	}
}

func TestASillBelowTheRunningWaterHoldsNothing(t *testing.T) {
	s, _, _ := dammed(9.35)
	_, lines := measured(t, s, Step{})
	s.Plan.Features = s.Plan.Features[:1]
	_, open := measured(t, s, Step{})
	near(t, "contact with a drowned sill", lines[0].Measure.Contact, open[0].Measure.Contact, 1e-3)
}

func TestADamIsNoHigherThanTheDrainsBanks(t *testing.T) {
	s, drain, sill := dammed(9.9) // the bank beside it lies at 9.79 m
	n, problems := NewNetwork(s, 1)
	_, said := spilled(t, n, problems, sill)
	c, _ := n.Section(drain, 19)
	if math.Abs(c.Level-9.79) > 0.02 || !strings.Contains(said, "Sill 2 would spill: at 9.90 m the water that it holds in Drain 1") {
		t.Errorf("the water stands at %.3f m; %s", c.Level, said)
	}
}

func TestASillAcrossADrainWithNoCrestSetStaysBelowTheBanks(t *testing.T) {
	s, drain, _ := dammed(0)
	s.Plan.Features[1] = s.Plan.Features[1].Without("crest")
	n, _ := measured(t, s, Step{})
	if c, _ := n.Section(drain, 19); math.Abs(c.Level-(9.79-Freeboard)) > 0.02 {
		t.Errorf("the water stands at %.3f m", c.Level)
	}
}

func TestAChannelThatTiesInAboveADamStandsAtItsCrest(t *testing.T) {
	for name, c := range map[string]struct{ y, level, rest float64 }{
		"in the pool":    {19, 9.55, 9.55},
		"below the dam":  {25, 9.25 + 0.1, 9.25},
		"above the pool": {3, 9.47 + 0.1, 9.55},
	} {
		s, drain, _ := dammed(9.55)
		id := add(s, plan.Channel, line(10, c.y, 30, c.y))
		n, lines := measured(t, s, Step{})
		level, mouths := lines[0].Measure.Level, n.Mouths()
		if math.Abs(level-max(c.level, c.rest)) > 0.01 {
			t.Errorf("%s: the channel stands at %.3f m, want %.3f", name, level, c.level)
		}
		if len(mouths) != 1 || mouths[0].Channel.ID != id || mouths[0].Drain.ID != drain ||
			math.Abs(mouths[0].Rest-c.rest) > 0.02 || mouths[0].Level != level {
			t.Errorf("%s: the mouths are %+v", name, mouths)
		}
	}
}

func TestASillInTheChannelClosesItsMouth(t *testing.T) {
	s, _, _ := dammed(9.5)
	add(s, plan.Channel, line(10, 25, 30, 25))
	add(s, plan.Sill, line(12, 23, 12, 27), "crest", 9.3)
	if n, _ := measured(t, s, Step{}); len(n.Mouths()) != 0 {
		t.Errorf("the mouths are %+v", n.Mouths())
	}
}

// A drain is narrow, and lies between the places at which banks are looked at.
func TestAChannelThatCrossesADrainStandsNoHigherThanItRunsOff(t *testing.T) {
	s := siteOf(60, 30, 0.25, ditch)
	add(s, plan.Drain, line(10, 1, 10, 29), "bed_width", 0.6, "water_depth", 0.2)
	id := add(s, plan.Channel, line(3.1, 15, 40, 15), "bed_start", 9.5, "bed_end", 9.45)
	_, lines := measured(t, s, Step{})
	if level := lines[0].Measure.Level; math.Abs(level-9.7) > 0.01 {
		t.Errorf("with no level set it stands at %.3f m, the drain at 9.7", level)
	}
	s.Plan.Features[1] = s.Plan.Features[1].With("water_level", plan.Value{Number: 9.95})
	n, problems := NewNetwork(s, 1)
	if m, said := spilled(t, n, problems, id); math.Abs(m.Level-9.8) > 0.01 || !strings.Contains(said, "would run off") {
		t.Errorf("asked to stand at 9.95 m it stands at %.3f m: %s", m.Level, said)
	}
}
