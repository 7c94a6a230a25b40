package season

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/pool"
	"runnel/analysis/soil"
	"runnel/geo"
)

// scheme is some pools one below another, each with a drain, a sill to the next, and thirty stages.
func scheme(pools int) []pool.Pool {
	var all []pool.Pool
	for i := range pools {
		p := trapezoid(.6, 1.5, 60, .5, 30)
		p.Running, p.Rest, p.RunDays = .35, .1, geo.Range{Low: 14, Likely: 30, High: 60}
		p.Soil = soil.Soil{Ksat: geo.Range{Low: 1, Likely: 3.4, High: 13}, Suction: 89, Deficit: .3}
		to := i + 1
		if to == pools {
			to = -1
		}
		p.Outlets = []pool.Outlet{{Kind: pool.Sill, Crest: .4, Width: 1, To: to}}
		all = append(all, p)
	}
	return all
}

func wetYears(days int) Input {
	in := weather(rand.New(rand.NewPCG(1, 1)), days)
	for d := range in.Rain {
		in.Rain[d] = known(in.Rain[d])
	}
	return in
}

// Thirty years of a scheme of five pools, with runoff and groundwater: 50 ms at most.
func BenchmarkThirtyYears(b *testing.B) {
	in := wetYears(30 * 365)
	in.Pools = scheme(5)
	for range in.Pools {
		runoff := make([]float64, len(in.Rain))
		for d, rain := range in.Rain {
			runoff[d] = math.Max(0, rain-5) * .3
		}
		in.Runoff = append(in.Runoff, runoff)
	}
	m := model(b, in)
	f := UsualFactors(in)
	f.Mound = randomMound(rand.New(rand.NewPCG(1, 1)), 5)
	for i := range f.Mound.Room {
		f.Mound.Room[i] = 3
	}
	b.ReportAllocs()
	for b.Loop() {
		m.Run(f)
	}
}

// One draw: a year of three pools. 150 µs at most, and no memory.
func BenchmarkADraw(b *testing.B) {
	in := wetYears(365)
	in.Pools = scheme(3)
	m := model(b, in)
	f := UsualFactors(in)
	var sum Sum
	b.ReportAllocs()
	for b.Loop() {
		m.RunSum(f, &sum)
	}
}
