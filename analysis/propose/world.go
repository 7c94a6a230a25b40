package propose

import (
	"context"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A world is a question with all that its trials read.
type world struct {
	site   *plan.Site
	q      Question
	ends   ends
	things []thing
	// under are the plantings and paths, through which a course may pass.
	under []plan.Feature
	// near are the things in whose setback an end lies, hard the others, and crossed
	// the service lines that have to be crossed.
	near, hard, crossed []thing
	// free is the slack of the hard things, by that of the near, service the slack of
	// the lines that are crossed.
	free, by, service field
	// start and finish are the slack of the near things at the two ends [m].
	start, finish float64
	// radius is the least of a bend [m], whatever the width.
	radius float64
	// dig is the volume by which courses are reckoned [m³]: that of the question less a
	// reserve, as what is cut into the cells comes to a little more.
	dig float64
	// scale is a contact area of the order that is to be had [m²].
	scale float64
	// route is the shortest way that keeps the limits.
	route orb.LineString
	// picked are the courses picked so far, others the distances from them [m].
	picked []orb.LineString
	others []field
}

func newWorld(s *plan.Site, q Question, e ends) *world {
	return &world{site: s, q: q, ends: e, things: thingsOf(s, q), under: underfoot(s, q), dig: (1 - reserve) * q.Volume}
}

// reserve is what a search leaves of the volume, as a share.
const reserve = 0.008

// survey works out the fields and the shortest way.
func (w *world) survey(ctx context.Context) error {
	w.radius = orElse(w.q.Radius, tightest)
	var services []thing
	half := w.usualHalf()
	for _, t := range w.things {
		by := min(t.slack(w.q.From), t.slack(w.q.To)) < half+settingOff
		switch {
		case t.kind == plan.ServiceLine:
			services = append(services, t)
		case by:
			w.near = append(w.near, t)
		default:
			w.hard = append(w.hard, t)
		}
	}
	if err := w.lay(ctx); err != nil {
		return err
	}
	way, err := w.way(ctx, services)
	if err != nil {
		return err
	}
	for _, t := range services {
		if passes(&t, way, half) {
			w.crossed = append(w.crossed, t)
		} else {
			w.hard = append(w.hard, t)
		}
	}
	w.route = way
	w.setScale(math.Inf(1))
	return w.lay(ctx)
}

// settingOff is how far beyond its half width from an end a thing still counts as near
// it [m]: there the line has had no room to turn away.
const settingOff = 1.0

// lay works out the fields.
func (w *world) lay(ctx context.Context) error {
	w.start, w.finish = slackAbove(w.near, w.q.From, far), slackAbove(w.near, w.q.To, far)
	for _, l := range []struct {
		f  *field
		of []thing
	}{{&w.free, w.hard}, {&w.by, w.near}, {&w.service, w.crossed}} {
		*l.f = newField(w.bound(), leastCell)
		if err := l.f.set(ctx, func(p orb.Point) float64 { return slackAbove(l.of, p, far) }); err != nil {
			return err
		}
	}
	return nil
}

// far is a slack that is as good as any [m].
const far = 50.0

// bound is where the line may run.
func (w *world) bound() orb.Bound {
	b := orb.MultiPoint{w.q.From, w.q.To}.Bound()
	plot := false
	for _, t := range w.things {
		if t.within {
			b, plot = b.Union(t.bound), true
		}
	}
	if !plot {
		b = b.Pad(max(15, 0.75*planar.Distance(w.q.From, w.q.To)))
	}
	b, ground := b.Pad(2), w.site.Ground.Bound()
	return orb.Bound{
		Min: orb.Point{max(b.Min[0], ground.Min[0]), max(b.Min[1], ground.Min[1])},
		Max: orb.Point{min(b.Max[0], ground.Max[0]), min(b.Max[1], ground.Max[1])},
	}
}

// usualHalf is half the width from bank to bank of the narrowest bed where the cut is
// as deep as at the inlet, or as the water needs [m].
func (w *world) usualHalf() float64 {
	deep := w.q.Depth
	if !math.IsNaN(w.ends.water) {
		deep = w.ends.water + channel.Freeboard - w.ends.bed
	}
	return w.q.Narrowest/2 + max(0, deep)*max(w.q.Left, w.q.Right)
}

// turn is the radius of a bend that turns right back and leaves the strip [m].
func (w *world) turn() float64 { return max(w.radius, w.usualHalf()+w.q.Strip/2) }

// halfAt is half the width from bank to bank of the narrowest bed at p, as deep as at
// the inlet [m].
func (w *world) halfAt(p orb.Point) float64 {
	deep := grid.Sample(w.site.Ground, p) - w.ends.bed
	return w.q.Narrowest/2 + max(0, min(deep, w.q.Deepest))*max(w.q.Left, w.q.Right)
}

// passes reports whether a way comes nearer to a thing than a half width and its limit.
func passes(t *thing, way orb.LineString, half float64) bool {
	for _, p := range way {
		if t.slack(p) < half {
			return true
		}
	}
	return false
}

// needed is how much slack of the near things the line needs at a distance along it
// from its start and its end [m], with banks so far out. It leaves a setback that an
// end lies in by a metre for each two.
func (w *world) needed(along, back, half float64) float64 {
	return min(half, w.start+along/leaving, w.finish+back/leaving)
}

const leaving = 2.0
