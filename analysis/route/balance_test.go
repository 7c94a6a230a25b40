package route

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/pool"
)

// All water of a storm is somewhere, to a milliard of it, on 500 random sites.
func TestBalanceClosesOnRandomSites(t *testing.T) {
	over, held := 0, 0
	for seed := range uint64(500) {
		in := randomStorm(rand.New(rand.NewPCG(seed, 11)))
		got := run(t, in)
		off := got.In + got.First - got.Soaked - got.Left - got.Last
		if !(math.Abs(off) <= 1e-9*max(1, got.In+got.First)) {
			t.Fatalf("seed %d: %g of %g m³ are lost", seed, off, got.In)
		}
		for i, p := range got.Pools {
			if p.Over {
				over++
			}
			if !math.IsNaN(in.Pools[i].Running) {
				held++
			}
			for _, level := range p.Level {
				if !(level >= in.Pools[i].Stages[0].Level-1e-9) || level > 200 {
					t.Fatalf("seed %d: a level of %g m", seed, level)
				}
			}
		}
	}
	if over < 50 || held < 50 {
		t.Errorf("the storms are too tame: %d pools run over, %d are held", over, held)
	}
}

// randomPool is one of n that passes water to any other.
func randomPool(r *rand.Rand, i, n int) pool.Pool {
	p := pool.Pool{Title: "Pool", Running: none, Rest: none, Supply: math.Inf(1)}
	s := pool.Stage{Level: 100 + r.Float64()*.3, Surface: r.Float64() * 20}
	s.Contact = s.Surface
	for range 2 + r.IntN(20) {
		p.Stages = append(p.Stages, s)
		rise := .02 + r.Float64()*.05
		s.Level, s.Volume = s.Level+rise, s.Volume+(s.Surface+.1)*rise
		s.Surface, s.Contact = s.Surface+r.Float64()*5, s.Contact+r.Float64()*6
	}
	low, high := p.Stages[0].Level, p.Top().Level
	if r.IntN(2) == 0 {
		p.Running, p.Rest = low+r.Float64()*(high-low), low
		p.Outlets = append(p.Outlets, pool.Outlet{Kind: pool.Mouth, Crest: low, Width: r.Float64() * 2, To: -1})
		if r.IntN(2) == 0 {
			p.Supply = r.ExpFloat64() * .01
		}
	}
	kinds := []pool.OutletKind{pool.Spillway, pool.Pipe, pool.Sill}
	for range r.IntN(3) {
		o := pool.Outlet{Kind: kinds[r.IntN(len(kinds))], Width: r.Float64() * 2, Diameter: .02 + r.Float64()*.2, To: -1}
		o.Crest = low + r.Float64()*(high-low)
		if n > 1 && r.IntN(3) > 0 {
			o.To = (i + 1 + r.IntN(n-1)) % n
		}
		p.Outlets = append(p.Outlets, o)
	}
	p.Outlets = append(p.Outlets, pool.Outlet{Kind: pool.Brim, Crest: high, Width: 10, To: -1})
	return p
}

// randomStorm is pools that pass water down and over sills both ways, and a storm.
func randomStorm(r *rand.Rand) Input {
	n := 1 + r.IntN(5)
	var pools []pool.Pool
	for i := range n {
		pools = append(pools, randomPool(r, i, n))
	}
	in := input(120+r.Float64()*240, 8, pools...)
	in.Clogged, in.Runs = r.Float64(), r.Float64()*6
	for i := range n {
		in.Conductivity[i] = r.ExpFloat64() * 20
		if r.IntN(2) == 0 {
			in.Start[i] = pools[i].Stages[0].Level + r.Float64()
		}
		for range r.IntN(60) {
			in.Inflow[i] = append(in.Inflow[i], r.ExpFloat64()*.02)
		}
	}
	for range r.IntN(60) {
		in.Rain = append(in.Rain, r.ExpFloat64())
	}
	return in
}
