package route

import (
	"context"
	"math"
	"strings"
	"testing"

	"runnel/analysis/hydraulics"
	"runnel/analysis/pool"
)

const foot, cubicFoot = 0.3048, 0.3048 * 0.3048 * 0.3048

var none = math.NaN()

func within(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g ± %g", what, got, want, tolerance)
	}
}

// tank is a pool between upright walls: an area [m²] and a depth [m].
func tank(area, deep float64) pool.Pool {
	return pool.Pool{Title: "Tank", Running: none, Rest: none, Supply: math.Inf(1), Stages: []pool.Stage{
		{Contact: area, Surface: area}, {Level: deep, Volume: area * deep, Contact: area, Surface: area}}}
}

// input leads nothing through pools that nothing soaks from, and that are empty at first.
func input(step, hours float64, pools ...pool.Pool) Input {
	in := Input{Pools: pools, Step: step, Longest: hours, Clogged: 1}
	for range pools {
		in.Start = append(in.Start, none)
		in.Conductivity = append(in.Conductivity, 0)
		in.Inflow = append(in.Inflow, nil)
	}
	return in
}

func run(t testing.TB, in Input) Result {
	t.Helper()
	got, err := Run(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// Chow, Maidment and Mays, Applied hydrology, 1988, examples 8.2.1 and 8.2.2, from memory, as
// recomputed: an acre between upright walls, a pipe of 5 ft, ten minutes a step.
func TestLevelPoolTable(t *testing.T) {
	passes := []float64{0, 3, 8, 17, 30, 43, 60, 78, 97, 117, 137, 156, 173, 190, 205, 218, 231, 242, 253, 264, 275}
	inflow := []float64{0, 60, 120, 180, 240, 300, 360, 320, 280, 240, 200, 160, 120, 80, 40, 0}
	want := []float64{0, 2.4, 17.1, 61.1, 123.2, 182.2, 230.3, 259.3, 270.0, 267.4, 254.9, 235.2, 206.9, 168.5, 124.1, 79.8, 48.6, 32.7, 22.8, 16.2, 12.6}
	p := tank(43560*foot*foot, 10*foot)
	p.Outlets = []pool.Outlet{{Kind: pool.Pipe, To: -1}}
	in := input(600, 200.0/60, p)
	for _, q := range inflow {
		in.Inflow[0] = append(in.Inflow[0], q*cubicFoot)
	}
	r := newRouter(&in)
	r.ways[0].rating = func(level float64) float64 {
		x := min(max(0, level/foot*2), 20)
		k := min(int(x), 19)
		return (passes[k] + (x-float64(k))*(passes[k+1]-passes[k])) * cubicFoot
	}
	got, err := r.run(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for k, q := range want {
		within(t, "outflow [cfs]", got.Pools[0].Outflow[k]/cubicFoot, q, .2)
	}
	within(t, "highest [ft]", got.Pools[0].Peak/foot, 9.77, .01)
	within(t, "inflow [ft³]", got.In/cubicFoot, 1_620_000, 1)
}

// A tank of 10 m² empties through a hole of 50 mm from 0.5 m in 2710.6 s: built from the closed
// form 2A √h/(0.6 a √2g), of which the top half of a metre above the hole's middle is taken here.
func TestTankThroughAHole(t *testing.T) {
	p := tank(10, 2)
	p.Outlets = []pool.Outlet{{Kind: pool.Pipe, Diameter: .05, To: -1}}
	in := input(1, 2, p)
	in.Start[0] = .525
	got := run(t, in).Pools[0]
	for _, part := range []float64{.9, .5, .3} { // of √h
		k := int(math.Round(2710.6 * (1 - part)))
		within(t, "head on the hole", got.Level[k]-.025, .5*part*part, 2e-4)
	}
}

// Water soaks away between upright walls by the rate, and from a V whose contact goes with depth
// exponentially: closed forms.
func TestDrawdown(t *testing.T) {
	p := tank(40, .5)
	in := input(60, 100, p)
	in.Start[0], in.Conductivity[0], in.Clogged = .5, 20, .5
	got := run(t, in)
	for _, h := range []int{1, 10, 30} {
		within(t, "level", got.Pools[0].Level[h*60], .5-.01*float64(h), 1e-9)
	}
	within(t, "hours to empty", got.Pools[0].Empty, 50-.1, .01)
	within(t, "soaked", got.Soaked, 20, .05)
	for i := range p.Stages {
		p.Stages[i].Contact = 2 * p.Stages[i].Volume
	}
	in.Pools[0] = p
	got = run(t, in)
	within(t, "level after 30 h", got.Pools[0].Level[1800], .5*math.Exp(-.01*2*30), 1e-5)
}

// On a steady inflow a weir passes it, at the head of its formula.
func TestSteadyFlowOverAWeir(t *testing.T) {
	p := tank(10, 2)
	p.Outlets = []pool.Outlet{{Kind: pool.Spillway, Crest: .3, Width: .5, To: -1}, {Kind: pool.Brim, Crest: 1, Width: 20, To: -1}}
	in := input(60, 3, p)
	for range 181 {
		in.Inflow[0] = append(in.Inflow[0], .02)
	}
	got := run(t, in).Pools[0]
	within(t, "level", got.Level[150], .3+hydraulics.WeirHead(.5, .02), 1e-6)
	within(t, "freeboard", got.Freeboard, 1-got.Peak, 1e-12)
	if got.Over || len(got.Outlets) != 2 || got.Outlets[1].Volume != 0 {
		t.Errorf("it runs over: %+v", got.Outlets)
	}
	if !math.IsInf(got.Empty, 1) {
		t.Error("what stands below the crest of a pool that nothing soaks from goes nowhere")
	}
	for k := range in.Inflow[0] {
		in.Inflow[0][k] = 2
	}
	if got := run(t, in).Pools[0]; !got.Over || got.Freeboard >= 0 {
		t.Errorf("it does not run over at 2 m³/s: %+v", got.Freeboard)
	}
}

// Water comes level over a drowned sill from whichever side it comes, and stands there.
func TestSillPassesWaterEitherWay(t *testing.T) {
	for turn := range 2 {
		a, b := tank(50, 1), tank(50, 1)
		sill := pool.Outlet{Kind: pool.Sill, Crest: .2, Width: 1, ID: 7}
		a.Outlets, b.Outlets = []pool.Outlet{sill}, []pool.Outlet{sill}
		a.Outlets[0].To, b.Outlets[0].To = 1, 0
		in := input(60, 4, a, b)
		in.Start[turn], in.Start[1-turn] = .9, .1
		got := run(t, in)
		for i := range 2 {
			level := got.Pools[i].Level
			within(t, "level in the end", level[len(level)-1], .5, 1e-4)
		}
		within(t, "kept", got.Last, 50, 1e-9)
	}
}

// While a drain runs it holds a pool at its level, and what a storm adds leaves by the mouth;
// once it stops the pool empties from there.
func TestDrainHoldsItsPool(t *testing.T) {
	p := tank(50, 1)
	p.Running, p.Rest = .4, .1
	p.Outlets = []pool.Outlet{{Kind: pool.Mouth, Crest: .1, Width: 2, To: -1}}
	in := input(60, 30, p)
	in.Runs, in.Conductivity[0] = 10, 10
	in.Inflow[0] = make([]float64, 121)
	for k := range in.Inflow[0][60:] {
		in.Inflow[0][60+k] = .2
	}
	got := run(t, in)
	level := got.Pools[0].Level
	within(t, "level before the storm", level[50], .4, 1e-9)
	within(t, "level as the drain stops", level[600], .4, 1e-6)
	// Against 0.3 m of water on a mouth of 2 m: 0.2 = 2 × 0.3 √(2g Δ).
	within(t, "highest", got.Pools[0].Peak, .4+math.Pow(.2/.6, 2)/(2*hydraulics.Gravity), 1e-4)
	within(t, "level an hour on", level[660], .1-.01, .004)
	within(t, "hours to empty", got.Pools[0].Empty, 10, .3)
	in.Pools[0].Supply = 1e-4 // brings less than soaks in
	in.Inflow[0] = nil
	weak := run(t, in)
	within(t, "a weak drain brings", weak.In, 3.6, 1e-9)
}

func TestWhatCannotBeRouted(t *testing.T) {
	for says, change := range map[string]func(in *Input){
		"no pool":          func(in *Input) { in.Pools = nil },
		"cannot be":        func(in *Input) { in.Step = 0 },
		"clogging":         func(in *Input) { in.Clogged = 2 },
		"levels at first":  func(in *Input) { in.Start = nil },
		"the storm is NaN": func(in *Input) { in.Rain = []float64{none} },
		"holds nothing":    func(in *Input) { in.Pools[0].Stages = nil },
		"conductivity":     func(in *Input) { in.Conductivity[0] = -1 },
		"leads to no pool": func(in *Input) { in.Pools[0].Outlets = []pool.Outlet{{To: 3}} },
	} {
		in := input(60, 1, tank(1, 1))
		change(&in)
		if _, err := Run(context.Background(), in); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("want a sentence with %q, got %v", says, err)
		}
	}
	in := input(60, 1, tank(1, 1))
	in.Conductivity[0], in.Start[0] = none, 1
	if got := run(t, in); got.Soaked != 0 || !math.IsNaN(got.Pools[0].Empty) {
		t.Errorf("a soil that is not known: soaked %g, empty after %g h", got.Soaked, got.Pools[0].Empty)
	}
	gone, end := context.WithCancel(context.Background())
	end()
	if _, err := Run(gone, in); err == nil {
		t.Error("it does not give up")
	}
}

func BenchmarkStorm(b *testing.B) {
	var pools []pool.Pool
	for i := range 5 {
		p := tank(80, .5)
		p.Outlets = []pool.Outlet{{Kind: pool.Sill, Crest: .4, Width: 1, To: i + 1}, {Kind: pool.Brim, Crest: .5, Width: 5, To: -1}}
		if i == 4 {
			p.Outlets[0].Kind, p.Outlets[0].To = pool.Spillway, -1
		}
		pools = append(pools, p)
	}
	in := input(60, 72, pools...)
	for i := range in.Inflow {
		in.Conductivity[i] = 5
		for k := range 240 {
			in.Inflow[i] = append(in.Inflow[i], .01*math.Sin(math.Pi*float64(k)/240))
		}
	}
	for b.Loop() {
		run(b, in)
	}
}
