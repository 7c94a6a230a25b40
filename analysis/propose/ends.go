package propose

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// ends are the levels between which a course runs [m].
type ends struct {
	// bed is the level at the inlet. finish is that at the outlet where it ends at a
	// drain or channel, else NaN: then the grade gives it.
	bed, finish float64
	// water is the level of what it ties in to, NaN where that is nothing: then its
	// lowest bank sets its level.
	water float64
	// by are the lines of what it ties in to, byFrom and byTo say at which end.
	by           []orb.LineString
	byFrom, byTo bool
	// joinsFrom and joinsTo say that an end lies in another channel, whose bed it is
	// given; a drain's it takes by itself.
	joinsFrom, joinsTo bool
}

// newEnds reads what the ends tie in to, with what stands beside the proposals.
func newEnds(s *plan.Site, q Question) (ends, error) {
	n, _ := channel.NewNetwork(beside(s, q), q.Scheme)
	e := ends{finish: math.NaN(), water: math.NaN()}
	if from, f, ok := tie(n, q, q.From); ok {
		e.bed, e.water, e.byFrom, e.joinsFrom = from.Bed, from.Water, true, f.Kind == plan.Channel
		e.by = append(e.by, f.Line())
	} else {
		e.bed = grid.Sample(s.Ground, q.From) - q.Depth
	}
	e.bed = orElse(q.Bed, e.bed)
	if to, f, ok := tie(n, q, q.To); ok {
		e.finish, e.byTo, e.joinsTo = to.Bed, true, f.Kind == plan.Channel
		e.by = append(e.by, f.Line())
		if !(to.Water > e.water) {
			e.water = to.Water
		}
		if !e.byFrom {
			e.bed = orElse(q.Bed, min(e.bed, to.Bed))
		}
	}
	if low := min(e.bed, orElse(e.finish, e.bed)); q.Grade == 0 && e.water-low <= leastDepth {
		return e, fmt.Errorf("the water at the inlet would stand at %.2f m, no higher than the bed at %.2f m; set a lower bed, or let it fall along the line", e.water, low)
	}
	return e, nil
}

// tieReach is how near to a drain's line a channel's end ties in to it at least [m], as
// package channel has it.
const tieReach = 1.5

// beside returns the site with the question's scheme as it is beside the proposals.
func beside(s *plan.Site, q Question) *plan.Site {
	trial := *s
	trial.Plan = s.Plan.Clone()
	trial.Plan.Features = append(s.Plan.In(plan.AsItIs), Kept(s, q)...)
	return &trial
}

// tie returns the place of the drain or channel that a channel's end ties in to, as
// package channel finds it: the nearest drain whose cut the channel's meets, or whose
// line is near; else the nearest channel in whose bed it lies.
func tie(n *channel.Network, q Question, p orb.Point) (at channel.Place, to plan.Feature, ok bool) {
	least := math.Inf(1)
	for _, f := range n.Features() {
		if f.Kind != plan.Drain && f.Kind != plan.Channel {
			continue
		}
		own := q.Narrowest + q.Depth*(q.Left+q.Right)
		reach := max(tieReach, (own+f.Width())/2)
		if f.Kind == plan.Channel {
			reach = (q.Narrowest + f.Num("bed_width")) / 2
		}
		chainage, off := channel.Chainage(f.Line(), p)
		if off > reach || off >= least && to.Kind == f.Kind {
			continue
		}
		if l, err := n.LongSection(f.ID); err == nil { // channels come first
			at, to, ok, least = l.At(chainage), f, true, off
		}
	}
	return at, to, ok
}

// profile is how a bed runs along a line of some length [m].
func (e *ends) profile(q *Question, length float64) (start, fall float64) {
	if !math.IsNaN(e.finish) {
		return e.bed, (e.bed - e.finish) / length
	}
	return e.bed, q.Grade / 100
}

// byTie reports whether p is so near to what an end ties in to that a low bank there is
// that one's.
func (e *ends) byTie(p orb.Point) bool {
	for _, line := range e.by {
		for i := 1; i < len(line); i++ {
			if squareFrom(line[i-1], line[i], p) < drainClear*drainClear {
				return true
			}
		}
	}
	return false
}

// drainClear is how far from a drain a low bank is taken for the drain's [m], as package
// channel has it.
const drainClear = 2.0
