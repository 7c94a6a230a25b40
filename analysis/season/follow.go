package season

import "math"

// A dayFlow is what a day does to a pool [m³].
type dayFlow struct {
	passage
	drain, spilled, ranBack, soaked, evaporated float64
	// held is set where it stood all day at the level of the drain.
	held bool
}

// follow leads a pool through a day at a rate of soaking. It adds to standing how long
// the water stood in each segment.
func (m *Model) follow(i int, a *asked, d drained, standing []float64) dayFlow {
	b := &m.basins[i]
	if !d.runs {
		a.cap = b.crest
		if b.rest < a.cap {
			a.cap, a.back = b.rest, true
		}
		return b.loose(a, 0, standing)
	}
	past := 0.0
	if d.hold > b.crest {
		if past = m.past(i, d.level); past == 0 {
			d.hold = b.crest
		}
	}
	contact, surface := b.areas(d.hold, a.k)
	lost := a.soak*contact + a.dry*surface + past
	if max(0, d.hold-a.v)+max(0, lost-a.inflow) > b.supply {
		a.cap, a.back = min(d.hold, b.crest), d.hold <= b.crest
		return b.loose(a, b.supply, standing)
	}
	f := dayFlow{held: true, spilled: past, soaked: a.soak * contact, evaporated: a.dry * surface}
	f.drain = max(0, d.hold-a.v) + max(0, lost-a.inflow)
	f.ranBack = max(0, a.v-d.hold) + max(0, a.inflow-lost)
	k := b.at(d.hold, a.k)
	f.passage = passage{v: d.hold, k: k, contact: contact, surface: surface, wet: 1, full: 1}
	standing[k]++
	return f
}

// loose leads a pool through a day that nothing holds at a level, with a supply from a
// drain that fills it at once as far as it can, and its cap from there on.
func (b *basin) loose(a *asked, supply float64, standing []float64) dayFlow {
	var f dayFlow
	over := max(0, a.v-a.cap)
	fill := min(supply, max(0, a.cap-a.v))
	a.v = min(a.v, a.cap) + fill
	if fill > 0 && fill < supply {
		a.v = a.cap
	}
	own, rest := a.inflow, supply-fill
	a.inflow += rest
	f.passage = b.pass(*a, standing)
	f.soaked, f.evaporated = a.soak*f.contact, a.dry*f.surface
	f.drain = supply
	if f.full > 0 {
		contact, surface := b.areas(a.cap, f.k)
		lost := a.soak*contact + a.dry*surface
		if a.back {
			f.drain -= f.full * min(rest, max(0, own+rest-lost))
			over += f.full * max(0, own-lost)
		} else {
			over += f.full * max(0, a.inflow-lost)
		}
	}
	if a.back {
		f.ranBack = over
	} else {
		f.spilled = over
	}
	if a.inflow == 0 && f.v > 0 && f.v < b.film {
		b.dryUp(a, &f)
	}
	return f
}

// dryUp lets a film go the way that its pool loses water at the last.
func (b *basin) dryUp(a *asked, f *dayFlow) {
	contact, surface := b.areas(f.v, f.k)
	soak, dry := a.soak*contact, a.dry*surface
	if soak+dry > 0 {
		f.soaked += f.v * soak / (soak + dry)
		f.evaporated += f.v * dry / (soak + dry)
		f.v, f.k = 0, 0
	}
}

// past finds what passes each outlet of a pool in a day when it is held at a level [m³], and
// returns the sum.
func (m *Model) past(i int, level float64) float64 {
	b, s := &m.basins[i], &m.states[i]
	var sum float64
	for k := range b.ways {
		w := &b.ways[k]
		s.passes[k] = 0
		if level <= w.Crest {
			continue
		}
		flow := w.flow
		if level != b.runLevel {
			flow = daySeconds * w.Flow(level, math.Inf(-1))
		}
		if w.To >= 0 && m.basins[w.To].crestLevel >= level {
			takes := m.takes(w.To, level)
			for j := range k {
				if b.ways[j].To == w.To {
					takes -= s.passes[j]
				}
			}
			flow = min(flow, max(0, takes))
		}
		s.passes[k] = flow
		sum += flow
	}
	return sum
}

// takes is what a pool can take in a day from one that is held at a level below all its own
// outlets [m³]: what fills it to there and makes good what it loses.
func (m *Model) takes(i int, level float64) float64 {
	b, s := &m.basins[i], &m.states[i]
	if s.bad {
		return math.Inf(1)
	}
	full := m.in.Pools[i].StageAt(level).Volume
	contact, surface := b.areas(full, s.k)
	rate, _ := m.soaking(s)
	return max(0, full-s.v-s.received) + rate*m.draw.contact*contact + m.today.dry*surface
}
