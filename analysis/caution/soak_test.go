package caution

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// fired are the rules that fire for some water.
func fired(k Soak, l Limits) []string {
	var rules []string
	for _, c := range CheckSoak(&plan.Site{Setting: plan.UsualSetting()}, 1, k, l) {
		rules = append(rules, c.Rule)
	}
	return rules
}

// Each rule fires just inside its limit and not just outside; the limits are those of
// UsualLimits with their sources, and nought turns a rule off.
func TestTheRulesOfStormsFireAtTheirLimits(t *testing.T) {
	l := UsualLimits()
	well := plan.Feature{ID: 7, Kind: plan.Well, Name: "Well", Geometry: orb.Point{}}
	house := plan.Feature{ID: 8, Kind: plan.Roof, Name: "House"}
	sound := StormPool{Title: "North arm", Lines: []plan.ID{1}, Depth: 0.2, Freeboard: 1, Empty: 10, Looked: 240}
	for _, c := range []struct {
		rule    string
		make    func(off float64) Soak
		turnOff func(*Limits)
	}{
		{"deep storm water", func(off float64) Soak {
			p := sound
			p.Depth = l.Depth + off
			return Soak{Pools: []StormPool{p}}
		}, func(l *Limits) { l.Depth = 0 }},
		{"storm freeboard", func(off float64) Soak {
			p := sound
			p.Freeboard = l.Freeboard - off
			return Soak{Pools: []StormPool{p}}
		}, func(l *Limits) { l.Freeboard = 0 }},
		{"slow after the storm", func(off float64) Soak {
			p := sound
			p.Empty = l.Drawdown + off
			return Soak{Pools: []StormPool{p}}
		}, func(l *Limits) { l.Drawdown = 0 }},
		{"mosquitoes after the storm", func(off float64) Soak {
			p := sound
			p.Empty = l.Mosquitoes + off
			return Soak{Pools: []StormPool{p}}
		}, func(l *Limits) { l.Mosquitoes = 0 }},
		{"street runoff near a well", func(off float64) Soak {
			return Soak{Streets: []StreetWater{{Title: "North arm", Area: 100, Well: well, Away: l.Street - off}}}
		}, func(l *Limits) { l.Street = 0 }},
		{"overflow toward a building", func(off float64) Soak {
			return Soak{Overflows: []Overflow{{Title: "North arm", Building: house, Away: l.Overflow - off}}}
		}, func(l *Limits) { l.Overflow = 0 }},
		{"rising groundwater", func(off float64) Soak {
			return Soak{Mounds: []Mound{{Place: house, Rise: l.Mound + off, Below: math.NaN()}}}
		}, func(l *Limits) { l.Mound = 0 }},
	} {
		if got := fired(c.make(0.001), l); !slices.Contains(got, c.rule) {
			t.Errorf("just inside the limit of %s there fires %q", c.rule, got)
		}
		if got := fired(c.make(-0.001), l); slices.Contains(got, c.rule) {
			t.Errorf("just outside the limit of %s it fires", c.rule)
		}
		off := l
		c.turnOff(&off)
		if got := fired(c.make(0.001), off); slices.Contains(got, c.rule) {
			t.Errorf("turned off, %s fires", c.rule)
		}
	}
}

func TestWaterThatNeverEmptiesIsSaidToStandLonger(t *testing.T) {
	p := StormPool{Title: "North arm", Depth: 0.2, Freeboard: 1, Empty: math.Inf(1), Looked: 240}
	for _, c := range CheckSoak(&plan.Site{}, 1, Soak{Pools: []StormPool{p}}, Limits{}) {
		if !strings.Contains(c.Measured, "more than 240 h") {
			t.Errorf("%s measured %q", c.Rule, c.Measured)
		}
	}
}

func TestABasementThatTheTableReachesIsSaidHoweverSmallTheRise(t *testing.T) {
	house := plan.Feature{ID: 8, Kind: plan.Roof, Name: "House"}
	got := CheckSoak(&plan.Site{}, 1, Soak{Mounds: []Mound{{Place: house, Rise: 0.1, Below: -0.05}}}, Limits{})
	if len(got) != 1 || !strings.Contains(got[0].Measured, "0.05 m above the floor") {
		t.Errorf("%+v", got)
	}
}

// The site's own limits go before the usual ones, and those that are asked for before both.
func TestTheLimitsOfTheSiteAreKept(t *testing.T) {
	s := &plan.Site{Setting: plan.Setting{Limits: Limits{Depth: 0.1}}}
	p := StormPool{Title: "North arm", Depth: 0.2, Freeboard: -1, Empty: 500, Looked: 600}
	got := CheckSoak(s, 1, Soak{Pools: []StormPool{p}}, Limits{})
	if len(got) != 1 || got[0].Rule != "deep storm water" || !strings.Contains(got[0].Guidance, "0.10 m") {
		t.Errorf("with the depth alone limited there fire %+v", got)
	}
	if got := CheckSoak(s, 1, Soak{Pools: []StormPool{p}}, Limits{Depth: 1}); len(got) != 0 {
		t.Errorf("asked with 1 m there fire %+v", got)
	}
}
