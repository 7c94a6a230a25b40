package propose

import (
	"context"
	"fmt"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// A Proposal is one course for a channel and what it comes to.
type Proposal struct {
	// Channel is the curved channel, numbered 0, of the question's scheme.
	Channel plan.Feature
	// Knots are those of the curve, Line its course.
	Knots, Line orb.LineString
	// Contact is the soil under its water [m²], along its sections, Level that of its
	// water [m], Volume what is dug for it on the ground's cells [m³].
	Contact, Level, Volume float64
	// BedWidth and Length are those of the channel, Radius that of its tightest bend,
	// Depth the greatest depth of cut on its line, Strip the least width of ground
	// left between its bends, +Inf where none lie side by side [m].
	BedWidth, Length, Radius, Depth, Strip float64
	// Leads are how far from its start and its end it may lie inside setbacks in
	// which its ends lie [m]; clearances there do not count.
	Leads [2]float64
	// Clearances are the least distances from the tops of its banks to what is kept
	// clear of, one for each kind.
	Clearances []Clearance
	// Crossed are the service lines that it crosses, because they part its ends.
	Crossed []plan.ID
	// Under are the plantings and paths that it is dug through.
	Under []plan.ID
	// Straight is the straight line of the same volume of digging, for comparison. It
	// keeps no limits.
	Straight Straight
}

// A Straight is what the straight line between the ends would come to.
type Straight struct{ Contact, Volume, BedWidth, Length float64 }

// A Clearance is how near a line comes to things of one kind.
type Clearance struct {
	Kind plan.Kind
	ID   plan.ID
	// Least is the distance from the tops of the banks [m], negative where a
	// boundary is passed, Limit what is asked.
	Least, Limit float64
}

// Lines returns the best courses found, the one with the most contact first, fewer
// than asked where there are no more that differ. It tells progress how much is
// done, from 0 to 1. Where no course keeps every limit the error says which limit
// stands in the way, and what to relax.
func Lines(ctx context.Context, s *plan.Site, q Question, progress func(done float64)) ([]Proposal, error) {
	if err := q.check(s); err != nil {
		return nil, err
	}
	q = q.orUsual()
	e, err := newEnds(s, q)
	if err != nil {
		return nil, err
	}
	w := newWorld(s, q, e)
	if err := w.survey(ctx); err != nil {
		return nil, err
	}
	best, err := w.search(ctx, progress)
	if err != nil {
		return nil, err
	}
	proposals, err := w.propose(ctx, best)
	if err != nil {
		return nil, err
	}
	if len(proposals) == 0 {
		return nil, fmt.Errorf("no line that was found keeps every limit once it is cut into the ground; give more room, a wider strip or more digging")
	}
	return proposals, nil
}
