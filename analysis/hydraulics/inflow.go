package hydraulics

import (
	"errors"
	"fmt"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// An Inflow is what comes into a channel at one place.
type Inflow struct {
	// Channel takes it in; Drain gives it, nought where none does.
	Channel, Drain plan.ID
	At             orb.Point
	// Flow is what runs in, NaN where that runs over a bank, Offered what there is to
	// run in [m³/s].
	Flow, Offered float64
	// Head is the level of the water that gives it [m], NaN where none is known.
	Head float64
	// From says in a sentence how Offered was found.
	From string
	// set is clear where Offered is what the drain carries.
	set bool
	// node is its node in the graph, place that in the part's network.
	node, place int
}

// litres is how many litres a cubic metre holds.
const litres = 1000

// carries returns what a drain carries [m³/s] so deep [m], by Manning's formula at
// the mean fall of its bed, and says so.
func carries(o *channel.Opening, depth float64) (float64, string, error) {
	lining, err := LiningNamed(o.Drain.Text("lining"))
	if err != nil {
		return 0, "", err
	}
	if !(o.Slope > 0) {
		return 0, "", fmt.Errorf("%s has no fall from end to end, so what it carries is not known; draw more of it, or set the flow that the channel lets in", o.Drain.Title())
	}
	q := Discharge(o.Section, depth, lining.N.Likely, o.Slope)
	if !(q > 0) {
		return 0, "", fmt.Errorf("%s holds no water, so nothing runs in from it; give the depth at which it runs", o.Drain.Title())
	}
	return q, fmt.Sprintf("%s carries %.1f L/s where it is %.2f m deep, by Manning's formula at the mean fall of its bed, %.2f %%, with n = %.3f for %s. The channel can take no more than all of it.",
		o.Drain.Title(), q*litres, depth, o.Slope*100, lining.N.Likely, lining.Name), nil
}

// Carries returns what the drain of an opening carries when it runs [m³/s], and says how
// that was found.
func Carries(o *channel.Opening) (float64, string, error) {
	return carries(o, min(o.Drain.Num("water_depth"), o.Drain.Num("depth")))
}

// WaysIn tells of the openings of channels that hang together by which of them water
// comes in. Where by none it comes in by that of the highest water, unless a flow is set.
func WaysIn(all []channel.Opening, set func() bool) []bool {
	in, some := make([]bool, len(all)), false
	for i := range all {
		in[i] = isIn(i, all)
		some = some || in[i]
	}
	if highest := highestOf(all); !some && highest >= 0 && !set() {
		in[highest] = true
	}
	return in
}

// isIn reports whether water comes in by an opening: of two at the ends of one
// channel by that of the higher drain, or whose bed is higher, or that at its start;
// else where the channel's bed falls from it or is level.
func isIn(i int, all []channel.Opening) bool {
	o := &all[i]
	if o.Across {
		return false
	}
	for k := range all {
		other := &all[k]
		switch {
		case k == i || other.Channel != o.Channel || other.Across:
		case o.Water != other.Water:
			return o.Water > other.Water
		case o.OwnBed != other.OwnBed:
			return o.OwnBed > other.OwnBed
		default:
			return i < k
		}
	}
	return o.OwnBed >= o.FarBed
}

// openings lists the openings of a part of the graph with their nodes.
func (p *part) openings() (all []channel.Opening, nodes []int) {
	for _, k := range p.nodes {
		for _, o := range p.graph.Nodes[k].Openings {
			all, nodes = append(all, o), append(nodes, k)
		}
	}
	return all, nodes
}

var errNoWayIn = errors.New("no drain gives it water and no flow is set; tie it in to a drain, or set the flow that is let in")

// takeIn finds where water comes into a part, and how much; the other openings are
// ways out.
func (p *part) takeIn() error {
	all, nodes := p.openings()
	in := WaysIn(all, p.anySet)
	for i := range all {
		if !in[i] {
			p.outs = append(p.outs, opened{all[i], nodes[i]})
			continue
		}
		if err := p.takeFrom(&all[i], nodes[i]); err != nil {
			return err
		}
	}
	p.takeSet()
	if len(p.ins) == 0 {
		return errNoWayIn
	}
	return nil
}

// highestOf returns which opening on a drain has the highest water, one at an end of a
// channel before one where its line crosses a drain: into that the drain's water runs
// both ways, if nothing else leads any in. It is -1 where there is none.
func highestOf(all []channel.Opening) int {
	highest := -1
	for i := range all {
		switch {
		case highest < 0 || all[highest].Across && !all[i].Across:
			highest = i
		case all[i].Across == all[highest].Across && all[i].Water > all[highest].Water:
			highest = i
		}
	}
	return highest
}

// takeFrom adds what comes in by an opening: the flow that is set, or all that the
// drain carries, until share parts it.
func (p *part) takeFrom(o *channel.Opening, node int) error {
	f := p.feature(o.Channel)
	depth, head := min(o.Drain.Num("water_depth"), o.Drain.Num("depth")), o.Water
	if p.full {
		depth, head = o.Drain.Num("depth"), o.Full
	}
	in := Inflow{Channel: o.Channel, Drain: o.Drain.ID, At: p.graph.Nodes[node].At, Head: head, node: node}
	set := f.Num("flow") / litres
	if set >= 0 && !p.full {
		in.Offered, in.set = set, true
		in.From = fmt.Sprintf("The flow let in that is set for %s, %.1f L/s.", f.Title(), set*litres)
		p.ins = append(p.ins, in)
		return nil
	}
	q, from, err := carries(o, depth)
	if err != nil {
		return err
	}
	in.Offered, in.From = q, from
	if set >= 0 {
		running, _, err := Carries(o)
		if err != nil {
			return err
		}
		in.Offered, in.set = set*q/running, true
		in.From = fmt.Sprintf("%s lets in the same share of the full drain as of the running one, %.1f L/s. %s", f.Title(), in.Offered*litres, from)
	}
	p.ins = append(p.ins, in)
	return nil
}

// takeSet adds the flows that are set for channels into which no drain leads: they
// come in at the end whose bed is higher.
func (p *part) takeSet() {
	for _, id := range p.channels {
		f := p.feature(id)
		q := f.Num("flow") / litres
		if !(q >= 0) || p.fed(id) {
			continue
		}
		if node, where, ok := p.upperEnd(id); ok {
			p.ins = append(p.ins, Inflow{Channel: id, At: p.graph.Nodes[node].At, Offered: q, Head: nan, set: true, node: node,
				From: fmt.Sprintf("The flow let in that is set for %s, %.1f L/s, comes in at its %s; no drain gives it.", f.Title(), q*litres, where)})
		}
	}
}

func (p *part) anySet() bool {
	for _, id := range p.channels {
		if p.feature(id).Num("flow") >= 0 {
			return true
		}
	}
	return false
}

func (p *part) fed(id plan.ID) bool {
	for _, in := range p.ins {
		if in.Channel == id {
			return true
		}
	}
	return false
}

// upperEnd returns the node at the end of a channel whose bed is higher, or at its
// start where both are alike, and says which that is.
func (p *part) upperEnd(id plan.ID) (node int, where string, ok bool) {
	type foot struct {
		chainage, bed float64
		node          int
	}
	var first, last foot
	for _, i := range p.links {
		l := &p.graph.Links[i]
		if l.ID != id || len(l.Stations) == 0 {
			continue
		}
		for _, end := range []struct {
			s    channel.LinkStation
			node int
		}{{l.Stations[0], l.From}, {l.Stations[len(l.Stations)-1], l.To}} {
			f := foot{end.s.Chainage, end.s.Bed, end.node}
			if !ok || f.chainage < first.chainage {
				first = f
			}
			if !ok || f.chainage > last.chainage {
				last = f
			}
			ok = true
		}
	}
	if last.bed > first.bed {
		return last.node, "end, where its bed is higher", ok
	}
	return first.node, "start", ok
}

// shareDrains parts what each drain carries among the channels that draw on it: those
// with a flow of their own have it, the others share the rest alike.
func shareDrains(parts []*part) {
	set, alike := map[plan.ID]float64{}, map[plan.ID]int{}
	for _, p := range parts {
		for _, in := range p.ins {
			if in.set {
				set[in.Drain] += in.Offered
			} else {
				alike[in.Drain]++
			}
		}
	}
	for _, p := range parts {
		for i := range p.ins {
			in := &p.ins[i]
			taken, among := set[in.Drain], alike[in.Drain]
			if in.set || taken == 0 && among == 1 {
				continue
			}
			in.Offered = max(0, in.Offered-taken) / float64(among)
			in.From = fmt.Sprintf("%s Of that %.1f L/s is set for other channels; %d that draw on it share the rest alike, %.1f L/s each.", in.From, taken*litres, among, in.Offered*litres)
		}
	}
}
