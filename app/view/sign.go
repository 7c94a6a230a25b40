package view

import (
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/plan"
)

// A sign marks a place where something is to be checked: at is where it stands
// and of the place it is about, apart where the sign would hide what is there
// [px]; fault is set where what is drawn cannot be measured as it is.
type sign struct {
	at, of orb.Point
	fault  bool
}

// signShare is how many times a sign's size a thing must be for a sign to stand
// on it.
const signShare = 3

// signs gives each fault and each caution its sign, the faults first. Signs that would
// hide each other stand once.
func (k *canvas) signs(s *Scene) []sign {
	var all []sign
	small := k.smallThings(s)
	put := func(at orb.Point, fault bool) {
		p := k.point(at)
		if !finite(p) || slices.ContainsFunc(all, func(o sign) bool { return k.crowds(p, o.of) }) {
			return
		}
		g := k.setAside(p, small, all)
		g.fault = fault
		all = append(all, g)
	}
	for _, at := range s.Faults {
		put(at, true)
	}
	for _, c := range s.Cautions {
		put(c.At, false)
	}
	return all
}

// crowds reports whether signs at two places would hide each other.
func (k *canvas) crowds(p, q orb.Point) bool { return planar.Distance(p, q) < 1.2*k.look.Caution.Least }

// smallThings returns the room [px] of the areas and points that a sign would
// hide a good part of. A line goes on where the sign ends.
func (k *canvas) smallThings(s *Scene) []orb.Bound {
	if !s.Show.Has(Drawn) || len(s.Cautions)+len(s.Faults) == 0 {
		return nil
	}
	var small []orb.Bound
	for _, f := range s.features() {
		b := f.Geometry.Bound()
		if plan.SpecOf(f.Kind).Shape == plan.LineShape || f.Kind == plan.Boundary || !k.sees(b, farthest*k.px) {
			continue
		}
		low, high := k.point(orb.Point{b.Min[0], b.Max[1]}), k.point(orb.Point{b.Max[0], b.Min[1]})
		seen := orb.Bound{Min: low, Max: high}
		if plan.SpecOf(f.Kind).Shape == plan.PointShape {
			seen = seen.Pad(k.look.Kinds[f.Kind].Least)
		}
		if min(seen.Max[0]-seen.Min[0], seen.Max[1]-seen.Min[1]) < signShare*2*k.look.Caution.Least {
			small = append(small, seen)
		}
	}
	return small
}

// setAside places the sign of p: on it, or beside the small things that it would
// hide, where nothing small nor another sign is.
func (k *canvas) setAside(p orb.Point, small []orb.Bound, others []sign) sign {
	r := k.look.Caution.Least
	hides := func(q orb.Point) bool {
		return slices.ContainsFunc(small, func(b orb.Bound) bool { return b.Intersects(square(q[0], q[1], r)) })
	}
	if !hides(p) {
		return sign{at: p, of: p}
	}
	free := func(q orb.Point) bool {
		return k.taken.within(square(q[0], q[1], r)) && !hides(q) &&
			!slices.ContainsFunc(others, func(o sign) bool { return planar.Distance(q, o.at) < 2.4*r })
	}
	for away := 2.2 * r; away < 9*r; away += 0.8 * r {
		for _, way := range signWays {
			if q := (orb.Point{p[0] + way[0]*away, p[1] + way[1]*away}); free(q) {
				return sign{at: q, of: p}
			}
		}
	}
	return sign{at: p, of: p}
}

// signWays are the directions in which a sign is set aside, the best first.
var signWays = []orb.Point{{0.7, -0.7}, {-0.7, -0.7}, {0, -1}, {1, 0}, {-1, 0}, {0.7, 0.7}, {-0.7, 0.7}, {0, 1}}

// drawSign draws a sign, one that stands aside with a leader to its place.
func (k *canvas) drawSign(g sign) {
	look := k.look.Caution
	if g.fault {
		look = k.look.Fault
	}
	if g.at != g.of {
		leader := []orb.Point{g.of, g.at}
		k.draw(leader, Pen{Colour: look.Edge.Colour, Width: 3.4 * k.px})
		k.draw(leader, Pen{Colour: look.Body, Width: 1.4 * k.px})
		k.disc(g.of, 1.8*k.px, Style{Body: look.Body, Edge: Pen{Colour: look.Edge.Colour, Width: k.px}})
	}
	if g.fault {
		k.faultMark(g.at)
		return
	}
	k.cautionMark(g.at)
}
