package plan

import (
	"cmp"
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

// Hit returns the feature that a press at p touches, within reach [m]. It asks
// in the order in which things lie over each other: points; lines by their
// middle, a boundary by its outline; areas, the smallest first; lines by the
// width they stand for; and last what is only near. A channel is parted by an
// island, so that inside one its middle counts no more than its width. Of two
// alike the nearer wins, then the later drawn.
func (x *Index) Hit(p orb.Point, reach float64) (Feature, bool) {
	onIsland := x.onIsland(p)
	best, least := -1, press{rank: nearOnly + 1}
	x.each(p, reach, func(i int) {
		now := pressOn(x.features[i], p, reach)
		if now.distance > reach {
			return
		}
		if onIsland && now.rank == middle && x.features[i].Kind == Channel {
			now.rank = width
		}
		if now.before(least) || !least.before(now) && i > best {
			best, least = i, now
		}
	})
	if best < 0 {
		return Feature{}, false
	}
	return x.features[best], true
}

func (x *Index) onIsland(p orb.Point) bool {
	on := false
	x.each(p, 0, func(i int) {
		f := x.features[i]
		on = on || f.Kind == Island && planar.PolygonContains(f.Area(), p)
	})
	return on
}

// A rank says what of a feature a press has touched, the uppermost first.
type rank uint8

const (
	point rank = iota
	middle
	area
	width
	nearOnly
)

// A press is how a place lies to a feature: distance [m] from what rank says,
// below nought inside a width; size [m²] of the area touched.
type press struct {
	rank           rank
	size, distance float64
}

func (a press) before(b press) bool {
	return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.size, b.size), cmp.Compare(a.distance, b.distance)) < 0
}

func pressOn(f Feature, p orb.Point, reach float64) press {
	shape := SpecOf(f.Kind).Shape
	if shape == PointShape {
		return press{rank: point, distance: Distance(f.Geometry, p)}
	}
	if f.Kind == Boundary {
		return press{rank: middle, distance: toLines(f.Geometry, p)}
	}
	d := Distance(f.Geometry, p)
	if shape == AreaShape {
		if d > 0 {
			return press{rank: nearOnly, distance: d}
		}
		return press{rank: area, size: math.Abs(planar.Area(f.Geometry))}
	}
	switch half := f.Width() / 2; {
	case d <= reach:
		return press{rank: middle, distance: d}
	case d <= half:
		return press{rank: width, distance: d - half}
	default:
		return press{rank: nearOnly, distance: d - half}
	}
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
	return toLines(g, p)
}

// toLines returns the distance [m] from p to the lines of a geometry, outlines
// among them.
func toLines(g orb.Geometry, p orb.Point) float64 {
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
