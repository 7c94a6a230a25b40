package hydraulics

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A channel with no way out runs over where its bank is lower than the drain's water,
// and else fills level with it.
func TestADeadEndFillsLevelWithItsDrainOrRunsOver(t *testing.T) {
	for _, c := range []struct {
		bank  float64 // of the ground about the channel [m]
		full  string
		still string
	}{
		{20, "", "fills level with the drain, at 19.80 m, and stands"},
		{19.7, "fills to 19.70 m and runs over the bank", ""},
	} {
		s := siteOf(60, 60, func(p orb.Point) float64 {
			z := 20 - .001*p[1]
			switch {
			case math.Abs(p[0]-10) < 1:
				return z - .5
			case p[0] > 13:
				return c.bank
			}
			return z
		})
		add(s, plan.Drain, line(10, 2, 10, 58), "depth", .5, "water_depth", .33, "bed_width", .6)
		add(s, plan.Channel, line(10, 30, 50, 30), "bed_start", 19.2, "bed_end", 19.1)
		r := flowing(t, s)
		held := ""
		for _, w := range r.Withheld {
			held += w.Error()
		}
		if c.full != "" && (!strings.Contains(held, c.full) || !math.IsNaN(r.Inflows[0].Flow)) {
			t.Errorf("with banks at %v m it says %q", c.bank, held)
		}
		if c.still != "" && (len(r.Reaches) == 0 || !strings.Contains(r.Reaches[0].Still, c.still) || r.Inflows[0].Flow != 0) {
			t.Errorf("with banks at %v m it says %q and %+v", c.bank, held, r.Reaches)
		}
	}
}

// A bed above the ground holds nothing; one that comes out of it at its end only runs
// out there, over no bank.
func TestABedAboveTheGroundIsWithheldAndAnEndThatDaylightsIsNoBank(t *testing.T) {
	out := func(fall float64) *plan.Site {
		s := siteOf(140, 40, func(p orb.Point) float64 { return 20 - fall*p[0] })
		add(s, plan.Channel, line(10, 20, 110, 20), "bed_width", 1.0, "bed_start", 19.0, "bed_end", 18.8, "flow", 60.0)
		return s
	}
	r := flowing(t, out(.03)) // the ground meets the bed 37 m along
	if len(r.Withheld) != 1 || len(r.Reaches) != 0 || !strings.Contains(r.Withheld[0].Error(), "above the ground beside it, from 26.0 to 99.0 m") {
		t.Errorf("a bed in the air: %+v", r.Withheld)
	}
	r = given(t, out(1.2/110+.0001))
	last := r.Reaches[0].Stations[len(r.Reaches[0].Stations)-1]
	if found(r, OverBank) != nil || found(r, SpreadsOut) == nil || !math.IsNaN(last.Freeboard) || math.IsNaN(r.Reaches[0].Stations[0].Freeboard) {
		t.Errorf("an end that daylights: %+v, at the end %+v", r.Findings, last)
	}
	levels := r.Levels()
	within(t, "the level handed on", levels[0].Level, r.Reaches[0].Stations[0].Level, 1e-12)
}

func TestWithoutAWayInOrOut(t *testing.T) {
	s := site(60, 40)
	add(s, plan.Channel, line(5, 20, 50, 20), "bed_start", 9.6, "bed_end", 9.5)
	add(s, plan.Spillway, at(50, 20), "crest", 9.8, "width", 1.0)
	if r := flowing(t, s); len(r.Withheld) != 1 || !strings.Contains(r.Withheld[0].Error(), "no drain gives it water") || len(r.Reaches) != 0 {
		t.Errorf("without a way in there are %+v", r)
	}
	s = site(60, 40)
	add(s, plan.Channel, line(5, 20, 50, 20), "bed_start", 9.6, "bed_end", 9.5, "flow", 10.0)
	r := flowing(t, s)
	if len(r.Reaches) != 0 || len(r.Withheld) != 1 || !math.IsNaN(r.Inflows[0].Flow) ||
		!strings.Contains(r.Withheld[0].Error(), "fills to 10.00 m and runs over the bank there") {
		t.Errorf("without a way out there is %+v", r)
	}
	s.Plan.Features[0] = s.Plan.Features[0].With("flow", plan.Value{Number: 0})
	if a := given(t, s).Reaches[0]; a.Flow != 0 || a.Still != "nothing is let into Channel 1, so its water stands" || a.Stations[0].Velocity != 0 || !(a.Stations[0].Depth > .2) {
		t.Errorf("with nothing let in there is %+v", a)
	}
}

// A drain that a channel crosses in its middle fills both its legs, which are level with
// it where they end blind.
func TestADrainThatIsCrossedIsAWayIn(t *testing.T) {
	s := siteOf(60, 60, func(p orb.Point) float64 {
		if math.Abs(p[0]-30) < 1 {
			return 19.5 - .001*p[1]
		}
		return 20
	})
	add(s, plan.Drain, line(30, 2, 30, 58), "depth", .5, "water_depth", .33, "bed_width", .6)
	add(s, plan.Channel, line(15, 30, 45, 30), "bed_start", 19.2, "bed_end", 19.2)
	r := flowing(t, s)
	if len(r.Inflows) != 1 || r.Inflows[0].Drain != 1 || r.Inflows[0].Flow != 0 || len(r.Withheld) != 0 {
		t.Fatalf("it is let in %+v, and withheld %v", r.Inflows, r.Withheld)
	}
	for _, reach := range r.Reaches {
		if !strings.Contains(reach.Still, "fills level with the drain, at 19.80 m, and stands") {
			t.Errorf("a leg is %q", reach.Still)
		}
	}
	if len(r.Reaches) != 2 {
		t.Errorf("it has %d legs", len(r.Reaches))
	}
}
