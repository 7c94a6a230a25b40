package tool

import (
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/plan"
)

// A trail is points put down one after another, with the place under the
// pointer where the next would go.
type trail struct {
	near   nearby
	points orb.LineString
	cursor place
	// closes is set when a press on the first point closes the trail.
	closes bool
}

// place is where the next point would go.
type place struct {
	known bool
	at    orb.Point
	snap  *plan.Snap
	// closing is set over the first point of a trail that can be closed.
	closing bool
}

// place snaps the pointer to what is near it, or holds it to steps of 45° from
// the last point.
func (t *trail) place(p Pointer) place {
	if t.closable() && planar.Distance(p.At, t.points[0]) <= p.Reach {
		return place{known: true, at: t.points[0], closing: true}
	}
	if p.Shift && len(t.points) > 0 {
		return place{known: true, at: constrain(t.points[len(t.points)-1], p.At)}
	}
	if !p.Ctrl {
		if snap, ok := t.near.index().Snap(p.At, p.Reach, 0); ok {
			return place{known: true, at: snap.At, snap: &snap}
		}
	}
	return place{known: true, at: p.At}
}

func (t *trail) closable() bool { return t.closes && len(t.points) >= 3 }

// extend puts a point down, unless it would lie on the last one.
func (t *trail) extend() {
	if !t.onLast() {
		t.points = append(t.points, t.cursor.at)
	}
}

// shorten takes the last point back.
func (t *trail) shorten() {
	t.points = t.points[:len(t.points)-1]
	t.cursor.closing = false
}

func (t *trail) clear() { t.points, t.cursor.closing = nil, false }

// onLast reports that the next point would lie on the last one.
func (t *trail) onLast() bool {
	return len(t.points) > 0 && t.cursor.at == t.points[len(t.points)-1]
}

// reaching returns the points and the place under the pointer.
func (t *trail) reaching() orb.LineString {
	points := slices.Clone(t.points)
	if t.cursor.known && !t.cursor.closing && !t.onLast() {
		points = append(points, t.cursor.at)
	}
	return points
}
