package propose

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/geo/plan"
)

// A thing is what a channel keeps clear of.
type thing struct {
	kind plan.Kind // NoKind for an area that a person marked
	id   plan.ID
	// limit is the setback [m]; from is how far from its geometry the thing itself
	// reaches, as a crown does from its trunk [m].
	limit, from float64
	// lines are its outlines or its line; areas are set where the inside counts.
	lines []orb.LineString
	areas []orb.Polygon
	bound orb.Bound
	// within is set for the boundaries, inside one of which the channel is kept.
	within bool
}

// away returns the distance of p from the thing [m]: nought inside an area, negative
// outside a boundary.
func (t *thing) away(p orb.Point) float64 {
	inside := t.inside(p)
	if inside && !t.within {
		return -t.from
	}
	least := math.Inf(1)
	for _, line := range t.lines {
		for i, a := range line {
			if i == 0 {
				if len(line) == 1 {
					least = min(least, square(a, p))
				}
				continue
			}
			least = min(least, squareFrom(line[i-1], a, p))
		}
	}
	d := math.Sqrt(least)
	if t.within && !inside {
		return -d
	}
	return d - t.from
}

func (t *thing) inside(p orb.Point) bool {
	return t.bound.Contains(p) && slices.ContainsFunc(t.areas, func(area orb.Polygon) bool { return planar.PolygonContains(area, p) })
}

// slack is how much further than its limit p lies from the thing [m].
func (t *thing) slack(p orb.Point) float64 { return t.away(p) - t.limit }

// slackAbove returns the least slack at p of some things [m], or least where that is
// less.
func slackAbove(things []thing, p orb.Point, least float64) float64 {
	for i := range things {
		t := &things[i]
		if !t.within && outside(t.bound, p)-t.from-t.limit >= least {
			continue
		}
		least = min(least, t.slack(p))
	}
	return least
}

func square(a, b orb.Point) float64 {
	dx, dy := a[0]-b[0], a[1]-b[1]
	return dx*dx + dy*dy
}

func squareFrom(a, b, p orb.Point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	ex, ey := p[0]-a[0], p[1]-a[1]
	if length := dx*dx + dy*dy; length > 0 {
		t := max(0, min(1, (ex*dx+ey*dy)/length))
		ex, ey = ex-t*dx, ey-t*dy
	}
	return ex*ex + ey*ey
}

// outside returns how far p lies outside a rectangle [m].
func outside(b orb.Bound, p orb.Point) float64 {
	return math.Hypot(max(0, b.Min[0]-p[0], p[0]-b.Max[0]), max(0, b.Min[1]-p[1], p[1]-b.Max[1]))
}

// thingsOf lists what is kept clear of: what is drawn on the site, the scheme's other
// channels, and the areas that are marked.
func thingsOf(s *plan.Site, q Question) []thing {
	var things []thing
	var plot thing
	for _, f := range append(s.Plan.In(plan.AsItIs), Kept(s, q)...) {
		limit, from, counts := q.setback(f)
		switch {
		case !counts || plan.Check(f) != nil:
		case f.Kind == plan.Boundary && plot.within:
			plot.lines = append(plot.lines, plan.Lines(f.Geometry)...)
			plot.areas, plot.bound = append(plot.areas, f.Area()), plot.bound.Union(f.Geometry.Bound())
		case f.Kind == plan.Boundary:
			plot = newThing(f, limit, from)
		default:
			things = append(things, newThing(f, limit, from))
		}
	}
	if plot.within {
		things = append(things, plot)
	}
	for _, area := range q.Clear {
		things = append(things, thing{lines: plan.Lines(area), areas: []orb.Polygon{area}, bound: area.Bound()})
	}
	return things
}

// underfoot lists the plantings and paths that stand beside the proposals.
func underfoot(s *plan.Site, q Question) []plan.Feature {
	var all []plan.Feature
	for _, f := range append(s.Plan.In(plan.AsItIs), Kept(s, q)...) {
		if (f.Kind == plan.Planting || f.Kind == plan.Path) && plan.Check(f) == nil {
			all = append(all, f)
		}
	}
	return all
}

func newThing(f plan.Feature, limit, from float64) thing {
	t := thing{kind: f.Kind, id: f.ID, limit: limit, from: from, lines: plan.Lines(f.Geometry), bound: f.Geometry.Bound()}
	if area := f.Area(); len(area) > 0 {
		t.areas = []orb.Polygon{area}
	}
	t.within = f.Kind == plan.Boundary
	return t
}

// setback returns how far from a feature the banks stay, and how far it reaches itself.
func (q *Question) setback(f plan.Feature) (limit, from float64, counts bool) {
	b := q.Setbacks
	switch f.Kind {
	case plan.Roof:
		return b.Building, 0, true
	case plan.Well:
		return b.Well, 0, true
	case plan.SepticField:
		return b.Septic, 0, true
	case plan.Boundary:
		return b.Boundary, 0, true
	case plan.Tree:
		return b.Tree, f.Num("spread") / 2, true
	case plan.ServiceLine:
		return b.Service, 0, true
	case plan.Paving, plan.Wall, plan.Kerb:
		return b.Paving, 0, true
	case plan.Drain, plan.Channel:
		return q.Strip, f.Width() / 2, true
	}
	return 0, 0, false
}
