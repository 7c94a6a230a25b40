package route

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/pool"
)

// slowly leads the same storm through pools in one chain by very small steps of Euler's method,
// and returns the highest levels and what soaks in.
func slowly(in *Input) ([]float64, float64) {
	const h = .1
	n := len(in.Pools)
	v, peaks, soaked := make([]float64, n), make([]float64, n), 0.0
	for step := range int(in.Longest * hour / h) {
		t := float64(step) * h
		change := make([]float64, n)
		for i := range in.Pools {
			p := &in.Pools[i]
			at := p.StageHolding(v[i])
			level := at.Level + max(0, v[i]-p.Top().Volume)/p.Top().Surface
			peaks[i] = max(peaks[i], level)
			for _, o := range p.Outlets {
				q := o.Flow(level, math.Inf(-1)) * h
				change[i] -= q
				if o.To >= 0 {
					change[o.To] += q
				}
			}
			k := int(t / in.Step)
			if k+1 < len(in.Inflow[i]) {
				part := t/in.Step - float64(k)
				change[i] += h * (in.Inflow[i][k]*(1-part) + in.Inflow[i][k+1]*part)
			}
			if k < len(in.Rain) {
				change[i] += h / in.Step * in.Rain[k] / 1000 * p.Top().Surface
			}
			soak := min(v[i]+change[i], at.Contact*in.Conductivity[i]/1000/hour*h)
			soaked += soak
			change[i] -= soak
		}
		for i := range v {
			v[i] += change[i]
		}
	}
	return peaks, soaked
}

func TestSmallStepsAgree(t *testing.T) {
	for seed := range uint64(5) {
		r := rand.New(rand.NewPCG(seed, 3))
		var pools []pool.Pool
		floor := 10.0
		for i := range 3 {
			p := tank(20+r.Float64()*50, .6)
			for k := range p.Stages {
				p.Stages[k].Level += floor
				p.Stages[k].Contact += float64(k) * 20
			}
			p.Outlets = []pool.Outlet{
				{Kind: pool.Spillway, Crest: floor + .3, Width: .3 + r.Float64(), To: i + 1},
				{Kind: pool.Pipe, Crest: floor + .1, Diameter: .08, To: -1},
				{Kind: pool.Brim, Crest: floor + .6, Width: 10, To: -1},
			}
			if i == 2 {
				p.Outlets[0].To = -1
			}
			pools = append(pools, p)
			floor -= 2 // so far down that no crest is drowned
		}
		in := input(60, 4, pools...)
		for i := range pools {
			in.Conductivity[i] = r.ExpFloat64() * 50
			for k := range 90 {
				in.Inflow[i] = append(in.Inflow[i], .08*r.Float64()*math.Sin(math.Pi*float64(k)/90))
			}
		}
		for range 90 {
			in.Rain = append(in.Rain, r.Float64())
		}
		got := run(t, in)
		peaks, soaked := slowly(&in)
		for i, p := range got.Pools {
			within(t, "highest", p.Peak, peaks[i], .002)
		}
		within(t, "soaked", got.Soaked, soaked, .002*soaked)
	}
}

// The order in which pools are listed makes no difference.
func TestOrderOfPoolsMakesNoDifference(t *testing.T) {
	for seed := range uint64(10) {
		in := randomStorm(rand.New(rand.NewPCG(seed, 4)))
		n := len(in.Pools)
		turned := input(in.Step, in.Longest, make([]pool.Pool, n)...)
		turned.Rain, turned.Runs, turned.Clogged = in.Rain, in.Runs, in.Clogged
		for i, p := range in.Pools {
			p.Outlets = append([]pool.Outlet(nil), p.Outlets...)
			for k, o := range p.Outlets {
				if o.To >= 0 {
					p.Outlets[k].To = n - 1 - o.To
				}
			}
			j := n - 1 - i
			turned.Pools[j], turned.Start[j], turned.Inflow[j], turned.Conductivity[j] = p, in.Start[i], in.Inflow[i], in.Conductivity[i]
		}
		want, got := run(t, in), run(t, turned)
		for i := range n {
			within(t, "highest", got.Pools[n-1-i].Peak, want.Pools[i].Peak, 1e-4)
		}
		within(t, "soaked", got.Soaked, want.Soaked, 1e-4*(1+want.Soaked))
	}
}
