package demand

import (
	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"
)

// leastShared is the ground that two beds may share without a word [m²]: edges that
// were drawn one along the other.
const leastShared = 0.05

// sharedPlace finds a place in the ground that two polygons share.
func sharedPlace(a, b orb.Polygon) (at orb.Point, shared bool) {
	origin := a[0][0]
	both, err := geom.Intersection(about(origin, a).AsGeometry(), about(origin, b).AsGeometry())
	if err != nil || both.Area() < leastShared {
		return at, false
	}
	xy, ok := both.PointOnSurface().XY()
	return orb.Point{origin[0] + xy.X, origin[1] + xy.Y}, ok
}

// about hands a polygon to the geometry library, from a local origin that keeps its digits.
func about(origin orb.Point, p orb.Polygon) geom.Polygon {
	rings := make([]geom.LineString, len(p))
	for i, ring := range p {
		flat := make([]float64, 0, 2*len(ring))
		for _, v := range ring {
			flat = append(flat, v[0]-origin[0], v[1]-origin[1])
		}
		rings[i] = geom.NewLineString(geom.NewSequence(flat, geom.DimXY))
	}
	return geom.NewPolygon(rings)
}
