package season

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"runnel/analysis/pool"
	"runnel/analysis/soil"
	"runnel/geo"
	"runnel/geo/plan"
)

var none = math.NaN()

// trapezoid is a pool along a channel of a bed, side slopes [H:V], a length and a depth [m], on a
// soil of some conductivity [mm/h] without suction, in so many stages. Nothing feeds it.
func trapezoid(bed, side, length, depth float64, stages int) pool.Pool {
	p := pool.Pool{Title: "Channel 1", Running: none, Rest: none, Table: none, Supply: math.Inf(1)}
	p.Soil.Ksat = geo.Range{Low: 1, Likely: 4, High: 12}
	for i := range stages {
		y := depth * float64(i) / float64(stages-1)
		p.Stages = append(p.Stages, pool.Stage{
			Level: y, Volume: (bed + side*y) * y * length,
			Contact: (bed + 2*y*math.Hypot(1, side)) * length, Surface: (bed + 2*side*y) * length,
		})
	}
	return p
}

// steady are the usual factors of an input but for clogging, of which there is none.
func steady(in Input) Factors {
	f := UsualFactors(in)
	f.Clogging = plan.Clogging{Remains: 1}
	return f
}

func model(t testing.TB, in Input) *Model {
	t.Helper()
	m, err := New(in)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func within(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g ± %g", what, got, want, tolerance)
	}
}

// weather makes days of rain [mm], evaporation and what roots take.
func weather(r *rand.Rand, days int) Input {
	in := Input{First: time.Date(1990+r.IntN(20), time.Month(1+r.IntN(12)), 1+r.IntN(28), 0, 0, 0, 0, time.UTC)}
	for d := range days {
		rain := 0.0
		if r.Float64() < 0.35 {
			rain = r.ExpFloat64() * 8
		}
		if r.Float64() < 0.01 {
			rain = none
		}
		warm := 3 - 2.5*math.Cos(2*math.Pi*float64(d)/365)
		in.Rain = append(in.Rain, rain)
		in.Evaporation = append(in.Evaporation, warm*r.Float64()*2)
		in.Roots = append(in.Roots, warm*r.Float64()*2)
	}
	return in
}

// randomSite is pools that pass water down, with random stages, outlets, drains and weather, and a
// draw of factors.
func randomSite(r *rand.Rand, days int) (Input, Factors) {
	in := weather(r, days)
	n := 1 + r.IntN(5)
	for i := range n {
		p := randomPool(r)
		for range r.IntN(3) {
			o := pool.Outlet{Kind: pool.OutletKind(r.IntN(4)), Title: "Way", To: -1, Width: r.Float64() * 2, Diameter: .1}
			o.Crest = p.Floor + (0.2+r.Float64())*(p.Top().Level-p.Floor)
			if i+1 < n && r.IntN(3) > 0 {
				o.To = i + 1 + r.IntN(n-i-1)
			}
			p.Outlets = append(p.Outlets, o)
		}
		in.Pools = append(in.Pools, p)
		if in.Runoff != nil || r.IntN(2) == 0 {
			in.Runoff = make([][]float64, n)
		}
	}
	for i := range in.Runoff {
		in.Runoff[i] = make([]float64, days)
		for d := range in.Runoff[i] {
			in.Runoff[i][d] = known(in.Rain[d]) * r.Float64()
		}
	}
	f := UsualFactors(in)
	f.Clogging = plan.Clogging{Remains: r.Float64(), Days: r.Float64() * 60, Recovery: r.Float64() * 60}
	f.Contact, f.Evaporation, f.Runoff, f.Deficit = .7+r.Float64(), r.Float64()*2, r.Float64()*2, r.Float64()*2
	for i := range n {
		f.Conductivity[i] = math.Exp(r.NormFloat64()*2 + 1)
	}
	if r.IntN(2) == 0 {
		f.Mound = randomMound(r, n)
	}
	return in, f
}

func randomPool(r *rand.Rand) pool.Pool {
	p := pool.Pool{Title: "Pool", Running: none, Rest: none, Supply: math.Inf(1), Floor: 100 + r.Float64()}
	s := pool.Stage{Level: p.Floor}
	if r.IntN(2) == 0 {
		s.Contact = r.Float64() * 50
		s.Surface = s.Contact
	}
	p.Stages = append(p.Stages, s)
	for range 1 + r.IntN(30) {
		s.Level += 0.005 + r.Float64()*.05
		s.Volume += r.Float64() * 5
		s.Contact += r.Float64() * 10
		s.Surface += r.Float64() * 9
		if r.IntN(10) == 0 {
			s.Contact *= 0.9 // a wall that ends: less is wet above
		}
		p.Stages = append(p.Stages, s)
	}
	deep := p.Top().Level - p.Floor
	if r.IntN(3) > 0 {
		p.Running = p.Floor + r.Float64()*1.1*deep
		p.RunDays.Likely = r.Float64() * 120
		if r.IntN(2) == 0 {
			p.Supply = r.ExpFloat64() * 1e-4
		}
		if r.IntN(3) > 0 {
			p.Rest = p.Floor + r.Float64()*(p.Running-p.Floor)
		}
	}
	p.Soil = soil.Soil{Suction: r.Float64() * 300, Deficit: r.Float64() * .4, Ksat: geo.Range{Likely: 3}}
	return p
}

func randomMound(r *rand.Rand, n int) *Mound {
	g := &Mound{Days: []float64{3, 20, 200}}
	for i := range n {
		g.Room = append(g.Room, r.Float64()*2-.2)
		g.Rise = append(g.Rise, nil)
		for j := range n {
			rise := []float64{r.Float64() * .01, r.Float64() * .003, r.Float64() * .001}
			if i != j {
				for k := range rise {
					rise[k] *= .3
				}
			}
			g.Rise[i] = append(g.Rise[i], rise)
		}
	}
	return g
}
