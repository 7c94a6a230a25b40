package tool

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/app/site"
	"runnel/geo/plan"
)

// nearby keeps the index of what is shown until the site or the scheme changes.
type nearby struct {
	doc    *site.Document
	board  *Board
	of     *plan.Site
	scheme plan.SchemeID
	built  *plan.Index
}

func (n *nearby) index() *plan.Index {
	if s := n.doc.Site(); n.of != s || n.scheme != n.board.Scheme {
		n.of, n.scheme = s, n.board.Scheme
		n.built = plan.NewIndex(s.Plan.In(n.scheme))
	}
	return n.built
}

// on puts the name of what the pointer is drawn to before a hint.
func (n *nearby) on(c Cue, hint string) string {
	f, ok := n.doc.Site().Plan.Find(c.ID)
	if !ok || c.ID == 0 {
		return hint
	}
	return fmt.Sprintf("On %s: %s", f.Title(), strings.ToLower(hint[:1])+hint[1:])
}

// constrain turns the line from a to b to the nearest step of 45°, b at the
// foot of its perpendicular.
func constrain(a, b orb.Point) orb.Point {
	dx, dy := b[0]-a[0], b[1]-a[1]
	sin, cos := math.Sincos(math.Round(math.Atan2(dy, dx)/(math.Pi/4)) * (math.Pi / 4))
	along := dx*cos + dy*sin
	return orb.Point{a[0] + along*cos, a[1] + along*sin}
}

// closed returns points as a ring.
func closed(points orb.LineString) orb.Ring {
	if len(points) == 0 {
		return nil
	}
	ring := make(orb.Ring, 0, len(points)+1)
	ring = append(ring, points...)
	return append(ring, points[0])
}

// figures returns the length [m] along points and the area [m²] they enclose;
// an outline's length goes all the way round.
func figures(points orb.LineString, outline bool) (length, area float64) {
	if !outline {
		return planar.Length(points), 0
	}
	ring := closed(points)
	return planar.Length(ring), math.Abs(planar.Area(ring))
}

// withoutEnd leaves out the point that closes a ring of g.
func withoutEnd(g orb.Geometry, line orb.LineString) orb.LineString {
	if _, ring := g.(orb.Polygon); ring && len(line) > 0 {
		return line[:len(line)-1]
	}
	return line
}

// A spot is one of the points that shape a feature: of its lines in the order of
// plan.Feature.Points, and of the points in that line.
type spot struct{ line, point int }

// spots lists the points that shape a feature.
func spots(f plan.Feature) []spot {
	var all []spot
	for i, line := range f.Points() {
		for j := range line {
			all = append(all, spot{i, j})
		}
	}
	return all
}

func at(f plan.Feature, s spot) orb.Point { return f.Points()[s.line][s.point] }

// A middle is the place half way between two points of a feature.
type middle struct {
	at orb.Point
	// before is the spot that a point put in there would take.
	before spot
}

// middles lists the places half way between the points of f that are further
// apart than least [m].
func middles(f plan.Feature, least float64) []middle {
	var all []middle
	points := f.Points()
	for i, line := range plan.Lines(f.Geometry) {
		if i == 0 && f.Curved() {
			all = bends(f.Knots, line, least)
			continue
		}
		for j := 1; j < len(line); j++ {
			a, b := line[j-1], line[j]
			if planar.Distance(a, b) > least && j <= len(points[i]) {
				all = append(all, middle{orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}, spot{i, j}})
			}
		}
	}
	return all
}

// bends lists the places on a curve's course half way between its knots.
func bends(knots, course orb.LineString, least float64) []middle {
	var all []middle
	from := 0
	for j := 1; j <= len(knots); j++ {
		step := slices.Index(course[from+1:], knots[j%len(knots)])
		if step < 0 {
			continue // a knot on the one before, or the end of an open curve
		}
		to := from + 1 + step
		a, b := course[(from+to)/2], course[(from+to+1)/2]
		if planar.Distance(course[from], course[to]) > least {
			all = append(all, middle{orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}, spot{0, j}})
		}
		from = to
		if from == len(course)-1 {
			break
		}
	}
	return all
}

// reshape returns a copy of f with the points that shape one of its lines changed.
func reshape(f plan.Feature, line int, change func(orb.LineString) orb.LineString) plan.Feature {
	points := change(slices.Clone(f.Points()[line]))
	if f.Curved() && line == 0 {
		return f.Through(points)
	}
	switch g := orb.Clone(f.Geometry).(type) {
	case orb.Point:
		f.Geometry = points[0]
	case orb.LineString:
		f.Geometry = points
	case orb.Polygon:
		g[line] = closed(points)
		f.Geometry = g
	}
	return f
}

// moved returns a copy of f with one point at p.
func moved(f plan.Feature, s spot, p orb.Point) plan.Feature {
	return reshape(f, s.line, func(points orb.LineString) orb.LineString {
		points[s.point] = p
		return points
	})
}

// inserted returns a copy of f with p put in at s.
func inserted(f plan.Feature, s spot, p orb.Point) plan.Feature {
	return reshape(f, s.line, func(points orb.LineString) orb.LineString {
		return slices.Insert(points, s.point, p)
	})
}

// without returns a copy of f that lacks one point; a hole left with too few
// goes as a whole. ok is false when the shape needs the point.
func without(f plan.Feature, s spot) (shape plan.Feature, ok bool) {
	line := f.Points()[s.line]
	switch area, isArea := f.Geometry.(orb.Polygon); {
	case isArea && len(line) <= 3 && s.line > 0:
		f.Geometry = slices.Delete(area.Clone(), s.line, s.line+1)
		return f, true
	case isArea && len(line) <= 3, len(line) <= 2:
		return f, false
	}
	return reshape(f, s.line, func(points orb.LineString) orb.LineString {
		return slices.Delete(points, s.point, s.point+1)
	}), true
}

// mapped returns a copy of f with every point moved as change says.
func mapped(f plan.Feature, change func(orb.Point) orb.Point) plan.Feature {
	for i := range f.Points() {
		f = reshape(f, i, func(points orb.LineString) orb.LineString {
			for j, p := range points {
				points[j] = change(p)
			}
			return points
		})
	}
	return f
}

// shifted returns a copy of f moved by (dx, dy) [m].
func shifted(f plan.Feature, dx, dy float64) plan.Feature {
	return mapped(f, func(p orb.Point) orb.Point { return orb.Point{p[0] + dx, p[1] + dy} })
}

// turned returns a copy of f turned clockwise about a place, in degrees.
func turned(f plan.Feature, about orb.Point, degrees float64) plan.Feature {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return mapped(f, func(p orb.Point) orb.Point {
		dx, dy := p[0]-about[0], p[1]-about[1]
		return orb.Point{about[0] + dx*cos + dy*sin, about[1] + dy*cos - dx*sin}
	})
}

// mirrored returns a copy of f mirrored about the line through a and b.
func mirrored(f plan.Feature, a, b orb.Point) plan.Feature {
	ux, uy := b[0]-a[0], b[1]-a[1]
	square := ux*ux + uy*uy
	left, hasLeft := f.Fields["side_left"]
	right, hasRight := f.Fields["side_right"]
	f = f.Without("side_left").Without("side_right") // what was left of it lies to its right
	if hasLeft {
		f = f.With("side_right", left)
	}
	if hasRight {
		f = f.With("side_left", right)
	}
	return mapped(f, func(p orb.Point) orb.Point {
		// Off the line by so much of its normal (-uy, ux), to the other side.
		off := ((p[1]-a[1])*ux - (p[0]-a[0])*uy) / square
		return orb.Point{p[0] + 2*off*uy, p[1] - 2*off*ux}
	})
}

// boundOf returns the bound of features.
func boundOf(features []plan.Feature) orb.Bound {
	b := features[0].Geometry.Bound()
	for _, f := range features[1:] {
		b = b.Union(f.Geometry.Bound())
	}
	return b
}
