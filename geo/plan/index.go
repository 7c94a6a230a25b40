package plan

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/tidwall/rtree"
)

// An Index finds the features near a point. It is a picture of the features
// it was made from; make another when they change.
type Index struct {
	features []Feature
	tree     rtree.RTreeG[int]
}

// NewIndex indexes features, which it keeps and does not change.
func NewIndex(features []Feature) *Index {
	x := &Index{features: features}
	for i, f := range features {
		if f.Geometry != nil {
			b := f.Geometry.Bound().Pad(f.Width() / 2)
			x.tree.Insert(b.Min, b.Max, i)
		}
	}
	return x
}

// Hit returns the feature nearest to p within reach [m]. A line is as wide as
// what it stands for, and a boundary is its outline, not all the plot within. A
// point or a line wins over the area it lies on, and the later drawn wins over
// the earlier.
func (x *Index) Hit(p orb.Point, reach float64) (Feature, bool) {
	best, bestDistance, bestRank := -1, math.Inf(1), math.MaxInt
	x.each(p, reach, func(i int) {
		f := x.features[i]
		distance, rank := away(f, p), 0
		if SpecOf(f.Kind).Shape == AreaShape {
			rank = 1
		}
		if distance > reach || rank > bestRank {
			return
		}
		if rank < bestRank || distance < bestDistance || distance == bestDistance && i > best {
			best, bestDistance, bestRank = i, distance, rank
		}
	})
	if best < 0 {
		return Feature{}, false
	}
	return x.features[best], true
}

// away returns how far p is from a feature as a person sees it [m].
func away(f Feature, p orb.Point) float64 {
	if area, ok := f.Geometry.(orb.Polygon); ok && f.Kind == Boundary {
		least := math.Inf(1)
		for _, ring := range area {
			least = min(least, Distance(orb.LineString(ring), p))
		}
		return least
	}
	distance := Distance(f.Geometry, p)
	if SpecOf(f.Kind).Shape == LineShape {
		distance = max(0, distance-f.Width()/2)
	}
	return distance
}

// A Snap is a place on a feature that a drawn point is drawn to.
type Snap struct {
	At orb.Point
	ID ID
	// Vertex is set when the place is one of the feature's own points.
	Vertex bool
}

// Snap returns the place to which p is drawn within reach [m]: the nearest
// vertex if there is one, else the nearest place on a line or outline.
// The feature skip, the one being drawn, is left out.
func (x *Index) Snap(p orb.Point, reach float64, skip ID) (Snap, bool) {
	var vertex, edge Snap
	vertexDistance, edgeDistance := reach, reach
	x.each(p, reach, func(i int) {
		f := x.features[i]
		if f.ID == skip {
			return
		}
		for _, line := range Lines(f.Geometry) {
			for j, q := range line {
				if d := planar.Distance(p, q); d <= vertexDistance {
					vertex, vertexDistance = Snap{q, f.ID, true}, d
				}
				if j == 0 {
					continue
				}
				on := NearestOnSegment(line[j-1], q, p)
				if d := planar.Distance(p, on); d <= edgeDistance {
					edge, edgeDistance = Snap{on, f.ID, false}, d
				}
			}
		}
	})
	if vertex.ID != 0 {
		return vertex, true
	}
	return edge, edge.ID != 0
}

func (x *Index) each(p orb.Point, reach float64, visit func(i int)) {
	low, high := orb.Point{p[0] - reach, p[1] - reach}, orb.Point{p[0] + reach, p[1] + reach}
	x.tree.Search(low, high, func(_, _ [2]float64, i int) bool {
		visit(i)
		return true
	})
}

// Lines returns a geometry as lines: a point as a line of one point, a polygon
// as its rings.
func Lines(g orb.Geometry) []orb.LineString {
	switch g := g.(type) {
	case orb.Point:
		return []orb.LineString{{g}}
	case orb.LineString:
		return []orb.LineString{g}
	case orb.Polygon:
		var lines []orb.LineString
		for _, ring := range g {
			lines = append(lines, orb.LineString(ring))
		}
		return lines
	}
	return nil
}

// Distance returns the distance [m] from p to a geometry; nought inside an area.
func Distance(g orb.Geometry, p orb.Point) float64 {
	if area, ok := g.(orb.Polygon); ok && planar.PolygonContains(area, p) {
		return 0
	}
	least := math.Inf(1)
	for _, line := range Lines(g) {
		for i, q := range line {
			least = min(least, planar.Distance(p, q))
			if i > 0 {
				least = min(least, planar.Distance(p, NearestOnSegment(line[i-1], q, p)))
			}
		}
	}
	return least
}

// NearestOnSegment returns the place on the segment from a to b nearest to p.
func NearestOnSegment(a, b, p orb.Point) orb.Point {
	dx, dy := b[0]-a[0], b[1]-a[1]
	square := dx*dx + dy*dy
	if square == 0 {
		return a
	}
	t := ((p[0]-a[0])*dx + (p[1]-a[1])*dy) / square
	t = max(0, min(1, t))
	return orb.Point{a[0] + t*dx, a[1] + t*dy}
}
