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
	// kind is what is drawn; NoKind for a tape measure.
	kind plan.Kind
	// pressedAt is where the pointer was when the last point was put down.
	pressedAt orb.Point
	// closes is set when a press on the first point closes the trail.
	closes bool
}

// place is where the next point would go.
type place struct {
	known bool
	// pointer is the pointer's own place, at the one it is drawn to.
	pointer, at orb.Point
	cue         Cue
	// closing is set over the first point of a trail that can be closed.
	closing bool
}

// tremble is the share of the reach within which a second press is taken for
// one on the same place: 2 px of the pointer's 8.
const tremble = 0.25

// place draws the pointer to what it is near. Of the trail's own points that is
// none but the first, to close it.
func (t *trail) place(p Pointer) place {
	if t.closable() && planar.Distance(p.At, t.points[0]) <= p.Reach {
		return place{known: true, pointer: p.At, at: t.points[0], cue: Cue{Pull: Home, At: t.points[0]}, closing: true}
	}
	n := len(t.points)
	if n > 0 && planar.Distance(p.At, t.pressedAt) <= tremble*p.Reach {
		return place{known: true, pointer: p.At, at: t.points[n-1]}
	}
	from := slices.Clone(t.points)
	slices.Reverse(from)
	cue := t.near.pull(aim{pointer: p, drawing: plan.Drawing{Kind: t.kind, Points: t.points}, from: from})
	return place{known: true, pointer: p.At, at: cue.At, cue: cue}
}

// Aim implements Plotter.
func (t *trail) Aim(p orb.Point) { t.cursor = place{known: true, pointer: p, at: p} }

// side is the side to the pointer, once a point is put down.
func (t *trail) side() *Side {
	n := len(t.points)
	if n == 0 || !t.cursor.known {
		return nil
	}
	return newSide(t.near.doc.Site().Ground, t.points[n-1], t.cursor.at)
}

func (t *trail) closable() bool { return t.closes && len(t.points) >= 3 }

// extend puts a point down, unless it would lie on the last one.
func (t *trail) extend() {
	if !t.onLast() {
		t.points = append(t.points, t.cursor.at)
		t.pressedAt = t.cursor.pointer
	}
}

// shorten takes the last point back.
func (t *trail) shorten() {
	t.points = t.points[:len(t.points)-1]
	if n := len(t.points); n > 0 {
		t.pressedAt = t.points[n-1]
	}
	t.cursor.closing = false
}

// clear forgets the points, and what the pointer was drawn to with them.
func (t *trail) clear() {
	t.points, t.cursor.closing = nil, false
	t.cursor.cue, t.cursor.at = Cue{}, t.cursor.pointer
}

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
