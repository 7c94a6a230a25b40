package propose

import (
	"math"

	"runnel/geo/plan"
)

// keeps checks the course that was tried last against the very things that are drawn,
// not against the fields that were made of them.
func (m *tester) keeps() bool {
	length := m.lineLength()
	for _, b := range m.bends {
		if b.radius < m.leastRadius(b.station) {
			return false
		}
	}
	if m.leastStrip() < m.q.Strip {
		return false
	}
	for i := range m.stations {
		s := &m.stations[i]
		if slackAbove(m.hard, s.at, far) < s.half {
			return false
		}
		if need := m.needed(s.along, length-s.along, s.half); len(m.world.near) > 0 && slackAbove(m.world.near, s.at, far) < need {
			return false
		}
	}
	return true
}

// describe tells of the course that was tried last how it keeps its limits.
func (m *tester) describe(p *Proposal) {
	p.Radius = math.Inf(1)
	for i := 1; i < len(p.Line)-1; i++ {
		p.Radius = min(p.Radius, circle(p.Line[i-1], p.Line[i], p.Line[i+1]))
	}
	for i := range m.stations {
		p.Depth = max(p.Depth, m.stations[i].deep())
	}
	p.Strip = m.leastStrip()
	half := 0.0
	for i := range m.stations {
		half = max(half, m.stations[i].half)
	}
	p.Leads = [2]float64{max(0, leaving*(half-m.start)), max(0, leaving*(half-m.finish))}
	for _, t := range m.crossed {
		p.Crossed = append(p.Crossed, t.id)
	}
	for _, f := range m.under {
		if m.digs(f) {
			p.Under = append(p.Under, f.ID)
		}
	}
	for i := range m.things {
		if t := &m.things[i]; t.kind != plan.NoKind && !m.crosses(t.id) {
			m.clear(p, t)
		}
	}
}

// digs reports whether the banks of the course lie on a planting or a path.
func (m *tester) digs(f plan.Feature) bool {
	bound := f.Geometry.Bound()
	for i := range m.stations {
		s := &m.stations[i]
		half := s.half + f.Width()/2
		if outside(bound, s.at) < half && plan.Distance(f.Geometry, s.at) < half {
			return true
		}
	}
	return false
}

func (m *tester) crosses(id plan.ID) bool {
	for _, t := range m.crossed {
		if t.id == id {
			return true
		}
	}
	return false
}

// clear takes in how near the course comes to a thing beyond its leads.
func (m *tester) clear(p *Proposal, t *thing) {
	length, least := m.lineLength(), math.Inf(1)
	for i := range m.stations {
		s := &m.stations[i]
		if s.along < p.Leads[0] || length-s.along < p.Leads[1] {
			continue
		}
		least = min(least, t.away(s.at)-s.half)
	}
	if math.IsInf(least, 1) {
		return
	}
	for i := range p.Clearances {
		if c := &p.Clearances[i]; c.Kind == t.kind {
			if least < c.Least {
				c.Least, c.ID = least, t.id
			}
			return
		}
	}
	p.Clearances = append(p.Clearances, Clearance{t.kind, t.id, least, t.limit})
}

// leastStrip is the least width of ground between the banks of two bends [m].
func (m *tester) leastStrip() float64 {
	least := math.Inf(1)
	for i := range m.stations {
		a := &m.stations[i]
		for k := i + 1; k < len(m.stations); k++ {
			b := &m.stations[k]
			need := a.half + b.half + m.q.Strip
			if b.along-a.along >= need*math.Pi/2 {
				least = min(least, math.Sqrt(square(a.at, b.at))-a.half-b.half)
			}
		}
	}
	return least
}
