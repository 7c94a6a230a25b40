package plan

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
)

// Off is how many of some features lie off a rectangle of ground.
type Off struct {
	Count int
	// Nearest is how far from the ground the nearest of them lies [m].
	Nearest float64
	// Bound is the rectangle round them.
	Bound orb.Bound
	// Degrees is set where all their coordinates might be longitudes and latitudes.
	Degrees bool
}

// OffGround finds the features that lie wholly outside a rectangle.
func OffGround(ground orb.Bound, features []Feature) Off {
	off := Off{Nearest: math.Inf(1), Degrees: true}
	for _, f := range features {
		b := f.Geometry.Bound()
		if within(ground, b) || ground.Intersects(b) && clip.Geometry(ground, orb.Clone(f.Geometry)) != nil {
			continue
		}
		if off.Count++; off.Count == 1 {
			off.Bound = b
		}
		off.Bound = off.Bound.Union(b)
		off.Nearest = min(off.Nearest, apartFrom(ground, b))
		off.Degrees = off.Degrees && math.Abs(b.Min[0]) <= 360 && math.Abs(b.Max[0]) <= 360 && math.Abs(b.Min[1]) <= 90 && math.Abs(b.Max[1]) <= 90
	}
	off.Degrees = off.Degrees && off.Count > 0
	return off
}

func within(outer, inner orb.Bound) bool {
	return outer.Contains(inner.Min) && outer.Contains(inner.Max)
}

// apartFrom returns the distance between two rectangles [m].
func apartFrom(a, b orb.Bound) float64 {
	dx := max(0, b.Min[0]-a.Max[0], a.Min[0]-b.Max[0])
	dy := max(0, b.Min[1]-a.Max[1], a.Min[1]-b.Max[1])
	return math.Hypot(dx, dy)
}
