package view

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/grid"
)

// An index is what is worked out from a scene once and used at every drawing.
type index struct {
	// shades are the relief at full size, half, a quarter and so on.
	shades   []grid.Grid[uint8]
	contours []contourLine
	// spacing is about how far apart contours lie on the whole ground [m].
	spacing float64
	// pond is the water that stands in the scheme.
	pond pond
	// days is how many days a year water stands, as a pond of days.
	days pond
	// unknown is set when some of the ground in relief is not known.
	unknown bool
	// cut is how far the scheme digs into the ground, as a pond of cut.
	cut pond
}

// A contourLine is one line of a contour, with its bound.
type contourLine struct {
	line  orb.LineString
	bound orb.Bound
	level float64
	heavy bool
	// parts follow each other along the line.
	parts []linePart
}

// A linePart is the points of a line from one up to and with another.
type linePart struct {
	from, to int
	bound    orb.Bound
}

// partLength is how many sides a part has: few, so that what is out of the picture
// is passed over, and so many that the passing over costs little.
const partLength = 48

// inParts cuts a line into parts.
func inParts(line orb.LineString) []linePart {
	parts := make([]linePart, 0, len(line)/partLength+1)
	for from := 0; from < len(line)-1; from += partLength {
		to := min(from+partLength, len(line)-1)
		parts = append(parts, linePart{from, to, line[from : to+1].Bound()})
	}
	return parts
}

// runs returns the runs of a line, cut into parts, in which it may be in the picture
// or so many pixels about it. A part has the same points in every picture.
func (k *canvas) runs(line orb.LineString, parts []linePart, margin float64) [][]orb.Point {
	var runs [][]orb.Point
	joins := false
	for _, part := range parts {
		if !k.sees(part.bound, margin) {
			joins = false
			continue
		}
		seen := k.line(line[part.from : part.to+1])
		if joins {
			runs[len(runs)-1] = append(runs[len(runs)-1], seen[1:]...)
		} else {
			runs = append(runs, seen)
		}
		joins = true
	}
	return runs
}

// A hollowShape is a hollow's outline with rounded corners, its bound, and where
// it is deepest.
type hollowShape struct {
	area    orb.MultiPolygon
	bound   orb.Bound
	deepest orb.Point
}

// newIndex takes from the index of a scene before what its relief has in common
// with this one.
func newIndex(s, before *Scene) *index {
	x := &index{pond: newPond(s.Wet, s.Ground), days: newDays(s.Days)}
	if s.Site != nil {
		x.cut = newCut(s.Site.Ground, s.Ground)
	}
	switch b := s.indexOf(before); {
	case b == nil:
		x.unknown, x.shades = slices.Contains(s.Shade.V, 0), halves(s.Shade, mean)
	case s.sameRelief(before):
		x.unknown, x.shades = b.unknown, b.shades
	default:
		x.unknown, x.shades = b.unknown, rehalved(s.Shade, mean, b.shades, s.reshaded)
	}
	if b := s.indexOf(before); b != nil && s.sameContours(before) {
		x.contours, x.spacing = b.contours, b.spacing
	} else {
		x.indexContours(s)
	}
	return x
}

// sameContours reports whether two scenes have one set of contours.
func (s *Scene) sameContours(t *Scene) bool {
	return len(s.Contours) > 0 && len(t.Contours) > 0 && &s.Contours[0] == &t.Contours[0]
}

// indexOf returns the index of the scene that the relief is taken over from, or
// nothing.
func (s *Scene) indexOf(before *Scene) *index {
	if before == nil || s.before == nil && !s.sameRelief(before) {
		return nil
	}
	return before.prepared
}

func (s *Scene) index() *index {
	if s.prepared != nil {
		return s.prepared
	}
	return newIndex(s, nil)
}

func (x *index) indexContours(s *Scene) {
	var length float64
	for _, c := range s.Contours {
		for _, line := range c.Lines {
			if len(line) < 2 {
				continue
			}
			length += planar.Length(line)
			x.contours = append(x.contours, contourLine{line: line, bound: line.Bound(), level: c.Level, heavy: c.Index, parts: inParts(line)})
		}
	}
	b := s.Bound()
	x.spacing = math.Inf(1)
	if length > 0 {
		x.spacing = (b.Max[0] - b.Min[0]) * (b.Max[1] - b.Min[1]) / length
	}
}

// rounded takes the steps out of outlines that follow the edges of cells.
func rounded(area orb.MultiPolygon) orb.MultiPolygon {
	round := make(orb.MultiPolygon, len(area))
	for i, polygon := range area {
		for _, ring := range polygon {
			round[i] = append(round[i], smoothRing(middles(ring), 1))
		}
	}
	return round
}

// middles joins the middles of a ring's sides, which turns a flight of equal
// steps into a straight line.
func middles(ring orb.Ring) orb.Ring {
	if len(ring) < 6 {
		return ring
	}
	joined := make(orb.Ring, 0, len(ring))
	for i := 1; i < len(ring); i++ {
		joined = append(joined, along(ring[i-1], ring[i], 0.5))
	}
	return append(joined, joined[0])
}
