package hydraulics

import (
	"math"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// A sink is a way out of a part and the level that it needs for a flow [m].
type sink struct {
	Outflow
	node   int
	out    func(flow float64) float64
	oneWay bool
	// width is that of a spillway [m].
	width float64
}

// findSinks lists the ways out of a part: its spillways, the drains that it opens on
// below its ways in, and ends that run out onto the ground.
func (p *part) findSinks() {
	for _, k := range p.nodes {
		for _, s := range p.graph.Nodes[k].Spillways {
			p.sinks = append(p.sinks, sink{
				Outflow: Outflow{Kind: plan.Spillway, ID: s.ID, Title: s.Title, At: s.At, Crest: s.Crest},
				node:    k, oneWay: true, width: s.Width,
				out: func(flow float64) float64 { return s.Crest + WeirHead(s.Width, flow) },
			})
		}
		if p.graph.Nodes[k].Open && !p.isIn(k) {
			p.openEnd(k)
		}
	}
	for _, o := range p.outs {
		level := o.Water
		if p.full {
			level = o.Full
		}
		p.sinks = append(p.sinks, sink{
			Outflow: Outflow{Kind: plan.Drain, ID: o.Drain.ID, Title: o.Drain.Title(), At: p.graph.Nodes[o.node].At, Crest: nan},
			node:    o.node, oneWay: true,
			out: func(flow float64) float64 { return p.mouthHead(o.node, level, flow) },
		})
	}
}

// mouthHead is the head that a flow [m³/s] has which comes level with the water of a
// drain to its mouth [m]; in the drain its velocity head is lost.
func (p *part) mouthHead(node int, level, flow float64) float64 {
	for _, i := range p.links {
		l := &p.graph.Links[i]
		if len(l.Stations) == 0 || l.From != node && l.To != node {
			continue
		}
		s := &l.Stations[0]
		if l.To == node {
			s = &l.Stations[len(l.Stations)-1]
		}
		if y := level - s.Bed; y > lowest(&s.Section) && Froude(s.Section, y, flow) < 1 {
			return s.Bed + SpecificEnergy(s.Section, y, flow)
		}
	}
	return level
}

func (p *part) isIn(node int) bool {
	for _, in := range p.ins {
		if in.node == node {
			return true
		}
	}
	return false
}

// endStretch is over how much of a channel before an open end its fall is read [m].
const endStretch = 5.0

// openEnd adds an end from which the water runs on over the ground: normally deep
// there, or critically where that is deeper or the bed does not fall.
func (p *part) openEnd(node int) {
	for _, i := range p.links {
		l := &p.graph.Links[i]
		if len(l.Stations) < 2 || l.From != node && l.To != node {
			continue
		}
		end, back := lastFall(l, node)
		f, n := p.feature(l.ID), p.roughness(l.ID)
		slope := (back.Bed - end.Bed) / math.Abs(back.Along-end.Along)
		p.sinks = append(p.sinks, sink{
			Outflow: Outflow{Kind: plan.Channel, ID: l.ID, Title: f.Title(), At: end.At, Crest: nan},
			node:    node, oneWay: true,
			out: func(flow float64) float64 {
				return end.Bed + SpecificEnergy(end.Section, freeDepth(end.Section, n, slope, flow), max(0, flow))
			},
		})
		return
	}
}

// lastFall returns the end of a link at a node, and a station back from it over which
// its fall can be read.
func lastFall(l *channel.GraphLink, node int) (end, back *channel.LinkStation) {
	at := func(k int) *channel.LinkStation {
		if l.From == node {
			return &l.Stations[k]
		}
		return &l.Stations[len(l.Stations)-1-k]
	}
	end, back = at(0), at(0)
	for k := 1; k < len(l.Stations) && math.Abs(back.Along-end.Along) < endStretch; k++ {
		back = at(k)
	}
	return end, back
}

// freeDepth is the depth at which a flow leaves over an open end [m].
func freeDepth(s channel.Section, n, slope, flow float64) float64 {
	flow = max(0, flow)
	y, err := CriticalDepth(s, flow)
	if err != nil {
		return 0
	}
	if normal, err := NormalDepth(s, n, slope, flow); err == nil {
		return max(y, normal)
	}
	return y
}

// roughness returns Manning's n of a channel's lining.
func (p *part) roughness(id plan.ID) float64 {
	lining, err := LiningNamed(p.feature(id).Text("lining"))
	if err != nil {
		return nan
	}
	return lining.N.Likely
}

// capacity returns what a spillway passes when the water stands at the lowest bank
// of the pool that it drains [m³/s], and that bank [m].
func (p *part) capacity(s *sink) (most, bank float64) {
	reached := map[int]bool{s.node: true}
	bank = math.Inf(1)
	for again := true; again; {
		again = false
		for _, i := range p.links {
			l := &p.graph.Links[i]
			if len(l.Stations) > 0 && reached[l.From] != reached[l.To] {
				reached[l.From], reached[l.To], again = true, true, true
			}
		}
	}
	for _, i := range p.links {
		if l := &p.graph.Links[i]; reached[l.From] {
			for k := range l.Stations {
				bank = min(bank, lowerBank(&l.Stations[k]))
			}
		}
	}
	if math.IsInf(bank, 1) {
		return nan, nan
	}
	return WeirFlow(s.width, bank-s.Crest), bank
}

// lowerBank returns the lower of the banks at a station [m], +Inf where none is known.
func lowerBank(s *channel.LinkStation) float64 {
	low := math.Inf(1)
	for _, bank := range []float64{s.Left, s.Right} {
		if bank < low {
			low = bank
		}
	}
	return low
}
