package season

import (
	"fmt"
	"math"

	"runnel/analysis/soil"
	"runnel/geo/plan"
)

// An affine takes a share of the rate that is left to that of a day later, and to the mean
// over that day.
type affine struct{ after0, after1, mean0, mean1 float64 }

func (a *affine) after(share float64) float64 { return a.after0 + a.after1*share }
func (a *affine) mean(share float64) float64  { return a.mean0 + a.mean1*share }

// affineOf reads an affine off a rule of clogging over a whole day.
func affineOf(c plan.Clogging, rule func(c plan.Clogging, share, days float64) (after, mean float64)) affine {
	after0, mean0 := rule(c, 0, 1)
	after1, mean1 := rule(c, 1, 1)
	return affine{after0, after1 - after0, mean0, mean1 - mean0}
}

// A draw is what of the factors is the same for all pools and days.
type draw struct {
	contact, dry, runoff float64
	clogging             plan.Clogging
	clogs, recovers      affine
	// kept is how much of what soaked in is still in the soil after a dry day.
	kept  float64
	mound *Mound
}

// keeps returns how much of what soaked in is still in the soil after some dry days.
func (d *draw) keeps(days float64) float64 {
	if !(d.clogging.Recovery > 0) {
		return 0
	}
	return math.Exp(-days / d.clogging.Recovery)
}

const badLengths = "season: factors are not as many as the pools"

// start makes a model ready for a run.
func (m *Model) start(f *Factors) {
	if len(f.Conductivity) != len(m.basins) || len(f.RunDays) != len(m.basins) {
		panic(badLengths)
	}
	m.draw = draw{
		contact: f.Contact, dry: f.Evaporation, runoff: f.Runoff, clogging: f.Clogging, mound: f.Mound,
		clogs: affineOf(f.Clogging, soil.Clog), recovers: affineOf(f.Clogging, soil.Recover),
	}
	m.draw.kept = m.draw.keeps(1)
	m.startMound()
	m.result.Withheld = m.result.Withheld[:0]
	for i := range m.states {
		m.startPool(i, f)
	}
	for _, i := range m.order {
		for _, w := range m.basins[i].ways {
			if w.To >= 0 && m.states[i].bad && !m.states[w.To].bad {
				m.states[w.To].bad = true
				m.result.Withheld = append(m.result.Withheld, fmt.Sprintf("What %s soaks in cannot be told, for nothing can be told of %s above it.", m.basins[w.To].title, m.basins[i].title))
			}
		}
	}
}

func (m *Model) startPool(i int, f *Factors) {
	b, s := &m.basins[i], &m.states[i]
	clear(s.standing)
	brim := rootStore * b.contact * f.Contact
	*s = state{standing: s.standing, passes: s.passes, share: 1, store: brim, storeAtFirst: brim, rate: f.Conductivity[i]}
	s.pull = known(b.soil.Suction * b.soil.Deficit * f.Deficit)
	if b.fed {
		const days = 365.25
		s.runs = int32(math.Round(known(f.RunDays[i]) * float64(m.known) / days))
	}
	if !(s.rate > 0) || math.IsInf(s.rate, 0) {
		s.bad = true
		m.result.Withheld = append(m.result.Withheld, fmt.Sprintf("What %s soaks in cannot be told, for the conductivity of its soil is not known; give a soil or a test of it.", b.title))
	}
	if b.fed && math.IsNaN(f.RunDays[i]) {
		s.bad = true
		m.result.Withheld = append(m.result.Withheld, fmt.Sprintf("What %s soaks in cannot be told, for it is not known how many days a year its drain runs; give them.", b.title))
	}
}
