package earthwork

import (
	"math"
	"testing"

	"runnel/geo/plan"
)

// The bank that is missing where a side channel opens is named.
func TestAMissingBankHasItsReason(t *testing.T) {
	s := siteOf(0.25, level)
	fields := map[string]float64{"bed_width": 2, "bed_start": 9.6, "bed_end": 9.6}
	add(s, plan.Channel, line(5, 8, 25, 8), fields)
	add(s, plan.Channel, line(15, 17, 15, 8), fields)
	s.Plan.Features[1].Name = "Side"
	pegs, _ := pegsOf(t, s, SetOutOptions{})
	at := marked(t, pegs, PegLeftOpen)
	if at.Chainage != 10 || !math.IsNaN(at.Left.Level) || math.IsNaN(at.Right.Level) || at.What[len(at.What)-1].String() != "left bank open to: Side" {
		t.Errorf("at %v m the banks are %v and %v, and it marks %v", at.Chainage, at.Left.Level, at.Right.Level, at.What)
	}
	for _, p := range pegs {
		for _, side := range []struct {
			PegSide
			open, unknown Why
		}{{p.Left, PegLeftOpen, PegLeftUnknown}, {p.Right, PegRightOpen, PegRightUnknown}} {
			told := false
			for _, r := range p.What {
				told = told || r.Why == side.open || r.Why == side.unknown
			}
			if told != math.IsNaN(side.Level) {
				t.Errorf("peg %d of %s at %v m: the bank is at %v m, and it marks %v", p.Number, p.Title, p.Chainage, side.Level, p.What)
			}
		}
	}
}

// An island 3 m in radius is raised from 10 to 10.4 m in a ring: its bank of 1 in 1.5
// comes down 0.6 m outside its outline, before the channel is met.
func TestAnIslandRaisedInARingHasPegsOnItsCrest(t *testing.T) {
	s := siteOf(0.25, level)
	ring := circle(15, 10, 7)
	add(s, plan.Channel, line(), map[string]float64{"bed_start": 9.6, "bed_end": 9.6, "side_left": 1, "side_right": 1})
	for _, p := range ring[0] {
		s.Plan.Features[0].Geometry = append(s.Plan.Features[0].Line(), p)
	}
	add(s, plan.Island, circle(15, 10, 3), map[string]float64{"top": 10.4, "side": 1.5})
	pegs, _ := pegsOf(t, s, SetOutOptions{})
	round := 0
	far := func(at [2]float64) float64 { return math.Hypot(at[0]-500_015, at[1]-4_000_010) }
	for _, p := range pegs {
		if p.Kind != plan.Island {
			continue
		}
		round++
		within(t, "peg from the centre", far(p.At), 3, 0.01)
		within(t, "crest", p.Bed, 10.4, 1e-9)
		within(t, "cut", p.Cut, -0.4, 1e-5)
		within(t, "left", p.Left.Level, 10.4, 1e-9)
		within(t, "toe from the crest", p.Right.Off, 0.6, 0.01)
		within(t, "toe", p.Right.Level, 10, 1e-3)
		within(t, "stake from the centre", far(p.Right.Stake), 3+0.6+1, 0.02)
		within(t, "stake below the crest", p.Right.StakeCut, -0.4, 1e-5)
	}
	// 18.8 m round, a peg every 2 m and one at the start.
	if round != 10 {
		t.Errorf("%d pegs stand on the crest, want 10", round)
	}
}

// Water that is set to lie over the low half of a bed that falls leaves the other dry.
func TestAPegOnADryBedHasNoWater(t *testing.T) {
	s := siteOf(0.5, level)
	add(s, plan.Channel, line(4, 8, 14, 8), map[string]float64{"bed_start": 9.8, "bed_end": 9.4, "water_level": 9.62})
	pegs, _ := pegsOf(t, s, SetOutOptions{})
	for _, p := range pegs {
		if dry := p.Bed >= 9.62; math.IsNaN(p.Water) != dry || !dry && p.Water != 9.62 {
			t.Errorf("over a bed at %.2f m the water is at %.2f m", p.Bed, p.Water)
		}
	}
	if !math.IsNaN(pegs[0].Water) || math.IsNaN(pegs[len(pegs)-1].Water) {
		t.Errorf("the ends are %+v and %+v", pegs[0], pegs[len(pegs)-1])
	}
}
