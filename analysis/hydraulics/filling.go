package hydraulics

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
)

// fill says what becomes of the water of a part that has no way out: it runs over where
// a bank is lower than the water that feeds it, else it stands level with that.
func (p *part) fill() {
	title, head, comes := p.feature(p.channels[0]).Title(), math.Inf(-1), 0.0
	for _, in := range p.ins {
		comes += in.Offered
		if in.Offered > 0 {
			head = max(head, in.Head)
			if math.IsNaN(in.Head) {
				head = math.Inf(1)
			}
		}
	}
	brim := p.brim(head)
	switch {
	case comes == 0:
		p.stand(fmt.Sprintf("nothing is let into %s, so its water stands", title))
	case brim.Level < head:
		for i := range p.ins {
			p.ins[i].Flow = nan
		}
		p.result.Inflows = append(p.result.Inflows, p.ins...)
		p.withhold(brim.ID, brim.At, fmt.Errorf("%s has no way out: no spillway, no drain and no open end takes its water. While water comes in it fills to %.2f m and runs over the bank there, %s; add a spillway, or hold the water back with a sill at its mouth", title, brim.Level, brim.Place))
	case math.IsInf(head, 1):
		p.withhold(p.channels[0], p.graph.Nodes[p.nodes[0]].At, fmt.Errorf("%s has no way out, and where its water would run over is not known, for its banks are not; add a spillway", title))
	default:
		p.stand(fmt.Sprintf("%s has no way out: no spillway, no drain and no open end takes its water, so it fills level with the drain, at %.2f m, and stands; add a spillway if it is to flow", title, head))
	}
}

// brim returns where the banks of a part are lowest. Where that is known no better than
// as the water of a drain that feeds it, which stands as high as a head [m] at the most,
// it is the lowest bank at a station.
func (p *part) brim(head float64) channel.Brim {
	least := channel.Brim{Level: math.Inf(1)}
	for _, id := range p.channels {
		if b := p.network.BrimOf(id); b.Drain == "" && b.Level < least.Level {
			least = b
		}
	}
	if least.Level < head {
		return least
	}
	for _, i := range p.links {
		l := &p.graph.Links[i]
		for k := range l.Stations {
			s := &l.Stations[k]
			if bank := lowerBank(s); bank < least.Level {
				least = channel.Brim{Level: bank, ID: l.ID, At: s.At, Place: fmt.Sprintf("%.1f m along %s", s.Chainage, p.feature(l.ID).Title())}
			}
		}
	}
	return least
}

// outSlack is how far above the ground a bed may lie before its flow is withheld [m],
// and endSlack how near to an end that runs out onto the ground that is not looked at.
const (
	outSlack = 0.02
	endSlack = 1.0
)

// unheld returns an error where the bed of a channel lies above the ground beside it,
// so that nothing holds its water, and where that is.
func (p *part) unheld() (at orb.Point, err error) {
	for _, i := range p.links {
		l := &p.graph.Links[i]
		from, to, high := math.Inf(1), math.Inf(-1), 0.0
		for k := range l.Stations {
			s := &l.Stations[k]
			out := s.Bed + lowest(&s.Section) - lowerBank(s)
			if !(out > outSlack) || p.byOpenEnd(l, s.Along) {
				continue
			}
			if from > s.Chainage {
				from, at = s.Chainage, s.At
			}
			to, high = max(to, s.Chainage), max(high, out)
		}
		if high > 0 {
			return at, fmt.Errorf("the bed of %s lies up to %.2f m above the ground beside it, from %.1f to %.1f m along it, and nothing holds its water there; lower the bed, or lead the channel over higher ground", p.feature(l.ID).Title(), high, from, to)
		}
	}
	return at, nil
}

// byOpenEnd reports whether a place along a link [m] lies by an end of it that runs out
// onto the ground.
func (p *part) byOpenEnd(l *channel.GraphLink, along float64) bool {
	return p.graph.Nodes[l.From].Open && along < endSlack || p.graph.Nodes[l.To].Open && l.Length()-along < endSlack
}

// daylight takes the banks away from the stations of a reach before an open end, back
// to where water first stands below them: they go down to the bed there, and what
// spreads over the ground runs over no bank. A finding says from where it does.
func (p *part) daylight(r *Reach, l *channel.GraphLink) {
	last := len(r.Stations) - 1
	if p.graph.Nodes[l.From].Open {
		p.spreadOut(r, 0, 1)
	}
	if p.graph.Nodes[l.To].Open {
		p.spreadOut(r, last, -1)
	}
}

// spreadOut is daylight from one end of a reach, to its stations one step after another,
// and on over those with too little freeboard.
func (p *part) spreadOut(r *Reach, end, step int) {
	deepest, over := 0.0, end
	for k := end; k >= 0 && k < len(r.Stations) && r.Stations[k].Freeboard < p.options.Freeboard; k += step {
		if r.Stations[k].Freeboard < 0 {
			over = k
		}
		deepest = max(deepest, -r.Stations[k].Freeboard)
		r.Stations[k].Freeboard = nan
	}
	if !(deepest > film) {
		return
	}
	first, from := &r.Stations[end], &r.Stations[over]
	p.find(Finding{What: SpreadsOut, ID: r.ID, From: min(first.Chainage, from.Chainage), To: max(first.Chainage, from.Chainage), At: from.At, Value: deepest, Unit: "m",
		Text: fmt.Sprintf("the banks of %s go down to its bed where it runs out, %.1f m along it; from %.1f m on its water stands above them, by up to %.2f m, and spreads over the ground; raise them if it should not", r.Title, first.Chainage, from.Chainage, deepest)})
}

// Levels lists how high water runs along the channels of the result and round their
// islands; where it stands over a bank, no higher than the bank.
func (r *Result) Levels() []channel.RunningLevel {
	var all []channel.RunningLevel
	for i := range r.Reaches {
		reach := &r.Reaches[i]
		if reach.Flow == 0 || math.IsNaN(reach.Flow) {
			continue
		}
		for _, s := range reach.Stations {
			if level := min(s.Level, s.bank); !math.IsNaN(level) {
				all = append(all, channel.RunningLevel{ID: reach.ID, Island: reach.Island, Chainage: s.Chainage, At: s.At, Level: level})
			}
		}
	}
	return all
}
