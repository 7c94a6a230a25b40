package hydraulics

import (
	"fmt"
	"math"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// build makes a network of the links and ways out of a part. Its nodes are those of
// the part, by their place in the list, and then outside.
func (p *part) build() {
	number := map[int]int{}
	for i, k := range p.nodes {
		number[k] = i
	}
	w := network{inflow: make([]float64, len(p.nodes)+1)}
	for _, i := range p.links {
		l := &p.graph.Links[i]
		b := branch{from: number[l.From], to: number[l.To], way: way{l.Stations, p.roughness(l.ID)}, crest: l.Crest, width: l.Width}
		if len(l.Stations) > 0 {
			b.crest = b.way.bar()
		}
		w.branches = append(w.branches, b)
	}
	for _, s := range p.sinks {
		w.branches = append(w.branches, branch{from: number[s.node], to: len(p.nodes), crest: s.out(0), out: s.out, oneWay: s.oneWay})
	}
	w.start(len(p.nodes) + 1)
	for i := range p.ins {
		p.ins[i].place = number[p.ins[i].node]
	}
	p.net = w
}

// trickle is the share of the flow offered at which a channel is taken to take none.
const trickle = 1e-7

// flow lets in what is offered, or of what drains offer the share at which the water
// at the mouth has the head of the drain's and no more, and adds what flows to the
// result. It reports whether the split of the flow settled.
func (p *part) flow() (settled bool, err error) {
	p.build()
	over := func(share float64) float64 {
		high := math.Inf(-1)
		if err == nil {
			settled, err = p.letIn(share)
			high = p.overhead()
		}
		return high
	}
	share := 1.0
	if over(1) > 0 && settled {
		if over(trickle) >= 0 {
			share = 0
		} else {
			share = rootWithin(over, trickle, 1, 1e-10)
		}
		over(share)
	}
	if err != nil || !settled {
		return settled, err
	}
	total := 0.0
	for _, q := range p.net.inflow {
		total += q
	}
	if total == 0 {
		p.stand(p.whyDry())
		return true, nil
	}
	p.tellInflows(share)
	p.result.Inflows = append(p.result.Inflows, p.ins...)
	p.collect()
	return true, nil
}

// letIn solves the network for a share of what the drains offer and all that is set.
func (p *part) letIn(share float64) (bool, error) {
	clear(p.net.inflow)
	for _, in := range p.ins {
		q := in.Offered
		if !in.set {
			q *= share
		}
		p.net.inflow[in.place] += q
	}
	return p.net.solve(p.ctx)
}

// overhead returns how far at the most the head of the water in a mouth lies above
// that of the drain that feeds it [m], -Inf where no drain sets a limit.
func (p *part) overhead() float64 {
	high := math.Inf(-1)
	for i := range p.ins {
		if in := &p.ins[i]; !in.set && in.Offered > 0 {
			high = max(high, p.net.at(in.place)-in.Head)
		}
	}
	return high
}

// whyDry says why nothing runs in although there is a way out.
func (p *part) whyDry() string {
	for i := range p.ins {
		in := &p.ins[i]
		if level := p.net.at(in.place); !in.set && level >= in.Head {
			return fmt.Sprintf("to run out the water of %s would have to stand at %.2f m where it comes in, and that of %s stands at %.2f m, so it does not flow; lower the spillway or the sills if it is to flow", p.feature(in.Channel).Title(), level, p.feature(in.Drain).Title(), in.Head)
		}
	}
	return fmt.Sprintf("nothing is let into %s, so its water stands", p.feature(p.channels[0]).Title())
}

// stand adds a part whose water stands to the result.
func (p *part) stand(why string) {
	for i := range p.ins {
		p.ins[i].Flow = 0
	}
	p.result.Inflows = append(p.result.Inflows, p.ins...)
	for i := range p.sinks {
		s := &p.sinks[i]
		s.Level, s.Head = nan, 0
		p.addOutflow(s)
	}
	for _, i := range p.links {
		l := &p.graph.Links[i]
		r := p.reach(l)
		r.Still = why
		for k := range l.Stations {
			s := &l.Stations[k]
			r.Stations = append(r.Stations, stationOf(s, s.Water-s.Bed))
		}
		p.result.Reaches = append(p.result.Reaches, r)
	}
}

func (p *part) reach(l *channel.GraphLink) Reach {
	return Reach{Kind: l.Kind, ID: l.ID, Title: p.feature(l.ID).Title(), Island: l.Island, Left: l.Left, Sill: l.Sill, Normal: nan, Critical: nan}
}

// stationOf puts water of a depth above the bed on the line at a station, at rest [m].
func stationOf(s *channel.LinkStation, depth float64) Station {
	st := Station{Along: s.Along, Chainage: s.Chainage, At: s.At, Bed: s.Bed, Level: nan, Freeboard: nan, bank: lowerBank(s)}
	if low := lowest(&s.Section); depth > low {
		st.Depth, st.Level = depth-low, s.Bed+depth
		if !math.IsInf(st.bank, 1) {
			st.Freeboard = st.bank - st.Level
		}
	}
	return st
}

// collect adds what flows in each link and leaves by each way out to the result.
func (p *part) collect() {
	for k, i := range p.links {
		l, flow := &p.graph.Links[i], p.net.flow[k]
		r := p.reach(l)
		r.Flow = flow
		switch {
		case l.Kind == channel.SillLink:
			r.Head = max(0, max(p.net.at(p.net.branches[k].from), p.net.at(p.net.branches[k].to))-l.Crest)
		case flow == 0:
			r.Still = fmt.Sprintf("no water passes through %s from %.1f to %.1f m along it: it is a dead end there, or its ends lie alike", r.Title, l.Stations[0].Chainage, l.Stations[len(l.Stations)-1].Chainage)
			p.rest(&r, l, k)
		default:
			p.run(&r, l, k)
			p.daylight(&r, l)
		}
		p.addReach(r)
	}
	links := len(p.links)
	for i := range p.sinks {
		s := &p.sinks[i]
		s.Flow, s.Level = p.net.flow[links+i], p.net.at(p.net.branches[links+i].from)
		s.Head = nan
		if s.Kind == plan.Spillway {
			s.Head = max(0, s.Level-s.Crest)
		}
		p.addOutflow(s)
	}
}

// rest fills in the stations of a link in which no water flows: where it is open to
// both its ends the water stands level with them, else as the plan has it.
func (p *part) rest(r *Reach, l *channel.GraphLink, k int) {
	b := &p.net.branches[k]
	from, to := p.net.at(b.from), p.net.at(b.to)
	for i := range l.Stations {
		s := &l.Stations[i]
		level := s.Water
		if min(from, to) >= b.crest {
			level = min(from, to)
		}
		r.Stations = append(r.Stations, stationOf(s, level-s.Bed))
	}
}

// run fills in the stations of a link in which water flows.
func (p *part) run(r *Reach, l *channel.GraphLink, k int) {
	b := &p.net.branches[k]
	foot := b.to
	if r.Flow < 0 {
		foot = b.from
	}
	var states []state
	b.way.climb(r.Flow, p.net.at(foot), func(s state) { states = append(states, s) })
	stations := b.way.against(r.Flow)
	down, water := reversed(stations), reversed(states)
	q := math.Abs(r.Flow)
	b.way.shoot(down, water, q)
	if r.Flow < 0 {
		down, water = reversed(down), reversed(water)
	}
	for i := range down {
		st := stationOf(&down[i], water[i].depth)
		section := down[i].Section
		slope := FrictionSlope(section, water[i].depth, b.way.n, q)
		st.Velocity = math.Copysign(Velocity(section, water[i].depth, q), r.Flow)
		st.Froude, st.Shear = Froude(section, water[i].depth, q), Shear(water[i].depth-lowest(&section), slope)
		st.MeanShear = MeanShear(section, water[i].depth, slope)
		st.Supercritical = water[i].critical
		r.Stations = append(r.Stations, st)
	}
	first, last := down[0], down[len(down)-1]
	fall := (first.Bed - last.Bed) / last.Along
	middle := down[len(down)/2].Section
	if y, err := CriticalDepth(middle, q); err == nil {
		r.Critical = y
	}
	if y, err := NormalDepth(middle, b.way.n, math.Copysign(1, r.Flow)*fall, q); err == nil {
		r.Normal = y
	}
}

func reversed[T any](list []T) []T {
	back := make([]T, len(list))
	for i, v := range list {
		back[len(list)-1-i] = v
	}
	return back
}
