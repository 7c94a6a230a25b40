package caution

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// The setbacks of the Minnesota Stormwater Manual, "Summary of horizontal and
// vertical setback distances" for infiltration practices: 50 ft from a well,
// 10 ft from a building and a property line, 35 ft from a septic system.
const setbackSource = "Minnesota Stormwater Manual, setback distances for infiltration"

// setbacks checks how near water stands to what it should keep away from.
func (c *checker) setbacks() {
	for _, rule := range []struct {
		kind       plan.Kind
		name, what string
		limit      float64
	}{
		{plan.Well, "well setback", "a well, so that surface water does not reach its intake unfiltered", c.limits.Well},
		{plan.Roof, "building setback", "a building's foundations", c.limits.Building},
		{plan.Boundary, "boundary setback", "the property line", c.limits.Boundary},
		{plan.SepticField, "septic field setback", "a septic field, so that it can drain", c.limits.Septic},
	} {
		var found findings
		for _, f := range c.of(rule.kind) {
			if away, at, line := c.distance(f, rule.limit); away < rule.limit {
				found = append(found, finding{thing(f), []plan.ID{f.ID, line}, fmt.Sprintf("%.1f m from %s", away, thing(f)), at})
			}
		}
		c.report(rule.name, found, Caution{
			Text:     "Water stands near %s. Move it away, or have the place looked at.",
			Measured: "%s to the water's edge.",
			Guidance: fmt.Sprintf("Keep %.1f m from %s (%s).", rule.limit, rule.what, setbackSource),
		})
	}
}

// thing names what is kept away from.
func thing(f plan.Feature) string {
	if f.Kind == plan.Boundary {
		return fmt.Sprintf("the boundary of %s", f.Title())
	}
	return f.Title()
}

// distance returns how far a feature is from the nearest water's edge of a
// channel, where, and of which channel; +Inf where it is farther than limit.
// A feature that water covers is no distance away. Of a boundary the outline counts.
func (c *checker) distance(f plan.Feature, limit float64) (away float64, at orb.Point, line plan.ID) {
	if f.Geometry == nil {
		return math.Inf(1), orb.Point{}, 0
	}
	g := f.Geometry
	if f.Kind == plan.Boundary && len(f.Area()) > 0 {
		g = orb.LineString(f.Area()[0])
	}
	bound := g.Bound()
	near := bound.Pad(limit)
	away = math.Inf(1)
	for _, l := range c.channels {
		for _, p := range l.Shore {
			if !near.Contains(p) || outside(bound, p) >= away {
				continue
			}
			if d := plan.Distance(g, p); d < away {
				away, at, line = d, p, l.ID
			}
		}
	}
	if f.Kind == plan.Boundary || math.IsInf(away, 1) {
		return away, at, line
	}
	for _, part := range plan.Lines(g) {
		for _, p := range part {
			if grid.Sample(c.water.Wet.Depth, p) > 0 {
				return 0, p, line
			}
		}
	}
	return away, at, line
}

// outside returns how far p lies outside a rectangle [m].
func outside(b orb.Bound, p orb.Point) float64 {
	return math.Hypot(max(0, b.Min[0]-p[0], p[0]-b.Max[0]), max(0, b.Min[1]-p[1], p[1]-b.Max[1]))
}
