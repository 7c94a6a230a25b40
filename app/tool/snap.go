package tool

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Pull is what the pointer is drawn to.
type Pull uint8

// The pulls.
const (
	Free          Pull = iota
	Home               // the first point of an outline, which closes it
	OnPoint            // a point of a feature
	Crossing           // where two features cross
	Foot               // square to the feature that it lies on
	OnEdge             // a line or outline
	Steps              // a direction at steps of 45°
	Square             // square to the last side
	Onward             // in line with the last side
	SquareTo           // square to the feature that the side starts on
	AlongContour       // level, at the point that the side starts from
	AcrossContour      // straight up or down the slope there
	Stepped            // a length in whole steps
	OnGrid             // a crossing of the grid
)

// A Cue is the place that the pointer is drawn to, and why. The zero Cue is none.
type Cue struct {
	Pull Pull
	At   orb.Point
	// From is where the side starts, for pulls that give it a direction or a length.
	From orb.Point
	// ID is the feature it is drawn to, Other the second one of a crossing.
	ID, Other plan.ID
}

// An aim is what the pointer means before it is drawn to anything.
type aim struct {
	pointer Pointer
	drawing plan.Drawing
	// from are the point that the side starts from and those before it, the last
	// one first; none where no side is begun.
	from []orb.Point
}

// pulls are the ways in which the pointer is drawn, the foremost first: what is
// there already, then the direction of a side, its length, and the grid. Shift
// puts steps of 45° in the place of all but the length; Ctrl lets go of all.
var pulls = []func(*nearby, aim) (Cue, bool){
	(*nearby).toFeature, (*nearby).toDirection, (*nearby).toStep, (*nearby).toGrid,
}

// pull returns what the pointer is drawn to, or a Free cue where it is.
func (n *nearby) pull(a aim) Cue {
	switch p := a.pointer; {
	case p.Shift && len(a.from) > 0:
		at := n.whole(a.from[0], constrain(a.from[0], p.At))
		return Cue{Pull: Steps, At: at, From: a.from[0]}
	case p.Ctrl || p.Shift:
		return Cue{At: p.At}
	}
	for _, to := range pulls {
		if cue, ok := to(n, a); ok {
			return cue
		}
	}
	return Cue{At: a.pointer.At}
}

// toFeature draws to a point, a crossing or an edge within reach; on an edge to
// the foot of the side where that is in reach too.
func (n *nearby) toFeature(a aim) (Cue, bool) {
	snap, ok := n.index().Snap(a.pointer.At, a.pointer.Reach, a.drawing)
	if !ok {
		return Cue{}, false
	}
	cue := Cue{Pull: OnEdge, At: snap.At, ID: snap.ID, Other: snap.Crosses}
	switch {
	case snap.Vertex:
		cue.Pull = OnPoint
	case snap.Crosses != 0:
		cue.Pull = Crossing
	case len(a.from) > 0:
		foot := plan.NearestOnSegment(snap.Edge[0], snap.Edge[1], a.from[0])
		inside := foot != snap.Edge[0] && foot != snap.Edge[1] && foot != a.from[0]
		if inside && planar.Distance(foot, a.pointer.At) <= a.pointer.Reach {
			cue.Pull, cue.At, cue.From = Foot, foot, a.from[0]
		}
	}
	return cue, true
}

const (
	// beside is the share of the reach within which the pointer is drawn to a
	// direction, and begun how many reaches a side must be long before it is.
	beside = 0.5
	begun  = 2
	// level is the slope [m/m] below which a contour has no direction to tell.
	level = 0.002
)

// toDirection draws a side to a direction of its own: by the last side, by the
// feature it starts on, by the contour there.
func (n *nearby) toDirection(a aim) (Cue, bool) {
	if len(a.from) == 0 {
		return Cue{}, false
	}
	best, least := Cue{}, beside*a.pointer.Reach
	for _, d := range n.directions(a) {
		dx, dy := a.pointer.At[0]-a.from[0][0], a.pointer.At[1]-a.from[0][1]
		along, off := dx*d.x+dy*d.y, dy*d.x-dx*d.y
		if math.Abs(off) >= least || along < begun*a.pointer.Reach && (d.pull == Onward || along > -begun*a.pointer.Reach) {
			continue
		}
		at := a.pointer.At // which stays to the last digit where it lies there already
		if math.Abs(off) > 1e-9*math.Abs(along) {
			at = orb.Point{a.from[0][0] + along*d.x, a.from[0][1] + along*d.y}
		}
		best, least = Cue{Pull: d.pull, At: at, From: a.from[0], ID: d.of}, math.Abs(off)
	}
	best.At = n.whole(a.from[0], best.At)
	return best, best.Pull != Free
}

// A direction is a unit vector that a side may take, and why.
type direction struct {
	x, y float64
	pull Pull
	of   plan.ID
}

func (n *nearby) directions(a aim) []direction {
	var all []direction
	add := func(dx, dy float64, along, square Pull, of plan.ID) {
		size := math.Hypot(dx, dy)
		if size == 0 {
			return
		}
		if along != Free {
			all = append(all, direction{dx / size, dy / size, along, of})
		}
		all = append(all, direction{-dy / size, dx / size, square, of})
	}
	from := a.from[0]
	if len(a.from) > 1 {
		add(from[0]-a.from[1][0], from[1]-a.from[1][1], Onward, Square, 0)
	}
	const touching = 1e-6 // [m]
	if on, ok := n.index().Snap(from, touching, plan.Drawing{ID: a.drawing.ID}); ok && on.Edge[0] != on.Edge[1] {
		add(on.Edge[1][0]-on.Edge[0][0], on.Edge[1][1]-on.Edge[0][1], Free, SquareTo, on.ID)
	}
	if gx, gy := gradient(n.doc.Site().Ground, from); math.Hypot(gx, gy) > level {
		add(gx, gy, AcrossContour, AlongContour, 0)
	}
	return all
}

// gradient returns the rise of the ground to the east and to the north [m/m] at a
// place, over two cells each way; nought where the ground is not known.
func gradient(g grid.Ground, p orb.Point) (east, north float64) {
	if g.Len() == 0 {
		return 0, 0
	}
	dx, dy := 2*g.DX, 2*g.DY
	east = (grid.Sample(g, orb.Point{p[0] + dx, p[1]}) - grid.Sample(g, orb.Point{p[0] - dx, p[1]})) / (2 * dx)
	north = (grid.Sample(g, orb.Point{p[0], p[1] + dy}) - grid.Sample(g, orb.Point{p[0], p[1] - dy})) / (2 * dy)
	if math.IsNaN(east + north) {
		return 0, 0
	}
	return east, north
}

// toStep draws a side to a length of whole steps.
func (n *nearby) toStep(a aim) (Cue, bool) {
	if n.board.Step <= 0 || len(a.from) == 0 {
		return Cue{}, false
	}
	return Cue{Pull: Stepped, At: n.whole(a.from[0], a.pointer.At), From: a.from[0]}, true
}

// whole moves the end of a side along it to a length of whole steps, if there are
// any.
func (n *nearby) whole(from, to orb.Point) orb.Point {
	length := planar.Distance(from, to)
	if n.board.Step <= 0 || length == 0 {
		return to
	}
	k := math.Round(length/n.board.Step) * n.board.Step / length
	return orb.Point{from[0] + k*(to[0]-from[0]), from[1] + k*(to[1]-from[1])}
}

func (n *nearby) toGrid(a aim) (Cue, bool) {
	g := n.board.Grid
	if g <= 0 {
		return Cue{}, false
	}
	at := orb.Point{math.Round(a.pointer.At[0]/g) * g, math.Round(a.pointer.At[1]/g) * g}
	return Cue{Pull: OnGrid, At: at}, true
}
