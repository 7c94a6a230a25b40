package season

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// gap is by how much a sum does not balance, and what comes in.
func gap(s Sum) (float64, float64) {
	in := s.Drain + s.Runoff + s.Rain + s.Received
	return in - s.Soaked - s.Evaporated - s.Spilled - s.RanBack - s.Change, in
}

// All water that comes to a site is somewhere, to a milliard of it, in all pools, years and months.
func TestBalanceClosesOnRandomSites(t *testing.T) {
	var limited, ranBack, spilled, early, left int
	for seed := range uint64(500) {
		r := rand.New(rand.NewPCG(seed, 7))
		in, f := randomSite(r, 200+r.IntN(900))
		if seed%10 == 0 {
			in.Levels = make([]float64, len(in.Rain))
			for d := range in.Levels {
				in.Levels[d] = 100 + 2*r.Float64()
				if r.IntN(3) == 0 {
					in.Levels[d] = none
				}
			}
		}
		if seed%11 == 0 {
			for d := range in.Rain {
				if in.First.AddDate(0, 0, d).Year() == in.First.Year()+1 {
					in.Rain[d] = none
				}
			}
		}
		got := model(t, in).Trace(f)
		check := func(what string, s Sum, all float64) {
			off, came := gap(s)
			if !(math.Abs(off) <= 1e-9*max(came, all)) {
				t.Fatalf("seed %d, %s: %g of %g m³ are lost", seed, what, off, came)
			}
			if s.Soaked < 0 || s.Evaporated < 0 || s.Drain < 0 || s.Spilled < -1e-9*max(came, all) || s.RanBack < 0 || s.Early < 0 || s.Early > s.Soaked {
				t.Fatalf("seed %d, %s: water flows the wrong way: %+v", seed, what, s)
			}
			within(t, "recharge", s.Recharge, s.Soaked-s.Roots-s.RootChange, 1e-9*max(1, s.Soaked))
		}
		_, all := gap(got.Total)
		check("total", got.Total, 0)
		for i, s := range got.Pools {
			check("pool", s, 0)
			for _, day := range got.Days[i] {
				if day.Volume < 0 || day.Volume > in.Pools[i].Top().Volume*(1+1e-12) {
					t.Fatalf("seed %d: a pool holds %g m³ of %g", seed, day.Volume, in.Pools[i].Top().Volume)
				}
			}
		}
		var years Sum
		for _, y := range got.Years {
			if y.Unknown == y.Days {
				left++
				continue
			}
			check("year", y.Sum, all)
			years.add(&y.Sum)
		}
		within(t, "the years together", years.Soaked, got.Total.Soaked, 1e-9*all)
		for k, c := range []float64{got.Total.Limited, got.Total.RanBack, got.Total.Spilled, got.Total.Early} {
			if c > 0 {
				*[]*int{&limited, &ranBack, &spilled, &early}[k]++
			}
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	if min(limited, ranBack, spilled, early) < 50 || left == 0 {
		t.Errorf("the sites are too tame: of 500, %d limited, %d ran back, %d spilled, %d early; %d years left out", limited, ranBack, spilled, early, left)
	}
}

// A run answers the same whatever ran before it, on a clone and with a trace.
func TestRunsAreAlike(t *testing.T) {
	for seed := range uint64(20) {
		in, f := randomSite(rand.New(rand.NewPCG(seed, 1)), 800)
		_, other := randomSite(rand.New(rand.NewPCG(seed, 1)), 800)
		other.Contact *= 2
		m := model(t, in)
		first := m.Run(f).Total
		m.Run(other)
		if again := m.Run(f).Total; again != first {
			t.Fatalf("seed %d: %+v, then %+v", seed, first, again)
		}
		if traced := m.Trace(f).Total; traced != first {
			t.Fatalf("seed %d: %+v with a trace, %+v without", seed, traced, first)
		}
		var sum Sum
		if m.Clone().RunSum(f, &sum); sum != first {
			t.Fatalf("seed %d: a clone has %+v for %+v", seed, sum, first)
		}
	}
}

// The order in which pools are listed makes no difference.
func TestOrderOfPoolsMakesNoDifference(t *testing.T) {
	for seed := range uint64(50) {
		r := rand.New(rand.NewPCG(seed, 2))
		in, f := randomSite(r, 500)
		n := len(in.Pools)
		place := r.Perm(n)
		turned, g := in, f
		turned.Pools = slices.Clone(in.Pools)
		g.Conductivity, g.RunDays = slices.Clone(f.Conductivity), slices.Clone(f.RunDays)
		turned.Runoff = slices.Clone(in.Runoff)
		if f.Mound != nil {
			f.Mound, g.Mound = nil, nil
		}
		for i, p := range in.Pools {
			p.Outlets = slices.Clone(p.Outlets)
			for k, o := range p.Outlets {
				if o.To >= 0 {
					p.Outlets[k].To = place[o.To]
				}
			}
			turned.Pools[place[i]] = p
			g.Conductivity[place[i]], g.RunDays[place[i]] = f.Conductivity[i], f.RunDays[i]
			if in.Runoff != nil {
				turned.Runoff[place[i]] = in.Runoff[i]
			}
		}
		want, got := model(t, in).Run(f), model(t, turned).Run(g)
		for i := range in.Pools {
			within(t, "soaked", got.Pools[place[i]].Soaked, want.Pools[i].Soaked, 1e-9*(1+want.Pools[i].Soaked))
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}

// Two halves of a pool soak as the whole.
func TestHalvesOfAPool(t *testing.T) {
	in := weather(rand.New(rand.NewPCG(3, 3)), 900)
	whole, half := trapezoid(.6, 1.5, 50, .4, 20), trapezoid(.6, 1.5, 25, .4, 20)
	whole.Running, whole.Rest, whole.RunDays.Likely = .3, .1, 40
	half.Running, half.Rest, half.RunDays.Likely = .3, .1, 40
	in.Pools = append(in.Pools, whole)
	one := model(t, in).Run(UsualFactors(in)).Total
	in.Pools = nil
	in.Pools = append(in.Pools, half, half)
	two := model(t, in).Run(UsualFactors(in)).Total
	a, b := reflect.ValueOf(one), reflect.ValueOf(two)
	for k := range a.NumField() {
		within(t, a.Type().Field(k).Name, b.Field(k).Float(), a.Field(k).Float(), 1e-9*one.Soaked)
	}
	if one.Soaked == 0 || one.RanBack == 0 {
		t.Error("the pool is too tame")
	}
}
