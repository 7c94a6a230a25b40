package season

import (
	"math"

	"runnel/analysis/soil"
)

// today is what a day brings to all pools: rain, evaporation and what roots would take [m].
type today struct {
	d                int
	rain, dry, roots float64
	// wet, runs and limited are set where they are of any pool.
	wet, runs, limited bool
}

// A state is a pool at the end of a day, and what it has come to in this month.
type state struct {
	v float64 // [m³]
	k int     // the segment that v is in
	// taken is what has soaked in since the wetting began [mm], share what clogging leaves of the rate.
	taken, share float64
	// store is what roots can draw on [m³].
	store float64
	// received is what pools above have passed to it today [m³].
	received float64
	// standing is how many days it has been in each segment.
	standing []float64
	// passes is what passes each outlet today where it is held above [m³].
	passes []float64
	month  Sum
	// atFirst and storeAtFirst are those at the month's start.
	atFirst, storeAtFirst float64
	// bad is set where nothing can be told of it.
	bad bool
	// rate [mm/h] and pull [mm] are those of its clean soil, runs for how many of the wettest days its drain runs.
	rate, pull float64
	runs       int32
}

// A drained is what a drain does to a pool in a day: whether it runs, and what the pool holds at its level.
type drained struct {
	runs        bool
	hold, level float64
}

// drain returns what a drain does to a pool today.
func (m *Model) drain(i int) drained {
	b := &m.basins[i]
	if !b.fed {
		return drained{}
	}
	if m.holds != nil {
		if hold := m.holds[i][m.today.d]; !math.IsNaN(hold) {
			level := m.in.Levels[m.today.d]
			if b.drain {
				level -= m.in.Bed
			}
			return drained{hold > known(b.rest), hold, level}
		}
	}
	return drained{m.rank[m.today.d] < m.states[i].runs, b.run, b.runLevel}
}

// day leads a pool through today.
func (m *Model) day(i int) {
	b, s, t := &m.basins[i], &m.states[i], &m.today
	rain, runoff := t.rain*b.area, 0.0
	if m.in.Runoff != nil {
		runoff = known(m.in.Runoff[i][t.d]) * m.draw.runoff
	}
	inflow, drain := rain+runoff+s.received, m.drain(i)
	if s.v == 0 && inflow == 0 && !drain.runs {
		m.lieDry(i)
		return
	}
	s.month.Rain += rain
	s.month.Runoff += runoff
	s.month.Received += s.received
	if drain.runs {
		s.month.Runs++
		t.runs = true
	}
	rate, steady := m.soaking(s)
	a := asked{v: s.v, k: s.k, inflow: inflow, soak: rate * m.draw.contact, dry: t.dry}
	f := m.bounded(i, &a, drain)
	if rate = a.soak / m.draw.contact; rate > steady {
		s.month.Early += f.soaked * (1 - steady/rate)
	}
	m.pass(i, &f)
	if max(s.v, f.v) > b.puddle {
		t.wet = true
		s.month.Wet++
	}
	s.settle(&f, &m.draw, rate)
	m.heap(i, f.soaked)
	m.drawRoots(i, &f)
	if m.result.Days != nil {
		m.note(i, m.traceOf(i, &f, Trace{In: inflow + f.drain, Runs: drain.runs}))
	}
}

// soaking returns the mean rate at which a pool would soak in today [m a day], and that
// which it would come down to.
func (m *Model) soaking(s *state) (rate, steady float64) {
	const hours, millimetres = 24, 1000
	conductivity := s.rate * m.draw.clogs.mean(s.share)
	taken := soil.Intake{Rate: conductivity, Pull: s.pull}.Cumulative(s.taken, hours)
	return (taken - s.taken) / millimetres, conductivity * hours / millimetres
}

// bounded follows a pool through today and, where groundwater would come up to its
// floor, finds the rate at which it just does not, and counts the day.
func (m *Model) bounded(i int, a *asked, d drained) dayFlow {
	s, limit := &m.states[i], m.headroom(i)
	if math.IsInf(limit, 1) {
		return m.follow(i, a, d, s.standing)
	}
	start := *a
	clear(m.trial)
	f := m.follow(i, a, d, m.trial)
	if f.soaked > limit {
		s.month.Limited++
		m.today.limited = true
	}
	for tries := 0; f.soaked > limit*(1+1e-9) && tries < 12; tries++ {
		start.soak *= max(0, limit/f.soaked)
		*a = start
		clear(m.trial)
		f = m.follow(i, a, d, m.trial)
	}
	for k := range s.standing {
		s.standing[k] += m.trial[k]
	}
	return f
}

// pass hands what leaves a pool over its outlets to the pools below.
func (m *Model) pass(i int, f *dayFlow) {
	b, s := &m.basins[i], &m.states[i]
	if f.spilled == 0 {
		return
	}
	if !f.held {
		if b.to >= 0 {
			m.states[b.to].received += f.spilled
		}
		return
	}
	for k := range b.ways {
		if w := &b.ways[k]; w.To >= 0 {
			m.states[w.To].received += s.passes[k]
		}
	}
}

// settle puts a day's flows to a pool's account and leaves it as it is at the day's end.
func (s *state) settle(f *dayFlow, d *draw, rate float64) {
	sum := &s.month
	sum.Drain += f.drain
	sum.Soaked += f.soaked
	sum.Evaporated += f.evaporated
	sum.Spilled += f.spilled
	sum.RanBack += f.ranBack
	s.v, s.k, s.received = f.v, f.k, 0
	s.taken += rate * f.wet * 1000
	if f.wet >= 1 {
		s.share = d.clogs.after(s.share)
		return
	}
	s.share, _ = soil.Clog(d.clogging, s.share, f.wet)
	s.share, _ = soil.Recover(d.clogging, s.share, 1-f.wet)
	s.taken *= d.keeps(1 - f.wet)
}

// lieDry leaves a pool without water for a day.
func (m *Model) lieDry(i int) {
	s, d := &m.states[i], &m.draw
	s.share = d.recovers.after(s.share)
	s.taken *= d.kept
	if s.store > 0 && m.today.roots > 0 {
		m.drawRoots(i, &dayFlow{})
	}
	if m.result.Days != nil {
		m.note(i, m.traceOf(i, &dayFlow{}, Trace{}))
	}
}

// drawRoots fills the store about roots with what soaked in, and draws on it where no
// water stands.
func (m *Model) drawRoots(i int, f *dayFlow) {
	b, s := &m.basins[i], &m.states[i]
	brim := b.contact * m.draw.contact
	s.store = min(rootStore*brim, s.store+f.soaked)
	drawn := min(s.store, m.today.roots*max(0, brim-f.contact*m.draw.contact))
	s.store -= drawn
	s.month.Roots += drawn
}
