package channel

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// raisedOff lays out a channel that leaves a falling drain at a slant, so that its bank
// lies by the drain for some metres, on cells wider than a bank's crest.
func raisedOff(t *testing.T, fields ...any) (*Network, plan.ID) {
	t.Helper()
	s := siteOf(60, 40, 0.5, func(p orb.Point) float64 {
		return min(10, 9.5+max(0, math.Abs(p[0]-10)-0.4)) - 0.02*(40-p[1])
	})
	add(s, plan.Drain, line(10, 42, 10, -2), "bed_width", 0.8, "depth", 0.5, "side_left", 1.0, "side_right", 1.0, "water_depth", 0.3)
	id := add(s, plan.Channel, line(10, 30, 20, 20, 50, 20), append(fields, "bed_start", 9.2, "bed_end", 9.1)...)
	n, _ := NewNetwork(s, 1)
	return n, id
}

func TestRaisedBanksNeverLowerTheBrim(t *testing.T) {
	flat, id := raisedOff(t)
	brim, water := flat.BrimOf(id).Level, flat.WaterAt(id, 20)
	for _, top := range []float64{9.7, 10, 10.3, 10.6} {
		n, id := raisedOff(t, "bank_top", top)
		if got := n.BrimOf(id).Level; got < brim-1e-6 {
			t.Errorf("with banks raised to %v m the brim falls from %v to %v m, %v", top, brim, got, n.BrimOf(id))
		}
		if got := n.WaterAt(id, 20); got < water-1e-6 {
			t.Errorf("with banks raised to %v m the water falls from %v to %v m", top, water, got)
		}
		brim = n.BrimOf(id).Level
	}
}

// A crest of 0.4 m on cells of half a metre counts as it is, round an island's moat too,
// however low the land beyond it.
func TestACrestNarrowerThanACellIsTheBrim(t *testing.T) {
	s := siteOf(60, 40, 0.5, func(p orb.Point) float64 { return 10 - 0.05*math.Abs(p[1]-20) })
	id := add(s, plan.Channel, line(10, 20, 50, 20), "bank_top", 10.3, "bank_width", 0.4, "bed_start", 9.4, "bed_end", 9.4, "water_level", 11.0)
	add(s, plan.Island, orb.Polygon{circle(30, 20, 3, 40)})
	n, _ := NewNetwork(s, 1)
	within(t, "the brim", n.BrimOf(id).Level, 10.3, 1e-6)
	l, _ := n.LongSection(id)
	for _, p := range l.Places {
		if off := p.Bank() - 10.3; !(math.Abs(off) <= 1e-3) {
			t.Errorf("%v m along the lower bank is %v m", p.Chainage, p.Bank())
		}
	}
}

// Land outside a raised bank may lie below the water that the bank holds, and so may
// another channel.
func TestLowLandBeyondARaisedBankHoldsNoWater(t *testing.T) {
	s := siteOf(60, 40, 0.25, func(p orb.Point) float64 {
		return 10 - 0.4*max(0, min(1, math.Abs(p[1]-20)-2.5))
	})
	id := add(s, plan.Channel, line(10, 20, 50, 20), "bank_top", 10.3, "bed_start", 9.5, "bed_end", 9.5, "water_level", 10.0)
	add(s, plan.Channel, line(10, 16, 50, 16), "bed_start", 9.3, "bed_end", 9.3, "flow", 1.0)
	n, _ := NewNetwork(s, 1)
	c, err := n.Section(id, 20)
	if err != nil || c.Offset[len(c.Offset)-1] < 4.2 {
		t.Fatalf("the section goes to %v m (%v)", c.Offset[len(c.Offset)-1], err)
	}
	near(t, "the top width", c.TopWidth, 0.6+4*0.5, 1e-6)
	near(t, "the wetted perimeter", c.WettedPerimeter, 0.6+2*math.Hypot(0.5, 1), 1e-3)
	within(t, "the depth", c.Depth(), 0.5, 1e-9)
	on := func(off float64) int { return int(math.Round((off - c.Offset[0]) / sectionStep)) }
	within(t, "the other channel's water", c.Other[on(4)], n.WaterAt(2, 20), 1e-9)
	for i, off := range c.Offset {
		if p := at(30, 20-off); !n.dug(p) && !(math.IsNaN(c.Other[i]) && (math.IsNaN(c.Water[i]) || math.Abs(off) < 2)) {
			t.Errorf("on land %v m off water stands at %v m", off, c.Water[i])
		}
	}
}

// Both arms round an island count, and no more.
func TestBothArmsCountInASection(t *testing.T) {
	s := site(60, 40, 0.25)
	id := add(s, plan.Channel, line(10, 20, 50, 20), "bed_start", 9.5, "bed_end", 9.5, "water_level", 9.8)
	add(s, plan.Island, orb.Polygon{circle(30, 20, 3, 80)}, "arm_width", 0.6)
	n, _ := NewNetwork(s, 1)
	c, _ := n.Section(id, 20)
	near(t, "the top width", c.TopWidth, 2*(0.6+0.3*(1.5+2)), 0.02)
}

// The long section and the stations of the flow have one bank, and where water stands to
// the brim none of it is lower.
func TestOneFreeboardEverywhere(t *testing.T) {
	for name, fields := range map[string][]any{
		"raised": {"bank_top", 10.3, "water_level", 20.0}, "as the ground is": {"water_level", 20.0},
	} {
		s := siteOf(60, 40, 0.25, func(p orb.Point) float64 { return 10 + 0.03*(p[1]-20) + 0.05*math.Sin(p[0]) })
		id := add(s, plan.Channel, line(10, 20, 25, 23, 50, 20), append(fields, "bed_start", 9.4, "bed_end", 9.4)...)
		add(s, plan.Island, orb.Polygon{circle(38, 21, 2, 40)})
		n, _ := NewNetwork(s, 1)
		l, _ := n.LongSection(id)
		for _, p := range l.Places {
			if p.Bank() < p.Water-1e-6 {
				t.Errorf("%s: %v m along the bank is %v m, the water %v m", name, p.Chainage, p.Bank(), p.Water)
			}
		}
		for _, link := range n.Graph(0.25).Links {
			for _, x := range link.Stations {
				bank := lowerBank(x.Left, x.Right)
				if bank < x.Water-1e-6 {
					t.Errorf("%s: at the station at %v m the bank is %v m, the water %v m", name, x.Chainage, bank, x.Water)
				}
				if at := l.At(x.Chainage); link.Kind == RunLink && !(math.Abs(bank-at.Bank()) < 0.01) && !(math.IsNaN(bank) || math.IsNaN(at.Bank())) {
					t.Errorf("%s: %v m along the bank is %v m in the flow and %v m in the long section", name, x.Chainage, bank, at.Bank())
				}
			}
		}
	}
}

// A drain's mouth is no bank.
func TestThereIsNoBankWhereADrainOpens(t *testing.T) {
	n, id := raisedOff(t)
	l, _ := n.LongSection(id)
	if p := l.Places[0]; !math.IsNaN(p.Bank()) {
		t.Errorf("at the mouth there are banks of %v and %v m", p.Left, p.Right)
	}
	if p := l.At(30); math.IsNaN(p.Left + p.Right) {
		t.Errorf("away from it there are banks of %v and %v m", p.Left, p.Right)
	}
}

func TestASectionInAMoatIsSaid(t *testing.T) {
	s := site(60, 40, 0.25)
	add(s, plan.Channel, line(10, 20, 50, 20), "bed_start", 9.5, "bed_end", 9.5)
	add(s, plan.Island, orb.Polygon{circle(30, 20, 3, 40)})
	in := add(s, plan.Section, at(30, 20), "bed_width", 1.2)
	add(s, plan.Section, at(20, 20), "bed_width", 1.2)
	add(s, plan.Section, at(31, 20), "bed_level", 9.5)
	_, problems := NewNetwork(s, 1)
	if len(problems) != 1 || problems[0].ID != in || problems[0].At != at(30, 20) ||
		!strings.Contains(problems[0].Error(), "Section 3 lies in the moat of Island 2, where the arms have their own bed") {
		t.Errorf("%v", problems)
	}
}
