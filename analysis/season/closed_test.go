package season

import (
	"math"
	"testing"
	"time"

	"runnel/analysis/pool"
	"runnel/analysis/soil"
	"runnel/geo"
)

// dry is so many days without rain or evaporation, on the first of which a drain fills a pool.
func dry(p pool.Pool, days int) (Input, Factors) {
	in := Plain([]pool.Pool{p})
	in.Rain, in.Wetness = in.Rain[:days], in.Wetness[:days]
	f := steady(in)
	f.RunDays[0] = 365.25 / float64(days)
	return in, f
}

// A trapezoid of bed 0.6 m, sides 1.5, water 0.3 m deep, 50 m, at 0.30 m/day on its wetted
// perimeter loses 25.22 m³ a day: built from its definition.
func TestSeepageOfARunningDay(t *testing.T) {
	p := trapezoid(.6, 1.5, 50, .6, 7)
	p.Running, p.Rest = .3, 0
	in, f := dry(p, 1)
	f.Conductivity[0] = 300.0 / 24
	got := model(t, in).Run(f).Total
	within(t, "soaked", got.Soaked, 25.22, .01)
	within(t, "the drain brings it and what stands", got.Drain, 25.22+p.StageAt(.3).Volume, .01)
	within(t, "days run", got.Runs, 1, 0)
}

// Between vertical walls whose bed alone soaks, water goes down by the rate; closed form.
func TestDrawdownBetweenVerticalWalls(t *testing.T) {
	const rate, bed, deep = .06, 40.0, .5 // [m/day, m², m]
	p := trapezoid(1, 0, bed, deep, 6)
	for i := range p.Stages {
		p.Stages[i].Contact = bed
	}
	p.Running = deep
	in, f := dry(p, 20)
	f.Conductivity[0] = rate * 1000 / 24
	got := model(t, in).Trace(f)
	for d, day := range got.Days[0] {
		within(t, "volume", day.Volume, math.Max(0, deep-rate*float64(d))*bed, 1e-9)
	}
	within(t, "soaked", got.Total.Soaked, deep*bed+rate*bed, 1e-9)
	// It stands above the bed, 0.1 and 0.2 m for a day, and as many days as it takes to go down.
	for k, level := range []float64{0, .1, .2} {
		within(t, "days above a level", got.Standing[0][k]*20/365.25, 1+(deep-level)/rate, 1e-9)
	}
}

// Where contact grows in line with volume from c0, dV/dt = −f (c0 + c V): an exponential.
func TestDrawdownThatSlowsDown(t *testing.T) {
	const rate, c0, c = .05, 10.0, 2.0
	p := pool.Pool{Title: "Pool", Running: 1, Rest: none, Supply: math.Inf(1)}
	for _, v := range []float64{0, 3, 10, 20} { // stages cut the line and must not show
		p.Stages = append(p.Stages, pool.Stage{Level: v / 20, Volume: v, Contact: c0 + c*v, Surface: 20})
	}
	in, f := dry(p, 40)
	f.Conductivity[0] = rate * 1000 / 24
	got := model(t, in).Trace(f)
	for d, day := range got.Days[0] {
		v := (20+c0/c)*math.Exp(-rate*c*float64(d)) - c0/c
		if v < .02 {
			v = 0 // no more than a film
		}
		within(t, "volume", day.Volume, v, 1e-9)
	}
}

// What a first day takes is Green and Ampt's: Chow, Maidment and Mays, Applied hydrology,
// 1988, example 4.3.1, from memory, has 3.17 cm in an hour; a day of it solves the same equation.
func TestFirstDayIsGreenAmpt(t *testing.T) {
	p := trapezoid(2, 0, 10, .5, 3)
	p.Soil = soil.Soil{Suction: 167, Deficit: .34, Ksat: geo.Range{Likely: 6.5}}
	p.Running = .4
	in, f := dry(p, 1)
	got := model(t, in).Trace(f)
	taken := got.Days[0][0].Rate * 24
	pull := 167 * .34
	within(t, "K t", taken-pull*math.Log(1+taken/pull), 6.5*24, 1e-5)
	within(t, "early", got.Total.Early, got.Total.Soaked*(1-6.5*24/taken), 1e-9)
	f.Clogging.Remains, f.Clogging.Days = .5, 10
	in.Rain, in.Wetness = make([]float64, 300), make([]float64, 300)
	f.RunDays[0] = 365.25
	got = model(t, in).Trace(f)
	within(t, "rate in the end, half clogged", got.Days[0][299].Rate, 6.5/2, .2)
}

// A bed that lies on the water table takes in nothing, and the account says on how many days.
// Over a table that one exponential lowers, what soaks in the end is what that lets go.
func TestGroundwaterHoldsSoakingBack(t *testing.T) {
	p := trapezoid(.6, 1.5, 50, .5, 10)
	p.Running, p.Rest = .3, 0
	in, f := dry(p, 300)
	f.RunDays[0] = 365.25
	g := &Mound{Days: []float64{20}, Rise: [][][]float64{{{.01}}}, Room: []float64{0}}
	f.Mound = g
	got := model(t, in).Run(f).Total
	within(t, "soaked into a bed on the table", got.Soaked, 0, 0)
	within(t, "days", got.Limited, 300, 0)
	g.Room[0] = .8
	days := model(t, in).Trace(f)
	// Each day's soaking makes up for what the mound of 0.8/0.01 m³ has lost.
	within(t, "soaked a day in the end", days.Days[0][299].Soaked, 80*-math.Expm1(-1.0/20), 1e-9)
	if days.Total.Limited == 0 || days.Total.Limited == 300 {
		t.Errorf("limited on %g days", days.Total.Limited)
	}
	f.Mound = nil
	if free := model(t, in).Run(f).Total; free.Limited != 0 || free.Soaked <= days.Total.Soaked {
		t.Error("a table that is not known holds nothing back")
	}
}

// Roots draw on soaked water where no water stands: of 0.1 m over the brim's contact at most.
func TestRoots(t *testing.T) {
	p := trapezoid(.6, 1.5, 50, .5, 10)
	p.Running, p.Rest = .5, 0
	in, f := dry(p, 200)
	f.RunDays[0], f.Conductivity[0] = 365.25/200*10, 20
	in.Roots = make([]float64, 200)
	for d := range in.Roots {
		in.Roots[d] = 2
	}
	got := model(t, in).Run(f).Total
	brim := p.Top().Contact
	within(t, "roots", got.Roots, brim*rootStore, 1e-9) // 190 days of 2 mm would be 0.38 m
	within(t, "change", got.RootChange, -brim*rootStore, 1e-9)
	within(t, "recharge", got.Recharge, got.Soaked, 1e-9)
}

// A drain too weak to hold its level fills as far as it brings, and loses all that it brings.
func TestWeakDrain(t *testing.T) {
	p := trapezoid(.6, 1.5, 50, .5, 10)
	p.Running, p.Rest, p.Supply = .4, .05, 1.0/daySeconds
	in, f := dry(p, 30)
	f.RunDays[0], f.Conductivity[0] = 365.25, 20
	got := model(t, in).Run(f).Total
	within(t, "brought", got.Drain, 30, 1e-9)
	within(t, "soaked", got.Soaked+got.Change, 30, 1e-9)
	p.Supply = math.Inf(1)
	in, _ = dry(p, 30)
	if more := model(t, in).Run(f).Total; more.Soaked < 5*got.Soaked {
		t.Errorf("a strong drain has %g m³ soak, a weak one %g", more.Soaked, got.Soaked)
	}
}

// Levels that were read go before the rule, and on days without one the rule holds.
func TestLevelsThatWereRead(t *testing.T) {
	p := trapezoid(.6, 1.5, 50, .5, 10)
	p.Running, p.Rest = .3, .1
	in, f := dry(p, 4)
	f.RunDays[0], f.Conductivity[0] = 365.25, .001
	in.Levels = []float64{.2, none, .05, .5}
	got := model(t, in).Trace(f).Days[0]
	for d, want := range []float64{.2, .3, .1, .5} {
		within(t, "level", got[d].Level, want, 1e-3)
		if got[d].Runs != (d != 2) {
			t.Errorf("day %d: it runs: %v", d, got[d].Runs)
		}
	}
}

func TestUnknownDays(t *testing.T) {
	p := trapezoid(.6, 1.5, 50, .5, 10)
	in := Input{First: time.Date(2011, 11, 1, 0, 0, 0, 0, time.UTC), Pools: []pool.Pool{p}}
	for d := range 61 + 366 + 31 {
		in.Rain = append(in.Rain, 10)
		if d >= 61 && d < 61+366 || d == 3 {
			in.Rain[d] = none
		}
	}
	got := model(t, in).Trace(steady(in))
	if got.Unknown != 367 || got.Left != 1 || len(got.Years) != 3 || len(got.Months) != 2+12+1 || len(got.Days[0]) != len(in.Rain) {
		t.Errorf("unknown %d, left %d, %d years, %d months", got.Unknown, got.Left, len(got.Years), len(got.Months))
	}
	y := got.Years[1]
	if y.Year != 2012 || y.Days != 366 || y.Unknown != 366 || !math.IsNaN(y.Rain) || !math.IsNaN(y.Runs) || !math.IsNaN(got.Months[5].Soaked) || !math.IsNaN(got.Days[0][100].Volume) {
		t.Errorf("an unknown year has figures: %+v", y)
	}
	within(t, "rain", got.Total.Rain, (60+31)*.01*p.Top().Surface, 1e-9)
	if off, in := gap(got.Total); !(math.Abs(off) < 1e-9*in) {
		t.Errorf("%g of %g m³ are lost", off, in)
	}
}
