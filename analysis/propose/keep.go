package propose

import (
	"math"

	"github.com/paulmach/orb"
	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// standing is how far outside a channel's banks what belongs to it may stand [m].
const standing = 1.0

// Kept lists what of the question's scheme stays beside a proposal: all that is drawn
// in it, but not the channel that the proposals take the place of, nor the islands,
// sills, spillways, sections and crossings on that.
func Kept(s *plan.Site, q Question) []plan.Feature {
	instead, replaces := s.Plan.Find(q.Instead)
	var kept []plan.Feature
	on := stands{site: s, channel: instead}
	if replaces {
		on.network, _ = channel.NewNetwork(s, q.Scheme)
	}
	for _, f := range s.Plan.Features {
		if f.Scheme != q.Scheme || f.Scheme == plan.AsItIs || f.ID == q.Instead {
			continue
		}
		if replaces && on.has(f) {
			continue
		}
		kept = append(kept, f)
	}
	return kept
}

// A stands tells what is part of a channel.
type stands struct {
	site    *plan.Site
	channel plan.Feature
	network *channel.Network
}

// has reports whether f is part of the channel. A sill that crosses a drain is the
// drain's.
func (t stands) has(f plan.Feature) bool {
	c := t.channel
	if f.Geometry == nil || c.Line() == nil {
		return false
	}
	switch f.Kind {
	case plan.Spillway, plan.Section, plan.Crossing:
		return t.hasPoint(f.Point())
	case plan.Island:
		return apart(f.Geometry, c.Line()) <= c.Width()/2+standing
	case plan.Sill:
		for _, d := range t.site.Plan.Of(plan.Drain, c.Scheme) {
			if d.Geometry != nil && linesCross(f.Line(), d.Line()) {
				return false
			}
		}
		return linesCross(f.Line(), c.Line())
	}
	return false
}

// hasPoint reports whether a place lies within the dug width of the channel, or just
// beside it, and nearer to it than to another line that is dug.
func (t stands) hasPoint(p orb.Point) bool {
	c := t.channel
	away := plan.Distance(c.Geometry, p)
	for _, kind := range []plan.Kind{plan.Channel, plan.Drain} {
		for _, other := range t.site.Plan.Of(kind, c.Scheme) {
			if other.ID != c.ID && other.Geometry != nil && plan.Distance(other.Geometry, p) < away {
				return false
			}
		}
	}
	half := c.Width() / 2
	chainage, _ := channel.Chainage(c.Line(), p)
	if left, right, err := t.network.Banks(c.ID, chainage); err == nil {
		half = max(half, math.Abs(left.Off), math.Abs(right.Off))
	}
	return away <= half+standing
}

// apart is how near a line's points come to a geometry [m].
func apart(g orb.Geometry, line orb.LineString) float64 {
	least := math.Inf(1)
	for i, p := range line {
		least = min(least, plan.Distance(g, p))
		if i > 0 {
			least = min(least, plan.Distance(g, orb.Point{(p[0] + line[i-1][0]) / 2, (p[1] + line[i-1][1]) / 2}))
		}
	}
	return least
}

func linesCross(a, b orb.LineString) bool {
	for i := 1; i < len(a); i++ {
		for k := 1; k < len(b); k++ {
			if _, cross := plan.Meet([2]orb.Point{a[i-1], a[i]}, [2]orb.Point{b[k-1], b[k]}); cross {
				return true
			}
		}
	}
	return false
}
