package season

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/pool"
)

// slowly is the same season of one pool by very small steps of Euler's method, with the day's rate
// found by halving.
func slowly(in *Input, f *Factors, wettest float64) Sum {
	const steps = 4000
	p := &in.Pools[0]
	wetness := Wetness(in.Rain)
	var sum Sum
	v, taken, share := 0.0, 0.0, 1.0
	for d := range in.Rain {
		k := f.Conductivity[0] * meanShare(f, share)
		pull := p.Soil.Suction * p.Soil.Deficit * f.Deficit
		soak := (halved(k, pull, taken) - taken) / 1000
		inflow, evaporation := known(in.Rain[d])/1000*p.Top().Surface, in.Evaporation[d]/1000*f.Evaporation
		cap, runs := p.Outlets[0].Crest, !math.IsNaN(p.Running) && wetness[d] >= wettest
		hold := math.Inf(-1)
		switch {
		case runs:
			cap, hold = min(cap, p.Running), p.Running
		case !math.IsNaN(p.Rest):
			cap = min(cap, p.Rest)
		}
		most, wet := p.StageAt(cap).Volume, 0.0
		for range steps {
			if runs {
				sum.Drain += max(0, p.StageAt(hold).Volume-v)
				v = max(v, p.StageAt(hold).Volume)
			}
			at := p.StageHolding(v)
			sum.Rain += inflow / steps
			v += inflow / steps
			s, e := soak*f.Contact*at.Contact/steps, evaporation*at.Surface/steps
			part := 1.0
			if s+e > 0 {
				part = min(1, v/(s+e))
			} else if v == 0 {
				part = 0
			}
			sum.Soaked += part * s
			sum.Evaporated += part * e
			wet += part / steps
			v = max(0, v-part*(s+e))
			out := max(0, v-most)
			if cap == p.Outlets[0].Crest {
				sum.Spilled += out
			} else {
				sum.RanBack += out
			}
			v -= out
		}
		if inflow == 0 && !runs && v > 0 && v < p.StageAt(p.Floor+film).Volume {
			at, had := p.StageHolding(v), v
			s, e := soak*f.Contact*at.Contact, evaporation*at.Surface
			sum.Soaked += had * s / (s + e)
			sum.Evaporated += had * e / (s + e)
			v = 0
		}
		taken = (taken + wet*soak*1000) * math.Exp(-(1-wet)/f.Clogging.Recovery)
		share = f.Clogging.Remains + (share-f.Clogging.Remains)*math.Exp(-wet/f.Clogging.Days)
		share = 1 + (share-1)*math.Exp(-(1-wet)/f.Clogging.Recovery)
	}
	return sum
}

// meanShare is what clogging leaves in the mean of a day.
func meanShare(f *Factors, share float64) float64 {
	var sum float64
	for i := range 1000 {
		sum += f.Clogging.Remains + (share-f.Clogging.Remains)*math.Exp(-(float64(i)+.5)/1000/f.Clogging.Days)
	}
	return sum / 1000
}

func halved(k, pull, taken float64) float64 {
	low, high := taken, taken+24*k+2*math.Sqrt(pull*24*k)+pull
	for range 100 {
		if x := (low + high) / 2; x-taken-pull*math.Log((x+pull)/(taken+pull)) < 24*k {
			low = x
		} else {
			high = x
		}
	}
	return low
}

func TestSmallStepsAgree(t *testing.T) {
	for seed := range uint64(16) {
		r := rand.New(rand.NewPCG(seed, 5))
		in := weather(r, 90)
		p := randomPool(r)
		p.Supply = math.Inf(1)
		top := math.Max(p.Floor, known(p.Running))
		if math.IsNaN(p.Running) {
			top = p.Floor + .3*(p.Top().Level-p.Floor)
		} else if math.IsNaN(p.Rest) {
			p.Rest = p.Floor
		}
		p.Outlets = []pool.Outlet{{Kind: pool.Brim, Crest: min(top, p.Top().Level), To: -1}}
		in.Pools = []pool.Pool{p}
		for d := range in.Rain {
			in.Rain[d] = known(in.Rain[d])
		}
		f := UsualFactors(in)
		f.Conductivity[0] = math.Exp(r.NormFloat64())
		f.RunDays[0] = 365.25 / 9
		m := model(t, in)
		wettest := math.Inf(1)
		wetness := Wetness(in.Rain)
		for d, rank := range m.rank {
			if rank < 10 {
				wettest = min(wettest, wetness[d])
			}
		}
		got, want := m.Run(f).Total, slowly(&in, &f, wettest)
		_, all := gap(got)
		for _, c := range []struct {
			what      string
			got, want float64
		}{{"drain", got.Drain, want.Drain}, {"soaked", got.Soaked, want.Soaked}, {"evaporated", got.Evaporated, want.Evaporated},
			{"out", got.Spilled + got.RanBack, want.Spilled + want.RanBack}} {
			within(t, c.what, c.got, c.want, 2e-3*all)
		}
		if t.Failed() {
			t.Fatalf("seed %d: %+v", seed, p.Running)
		}
	}
}
