package soakin_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/soakin"
	"runnel/assets/demo"
	"runnel/geo/plan"
	"runnel/geo/weather"
)

func tellsNot(a *soakin.Account, what string) bool {
	for _, w := range a.Withheld {
		if w.What == what && strings.HasSuffix(w.Why, ".") {
			return true
		}
	}
	return false
}

// spoilt returns the demo with some of its days changed.
func spoilt(days func(i int, d *weather.Day)) plan.Site {
	s := demo.Site()
	s.Weather.Days = slices.Clone(s.Weather.Days)
	for i := range s.Weather.Days {
		days(i, &s.Weather.Days[i])
	}
	return s
}

// What cannot be told is withheld in a sentence, is not known as a figure, and nothing is
// made up for it.
func TestWhatCannotBeToldIsWithheld(t *testing.T) {
	of := func(change func(*plan.Site)) func() plan.Site {
		return func() plan.Site {
			s := demo.Site()
			change(&s)
			return s
		}
	}
	for name, c := range map[string]struct {
		site   func() plan.Site
		what   string
		figure func(*soakin.Account) float64
	}{
		"no temperature": {func() plan.Site {
			return spoilt(func(_ int, d *weather.Day) { d.Low, d.High = math.NaN(), math.NaN() })
		}, "recharge", func(a *soakin.Account) float64 { return a.Mean.Recharge }},
		"no rain": {func() plan.Site {
			return spoilt(func(_ int, d *weather.Day) { d.Rain = math.NaN() })
		}, "mound", func(a *soakin.Account) float64 { return a.Mean.Soaked }},
		"a part of a year": {of(func(s *plan.Site) { s.Weather.Days = s.Weather.Days[:200] }), "year", func(a *soakin.Account) float64 { return a.Mean.Soaked }},
		"a storm of no shape": {of(func(s *plan.Site) {
			s.Setting.Distribution, s.Setting.StormTable = plan.OwnStorm, "0 0, 1 0.5"
		}), "storm", highest},
		"no storm":   {of(func(s *plan.Site) { s.Setting.Storm = 0 }), "storm", highest},
		"no prices":  {of(func(s *plan.Site) { s.Setting.Costs = plan.Costs{} }), "cost", func(a *soakin.Account) float64 { return a.Cost.Total }},
		"no aquifer": {of(func(s *plan.Site) { s.Setting.Aquifer.Yield = 0 }), "mound", nil},
		"a bed in the water table": {of(func(s *plan.Site) { s.Setting.Groundwater = 0.1 }), "season",
			func(a *soakin.Account) float64 { return a.Mean.Soaked }},
	} {
		s := c.site()
		a := account(t, &s, 1)
		if !tellsNot(a, c.what) || c.figure != nil && !math.IsNaN(c.figure(a)) {
			t.Errorf("%s: %q is told; withheld is %v", name, c.what, a.Withheld)
		}
		sp, err := soakin.SpreadOf(t.Context(), &s, a, 100)
		if err != nil || math.IsNaN(a.Mean.Recharge) && !math.IsNaN(sp.Recharge.Low) || len(sp.Rises) != len(a.Rises) {
			t.Errorf("%s: the range of the recharge is %v, of %d rises %v (%v)", name, sp.Recharge, len(a.Rises), sp.Rises, err)
		}
		columns, err := soakin.Beside(t.Context(), &s, []*soakin.Account{account(t, &s, 0), a}, 100)
		if err != nil || math.IsNaN(columns[1].MoreRecharge.Likely) && columns[1].MoreRecharge.Sure {
			t.Errorf("%s: what is not known is a sure difference (%v)", name, err)
		}
	}
}

func highest(a *soakin.Account) float64 {
	through, _ := a.Through()
	return through.Highest.Likely
}

// A year that lacks a few days is told, and that it does; one that lacks more is not.
func TestShortGapsAreFilledAndSaid(t *testing.T) {
	for _, c := range []struct{ lacks, years int }{{3, 10}, {8, 9}} {
		s := spoilt(func(i int, d *weather.Day) {
			if i >= 40 && i < 40+c.lacks {
				d.Low, d.Rain = math.NaN(), math.NaN()
			}
		})
		a := account(t, &s, 0)
		if len(a.Years) != c.years || !slices.ContainsFunc(a.Notes, func(n string) bool { return strings.Contains(n, "days") && strings.Contains(n, "record") }) {
			t.Errorf("lacking %d days, %d years are told; notes are %v", c.lacks, len(a.Years), a.Notes)
		}
	}
}

// The level of the drain that was read goes before the rule of the wettest days.
func TestTheDrainsLevelIsTakenAsItWasRead(t *testing.T) {
	dry := spoilt(func(_ int, d *weather.Day) { d.Level = 0 })
	full := spoilt(func(_ int, d *weather.Day) { d.Level = 84.14 })
	a, b := account(t, &dry, 1), account(t, &full, 1)
	if a.Mean.RunDays != 0 || b.Mean.RunDays < 365 || b.Mean.Soaked < 5*a.Mean.Soaked {
		t.Errorf("with a dry drain it runs on %v days and %v m³ soak in, with a full one on %v and %v m³", a.Mean.RunDays, a.Mean.Soaked, b.Mean.RunDays, b.Mean.Soaked)
	}
}

func TestASiteWithNoWaterHasNoSeason(t *testing.T) {
	s := demo.Site()
	var dry []plan.Feature
	for _, f := range s.Plan.Features {
		if f.Kind != plan.Drain && f.Kind != plan.Channel {
			dry = append(dry, f)
		}
	}
	s.Plan.Features = dry
	for _, a := range accounts(t, &s) {
		if !tellsNot(a, "season") || a.Storm.Likely.Pools != nil {
			t.Errorf("%s: %+v", a.Name, a.Withheld)
		}
	}
}

// Soil that takes nothing in withholds what rests on it.
func TestSoilOfNoConductivityIsWithheld(t *testing.T) {
	s := demo.Site()
	bound := s.Ground.Bound()
	zone := plan.Feature{ID: plan.ID(s.Plan.NextID()), Kind: plan.SoilZone, Geometry: bound.ToPolygon()}
	for _, field := range []string{"k_low", "k_likely", "k_high"} {
		zone = zone.With(field, plan.Value{Number: 0})
	}
	s.Plan.Features = append(s.Plan.Features, zone)
	for _, a := range accounts(t, &s) {
		if !math.IsNaN(a.Mean.Soaked) || !tellsNot(a, "season") || len(a.Notes) == 0 {
			t.Errorf("%s: %v m³ soak in; withheld is %v, notes %v", a.Name, a.Mean.Soaked, a.Withheld, a.Notes)
		}
		sp, err := soakin.SpreadOf(t.Context(), &s, a, 100)
		if err != nil || sp.Soaked.Likely > 0 {
			t.Errorf("%s: the range is %v (%v)", a.Name, sp.Soaked, err)
		}
	}
}
