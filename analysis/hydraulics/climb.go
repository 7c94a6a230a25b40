package hydraulics

import (
	"math"
	"slices"

	"runnel/analysis/channel"
)

// A way is the stations of a link with the roughness of its lining.
type way struct {
	stations []channel.LinkStation
	n        float64
}

// A state is the water at a station.
type state struct {
	// depth is above the bed on the line [m].
	depth float64
	// critical is set where no subcritical depth has the head that is needed: the
	// water passes through critical depth there or runs supercritical.
	critical bool
}

// against returns the stations in the order in which a way is climbed against a
// flow: from the last for one that runs to it.
func (w *way) against(flow float64) []channel.LinkStation {
	if flow >= 0 {
		list := slices.Clone(w.stations)
		slices.Reverse(list)
		return list
	}
	return w.stations
}

// climb goes up a way against a flow [m³/s], which is positive from the first
// station to the last, by the standard step ([Chow1959] section 10-4): from the head
// below it [m], velocity head and all, to that above. Where states are asked for they
// get the water at each station in the order of the climb. Something has to flow.
func (w *way) climb(flow, tail float64, keep func(state)) float64 {
	q, dir, i := math.Abs(flow), -1, len(w.stations)-1
	if flow < 0 {
		dir, i = 1, 0
	}
	below := &w.stations[i]
	now := outfall(below, q, tail)
	for {
		if keep != nil {
			keep(now)
		}
		if i += dir; i < 0 || i == len(w.stations) {
			return below.Bed + SpecificEnergy(below.Section, now.depth, q)
		}
		here := &w.stations[i]
		now = w.step(below, here, q, now.depth)
		below = here
	}
}

// bar returns the level that still water has to reach to pass along a way [m].
func (w *way) bar() float64 {
	high := math.Inf(-1)
	for i := range w.stations {
		high = max(high, w.stations[i].Bed+lowest(&w.stations[i].Section))
	}
	return high
}

// outfall is the water at the foot of a way, with the head that there is below it, but
// no less than critically deep.
func outfall(s *channel.LinkStation, q, tail float64) state {
	p := stepping{at: s, q: q, need: tail - s.Bed}
	return p.solve(tail - s.Bed)
}

// A stepping looks for the depth at a station whose head is that of the station
// below it and what is lost between the two. The loss is that of the mean of their
// conveyances, which stays true where shallow water falls over an edge.
type stepping struct {
	at *channel.LinkStation
	// q is the flow [m³/s], n Manning's, far the distance [m], below nought against
	// the climb.
	q, n, far float64
	// need is the head above the bed without the loss [m], conveys the conveyance of
	// the station that is known [m³/s].
	need, conveys float64
}

// excess returns how far the head at a depth lies above what is needed [m], and how
// fast that grows with the depth, but for the part of the wetted perimeter in it.
func (p *stepping) excess(y float64) (over, slope, froude float64) {
	s := &p.at.Section
	area, width := s.Area(y), s.TopWidth(y)
	v := p.q / area
	froude = v * v * width / (Gravity * area)
	over, slope = y+v*v/(2*Gravity)-p.need, 1-froude
	if p.far != 0 {
		r := math.Cbrt(area / s.WettedPerimeter(y))
		k := area * r * r / p.n
		mean := 2 * p.q / (k + p.conveys)
		loss := p.far * mean * mean
		over, slope = over-loss, slope+10.0/3*loss*width/area*k/(k+p.conveys)
	}
	return over, slope, froude
}

// step returns the water at a station from that at the one below it.
func (w *way) step(below, here *channel.LinkStation, q, depth float64) state {
	p := stepping{at: here, q: q, n: w.n, far: math.Abs(here.Along - below.Along), conveys: Conveyance(below.Section, depth, w.n)}
	p.need = below.Bed - here.Bed + SpecificEnergy(below.Section, depth, q)
	return p.solve(below.Bed - here.Bed + depth)
}

// solve returns the subcritical depth that has the head that is needed, looked for
// from a depth [m], or critical depth where none has so little.
func (p *stepping) solve(from float64) state {
	if y, ok := p.descend(from); ok {
		return state{depth: y}
	}
	critical, _ := CriticalDepth(p.at.Section, p.q)
	excess := func(y float64) float64 { over, _, _ := p.excess(y); return over }
	if !(excess(critical) < 0) {
		return state{critical, true}
	}
	high := critical + 1
	for excess(high) < 0 && high < deepest {
		high += high - critical
	}
	return state{depth: root(excess, critical, high)}
}

// descend goes from a depth to the one that is looked for by Newton's way; ok is
// false where that is not plainly subcritical.
func (p *stepping) descend(y float64) (depth float64, ok bool) {
	low := lowest(&p.at.Section)
	for range 40 {
		if !(y > low) {
			return 0, false
		}
		over, slope, froude := p.excess(y)
		if !(froude < 0.95) {
			return 0, false
		}
		change := over / slope
		y -= change
		if math.Abs(change) <= 2e-15*math.Abs(y) {
			return y, y > low
		}
	}
	return 0, false
}

// shoot puts the depths of supercritical flow in the place of critical ones, along
// stations and states that go with the flow: from each place where the water passes
// through critical depth down to where it no longer runs supercritical.
func (w *way) shoot(stations []channel.LinkStation, states []state, q float64) {
	for i := 1; i < len(states); i++ {
		if !states[i-1].critical || !states[i].critical {
			continue
		}
		above, here := &stations[i-1], &stations[i]
		p := stepping{at: here, q: q, n: w.n, far: -math.Abs(here.Along - above.Along), conveys: Conveyance(above.Section, states[i-1].depth, w.n)}
		p.need = above.Bed - here.Bed + SpecificEnergy(above.Section, states[i-1].depth, q)
		excess := func(y float64) float64 { over, _, _ := p.excess(y); return over }
		low, high := lowest(&here.Section), states[i].depth
		if floor := low + (high-low)*1e-3; excess(high) < 0 && excess(floor) > 0 {
			states[i].depth = root(excess, floor, high)
		}
	}
}
