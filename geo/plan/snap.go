package plan

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// A Snap is a place on a feature that a drawn point is drawn to.
type Snap struct {
	At orb.Point
	ID ID
	// Vertex is set when the place is one of the feature's own points.
	Vertex bool
	// Crosses is the other feature where the place is a crossing of two; else 0.
	Crosses ID
	// Edge is the side of the feature that the place is on; empty at a vertex.
	Edge [2]orb.Point
}

// A Drawing is what a point is drawn for: the kind of the feature, its ID if it
// stands in the plan already, and the points it has, to which no other of its
// points is drawn.
type Drawing struct {
	Kind   Kind
	ID     ID
	Points orb.LineString
}

// BesideChannel is how far off a channel's line what belongs to it may be put, where its own section is no wider [m].
const BesideChannel = 1.0

// Snap returns the place to which p is drawn within reach [m]: the nearest
// vertex if there is one, of a curve the nearest knot; else the nearest crossing
// of two features; else the nearest place on a line or outline. What carries
// water is drawn to what carries water before anything else, and what lies across a
// channel to the channel. An island is not
// drawn to the channel that it parts. The feature drawn is left out.
func (x *Index) Snap(p orb.Point, reach float64, of Drawing) (Snap, bool) {
	if of.Kind == Section || of.Kind == Crossing {
		if s, ok := x.snap(p, max(reach, BesideChannel), of, func(f Feature) bool { return f.Kind == Channel }); ok {
			return s, true
		}
	}
	if carriesWater(of.Kind) {
		if s, ok := x.snap(p, reach, of, func(f Feature) bool { return carriesWater(f.Kind) }); ok {
			return s, true
		}
	}
	return x.snap(p, reach, of, func(f Feature) bool { return of.Kind != Island || f.Kind != Channel })
}

// carriesWater reports whether a kind is part of a course of water.
func carriesWater(k Kind) bool {
	switch k {
	case Drain, Inlet, Culvert, Channel, Sill, Spillway:
		return true
	}
	return false
}

func (x *Index) snap(p orb.Point, reach float64, of Drawing, to func(Feature) bool) (Snap, bool) {
	c := catch{p: p, reach: reach, of: of, vertexAt: reach, edgeAt: reach}
	x.each(p, reach, func(i int) {
		if f := x.features[i]; (of.ID == 0 || f.ID != of.ID) && to(f) {
			c.vertices(f)
			c.sides(f)
		}
	})
	if c.vertex.ID != 0 {
		return c.vertex, true
	}
	if crossing, ok := c.crossing(); ok {
		return crossing, true
	}
	return c.edge, c.edge.ID != 0
}

// A catch is what a snap at p has found so far: the nearest vertex and edge with
// their distances [m], and all sides within reach.
type catch struct {
	p                orb.Point
	reach            float64
	of               Drawing
	vertex, edge     Snap
	vertexAt, edgeAt float64
	within           []Snap
}

// mostSidesCrossed is how many sides within reach are asked where they cross.
const mostSidesCrossed = 16

func (c *catch) vertices(f Feature) {
	for _, line := range f.Points() {
		for _, q := range line {
			if d := planar.Distance(c.p, q); d <= c.vertexAt && !slices.Contains(c.of.Points, q) {
				c.vertex, c.vertexAt = Snap{At: q, ID: f.ID, Vertex: true}, d
			}
		}
	}
}

func (c *catch) sides(f Feature) {
	for _, line := range Lines(f.Geometry) {
		for j := 1; j < len(line); j++ {
			on := NearestOnSegment(line[j-1], line[j], c.p)
			d := planar.Distance(c.p, on)
			if d > c.reach || slices.Contains(c.of.Points, on) {
				continue
			}
			side := Snap{At: on, ID: f.ID, Edge: [2]orb.Point{line[j-1], line[j]}}
			if d <= c.edgeAt {
				c.edge, c.edgeAt = side, d
			}
			if len(c.within) < mostSidesCrossed {
				c.within = append(c.within, side)
			}
		}
	}
}

// crossing returns the nearest crossing within reach of sides of two features.
func (c *catch) crossing() (nearest Snap, ok bool) {
	least := c.reach
	for i, a := range c.within {
		for _, b := range c.within[:i] {
			at, cross := Meet(a.Edge, b.Edge)
			if d := planar.Distance(c.p, at); cross && a.ID != b.ID && d <= least && !slices.Contains(c.of.Points, at) {
				nearest, least, ok = Snap{At: at, ID: b.ID, Crosses: a.ID}, d, true
			}
		}
	}
	return nearest, ok
}

// aligned is the sine of the angle at which two sides are taken for parallel: where they
// would meet is lost in the digits.
const aligned = 1e-12

// Meet returns where two sides cross; ok is false where they do not, or run
// alike.
func Meet(a, b [2]orb.Point) (at orb.Point, ok bool) {
	ux, uy := a[1][0]-a[0][0], a[1][1]-a[0][1]
	vx, vy := b[1][0]-b[0][0], b[1][1]-b[0][1]
	wx, wy := b[0][0]-a[0][0], b[0][1]-a[0][1]
	across := ux*vy - uy*vx
	if math.Abs(across) <= aligned*math.Hypot(ux, uy)*math.Hypot(vx, vy) {
		return at, false
	}
	s, t := (wx*vy-wy*vx)/across, (wx*uy-wy*ux)/across
	return orb.Point{a[0][0] + s*ux, a[0][1] + s*uy}, s >= 0 && s <= 1 && t >= 0 && t <= 1
}
