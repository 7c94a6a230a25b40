package propose

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"

	"github.com/paulmach/orb"
	"runnel/analysis/channel"
	"runnel/analysis/earthwork"
	"runnel/geo/plan"
)

func workers() int { return runtime.GOMAXPROCS(0) }

// unlike is how far apart two lines lie on the mean, at least, to count as two [m].
const unlike = 1.5

// propose makes proposals of the first courses that differ and are sound once they are
// cut into the ground, the one with the most contact first.
func (w *world) propose(ctx context.Context, best []trial) ([]Proposal, error) {
	around := *beside(w.site, w.q)
	before, err := dug(ctx, &around, w.q.Scheme)
	if err != nil {
		return nil, err
	}
	straight, err := w.straight(ctx, &around, before, min(w.q.Volume, best[0].volume/(1-reserve)))
	if err != nil {
		return nil, err
	}
	var proposals []Proposal
	var lines []orb.LineString
	for i := range best {
		if len(proposals) == w.q.Count {
			break
		}
		line := plan.Curve(best[i].knots)
		if alike(lines, line) {
			continue
		}
		p, sound, err := w.proposal(ctx, &around, &best[i], before)
		if err != nil {
			return nil, err
		}
		if !sound {
			continue
		}
		p.Straight = straight
		proposals, lines = append(proposals, p), append(lines, line)
	}
	slices.SortStableFunc(proposals, func(a, b Proposal) int { return cmp.Compare(b.Contact, a.Contact) })
	for i := range proposals {
		proposals[i].Channel.Name = fmt.Sprintf("Proposal %d", i+1)
	}
	return proposals, nil
}

// alike reports whether a line runs as one of others does.
func alike(others []orb.LineString, line orb.LineString) bool {
	for _, other := range others {
		if max(between(other, line), between(line, other)) < unlike {
			return true
		}
	}
	return false
}

// between is how far the places of a line lie from another on the mean [m].
func between(line, other orb.LineString) float64 {
	places, sum := thinned(line), 0.0
	for _, p := range places {
		sum += plan.Distance(other, p)
	}
	return sum / float64(len(places))
}

// feature makes a channel of a course.
func (w *world) feature(t *trial) plan.Feature {
	number := func(v float64) plan.Value { return plan.Value{Number: v} }
	f := plan.Feature{Kind: plan.Channel, Scheme: w.q.Scheme}
	f = f.With("bed_width", number(t.width)).With("side_left", number(w.q.Left)).With("side_right", number(w.q.Right))
	f = f.With("depth", number(w.q.Depth))
	if w.q.Form == channel.Rounded {
		f = f.With("shape", plan.Value{Text: "rounded"})
	}
	if !w.ends.byFrom || w.ends.joinsFrom || orElse(w.q.Bed, 0) != 0 {
		f = f.With("bed_start", number(w.ends.bed))
	}
	switch {
	case w.ends.joinsTo:
		f = f.With("bed_end", number(w.ends.finish))
	case math.IsNaN(w.ends.finish): // else it runs to the drain's bed
		f = f.With("bed", plan.Value{Text: "at a grade"}).With("grade", number(w.q.Grade))
	}
	return f.Through(t.knots)
}

// levelSlack is how far the water may stand from where it was reckoned to [m].
const levelSlack = 0.05

// numbered is the number of a channel that is measured on a site: one that nothing has.
func numbered(s *plan.Site) plan.ID {
	n := plan.ID(s.Plan.Last)
	for _, f := range s.Plan.Features {
		n = max(n, f.ID)
	}
	return n + 1
}

// measure lays a channel on a site and measures it: what it holds, what is wrong with
// it, and what is dug in the scheme [m³].
func (w *world) measure(ctx context.Context, around *plan.Site, c plan.Feature) (channel.Line, []channel.Problem, float64, error) {
	s := around.Clone()
	c.ID = numbered(around)
	if !w.ends.byFrom && !w.ends.byTo {
		// Whether water finds a way in is the inlet's matter, not the course's.
		c = c.With("flow", plan.Value{Number: 1})
	}
	s.Plan.Features = append(s.Plan.Features, c)
	n, problems := channel.NewNetwork(&s, c.Scheme)
	lines, err := n.Measure(ctx, channel.Step{})
	if err != nil {
		return channel.Line{}, nil, 0, err
	}
	proposed, err := earthwork.Shape(ctx, s.Ground, n)
	if err != nil {
		return channel.Line{}, nil, 0, err
	}
	var own []channel.Problem
	for _, p := range problems {
		if p.ID == c.ID {
			own = append(own, p)
		}
	}
	for _, l := range lines {
		if l.ID == c.ID {
			return l, own, earthwork.Volume(s.Ground, proposed).Cut, nil
		}
	}
	return channel.Line{}, own, 0, nil
}

// dug is what is dug in a scheme [m³].
func dug(ctx context.Context, s *plan.Site, scheme plan.SchemeID) (float64, error) {
	n, _ := channel.NewNetwork(s, scheme)
	proposed, err := earthwork.Shape(ctx, s.Ground, n)
	if err != nil {
		return 0, err
	}
	return earthwork.Volume(s.Ground, proposed).Cut, nil
}
