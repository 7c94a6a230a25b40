package tool

import (
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
func (n *nearby) on(s *plan.Snap, hint string) string {
	if s == nil {
		return hint
	}
	f, ok := n.doc.Site().Plan.Find(s.ID)
	if !ok {
		return hint
	}
	return "On " + f.Title() + ": " + strings.ToLower(hint[:1]) + hint[1:]
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

// A spot is one point of a geometry: of its lines in the order of plan.Lines,
// and of the points in that line.
type spot struct{ line, point int }

// spots lists a geometry's points; the point that closes a ring is left out.
func spots(g orb.Geometry) []spot {
	var all []spot
	for i, line := range plan.Lines(g) {
		for j := range openEnd(g, line) {
			all = append(all, spot{i, j})
		}
	}
	return all
}

func openEnd(g orb.Geometry, line orb.LineString) orb.LineString {
	if _, ring := g.(orb.Polygon); ring && len(line) > 0 {
		return line[:len(line)-1]
	}
	return line
}

func at(g orb.Geometry, s spot) orb.Point { return plan.Lines(g)[s.line][s.point] }

// A middle is the place half way along an edge.
type middle struct {
	at orb.Point
	// before is the spot that a point put in there would take.
	before spot
}

// middles lists the middles of the edges of g that are longer than least [m].
func middles(g orb.Geometry, least float64) []middle {
	var all []middle
	for i, line := range plan.Lines(g) {
		for j := 1; j < len(line); j++ {
			a, b := line[j-1], line[j]
			if planar.Distance(a, b) > least {
				all = append(all, middle{orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}, spot{i, j}})
			}
		}
	}
	return all
}

// reshape returns a copy of g with the open points of one line or ring changed.
func reshape(g orb.Geometry, line int, change func(orb.LineString) orb.LineString) orb.Geometry {
	switch g := orb.Clone(g).(type) {
	case orb.Point:
		return change(orb.LineString{g})[0]
	case orb.LineString:
		return change(g)
	case orb.Polygon:
		g[line] = closed(change(openEnd(g, orb.LineString(g[line]))))
		return g
	}
	return g
}

// moved returns a copy of g with one point at p.
func moved(g orb.Geometry, s spot, p orb.Point) orb.Geometry {
	return reshape(g, s.line, func(points orb.LineString) orb.LineString {
		points[s.point] = p
		return points
	})
}

// inserted returns a copy of g with p put in at s.
func inserted(g orb.Geometry, s spot, p orb.Point) orb.Geometry {
	return reshape(g, s.line, func(points orb.LineString) orb.LineString {
		return slices.Insert(points, s.point, p)
	})
}

// without returns a copy of g that lacks one point; a hole left with too few
// goes as a whole. ok is false when the shape needs the point.
func without(g orb.Geometry, s spot) (shape orb.Geometry, ok bool) {
	line := openEnd(g, plan.Lines(g)[s.line])
	switch area, isArea := g.(orb.Polygon); {
	case isArea && len(line) <= 3 && s.line > 0:
		return slices.Delete(area.Clone(), s.line, s.line+1), true
	case isArea && len(line) <= 3, len(line) <= 2:
		return nil, false
	}
	return reshape(g, s.line, func(points orb.LineString) orb.LineString {
		return slices.Delete(points, s.point, s.point+1)
	}), true
}

// shifted returns a copy of g moved by (dx, dy) [m].
func shifted(g orb.Geometry, dx, dy float64) orb.Geometry {
	g = orb.Clone(g)
	for i := range plan.Lines(g) {
		g = reshape(g, i, func(points orb.LineString) orb.LineString {
			for j := range points {
				points[j][0] += dx
				points[j][1] += dy
			}
			return points
		})
	}
	return g
}
