package season

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/pool"
)

func TestWhatCannotBeWorkedOut(t *testing.T) {
	one := trapezoid(.6, 1.5, 50, .5, 10)
	flat := one
	flat.Stages = one.Stages[:1]
	loop := func() []pool.Pool {
		var all []pool.Pool
		for i := range 3 {
			p := one
			p.Outlets = []pool.Outlet{{Crest: .3, To: (i + 1) % 3}}
			all = append(all, p)
		}
		return all
	}
	lost := one
	lost.Outlets = []pool.Outlet{{Title: "Spillway 4", Crest: none, To: -1}}
	pools := []pool.Pool{one}
	for _, c := range []struct {
		in   Input
		says string
	}{
		{Input{}, "no day"},
		{Input{Rain: []float64{1}}, "no pool"},
		{Input{Rain: []float64{1, -1}, Pools: pools}, "rain of day 2 is -1"},
		{Input{Rain: []float64{1}, Evaporation: []float64{1, 2}, Pools: pools}, "2 of evaporation"},
		{Input{Rain: []float64{1}, Wetness: []float64{1, 2}, Pools: pools}, "wetness"},
		{Input{Rain: []float64{1}, Runoff: [][]float64{{1}, {1}}, Pools: pools}, "runoff for 2 pools"},
		{Input{Rain: []float64{1}, Runoff: [][]float64{{math.Inf(1)}}, Pools: pools}, "runoff to Channel 1"},
		{Input{Rain: []float64{1}, Pools: []pool.Pool{flat}}, "no depth"},
		{Input{Rain: []float64{1}, Pools: []pool.Pool{lost}}, "Spillway 4 of Channel 1 has no level"},
		{Input{Rain: []float64{1}, Pools: loop()}, "would come back"},
	} {
		_, err := New(c.in)
		if err == nil || !strings.Contains(err.Error(), c.says) || strings.Count(err.Error(), ". ") > 0 {
			t.Errorf("want one sentence with %q, got %v", c.says, err)
		}
	}
}

// A pool on soil of which nothing is known has no figures, nor have those below it; those
// above it have.
func TestConductivityThatIsNotKnown(t *testing.T) {
	for _, k := range []float64{0, -1, none, math.Inf(1)} {
		in := wetYears(400)
		in.Pools = scheme(3)
		f := steady(in)
		f.Conductivity[1] = k
		got := model(t, in).Run(f)
		if math.IsNaN(got.Pools[0].Soaked) || !math.IsNaN(got.Pools[1].Soaked) || !math.IsNaN(got.Pools[2].Soaked) ||
			!math.IsNaN(got.Total.Soaked) || !math.IsNaN(got.Years[0].Spilled) || !math.IsNaN(got.Standing[1][0]) || len(got.Withheld) != 2 {
			t.Errorf("conductivity %g: %+v", k, got.Withheld)
		}
	}
}

// Two pools that lie open to each other over one sill: the one that is fed fills the other, no
// higher than it stands itself.
func TestPoolsOpenToEachOther(t *testing.T) {
	a, b := trapezoid(.6, 1.5, 50, .5, 10), trapezoid(.6, 1.5, 50, .5, 10)
	a.Title, a.Running, a.Rest = "Upper", .35, 0
	a.Outlets = []pool.Outlet{{Kind: pool.Sill, Crest: .3, Width: 1, To: 1}}
	b.Outlets = []pool.Outlet{{Kind: pool.Sill, Crest: .3, Width: 1, To: 0}}
	for turn := range 2 {
		in := Plain([]pool.Pool{a, b})
		if turn == 1 {
			in.Pools = []pool.Pool{b, a}
			in.Pools[0].Outlets[0].To, in.Pools[1].Outlets[0].To = 1, 0
		}
		f := steady(in)
		f.RunDays = []float64{60, 60}
		got := model(t, in).Trace(f)
		level := got.Days[1-turn][50].Level
		if level < .3 || level > .36 {
			t.Errorf("the lower pool stands at %g m", level)
		}
		within(t, "what leaves", got.Total.Spilled, 0, 1e-9*got.Total.Drain)
	}
}

func TestTheWettestDaysRun(t *testing.T) {
	in := wetYears(3 * 365)
	in.Pools = scheme(1)
	f := steady(in)
	f.RunDays[0] = 30
	got := model(t, in).Trace(f)
	within(t, "days run", got.Total.Runs, math.Round(30*1095/365.25), 0)
	wetness := Wetness(in.Rain)
	driest, wettest := math.Inf(1), 0.0
	for d, day := range got.Days[0] {
		if day.Runs {
			driest = min(driest, wetness[d])
		} else {
			wettest = max(wettest, wetness[d])
		}
	}
	if driest < wettest {
		t.Errorf("it runs at a wetness of %g and not at %g", driest, wettest)
	}
	if got := Wetness([]float64{10, none, 0, 5}); math.Abs(got[3]-(5+7.29)) > 1e-12 {
		t.Errorf("wetness %v", got)
	}
}
