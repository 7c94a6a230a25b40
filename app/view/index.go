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
	reaches []reach
	hollows []hollowShape
	pond    pond
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
}

// A hollowShape is a hollow's outline with rounded corners, its bound, and where
// it is deepest.
type hollowShape struct {
	area    orb.MultiPolygon
	bound   orb.Bound
	deepest orb.Point
}

// leastCells is the size from which a hollow is drawn: a smaller one has no
// shape to speak of and is more likely the survey's error than the ground's.
const leastCells = 6

func newIndex(s *Scene) *index {
	x := &index{unknown: slices.Contains(s.Shade.V, 0), shades: halves(s.Shade), reaches: reaches(s.Area, s.Dir), pond: newPond(s.Wet, s.Ground)}
	if s.Site != nil {
		x.cut = newCut(s.Site.Ground, s.Ground)
	}
	x.indexContours(s)
	for _, h := range s.Hollows {
		if h.Cells < leastCells {
			continue
		}
		x.hollows = append(x.hollows, hollowShape{area: rounded(h.Outline), bound: h.Outline.Bound(), deepest: h.Deepest})
	}
	return x
}

func (s *Scene) index() *index {
	if s.prepared != nil {
		return s.prepared
	}
	return newIndex(s)
}

func (x *index) indexContours(s *Scene) {
	var length float64
	for _, c := range s.Contours {
		for _, line := range c.Lines {
			if len(line) < 2 {
				continue
			}
			length += planar.Length(line)
			x.contours = append(x.contours, contourLine{line: line, bound: line.Bound(), level: c.Level, heavy: c.Index})
		}
	}
	b := s.Bound()
	x.spacing = math.Inf(1)
	if length > 0 {
		x.spacing = (b.Max[0] - b.Min[0]) * (b.Max[1] - b.Min[1]) / length
	}
}

// leastShade is the longer side [cells] below which the relief is not halved again.
const leastShade = 256

// halves returns a relief and ever smaller copies of it. Each cell of a copy is
// the mean of the four it covers, cells that are not known left out, so that a
// ground seen from far does not sparkle.
func halves(g grid.Grid[uint8]) []grid.Grid[uint8] {
	all := []grid.Grid[uint8]{g}
	for max(g.W, g.H) > leastShade {
		g = half(g)
		all = append(all, g)
	}
	return all
}

func half(g grid.Grid[uint8]) grid.Grid[uint8] {
	f := g.Frame
	f.W, f.H, f.DX, f.DY = (g.W+1)/2, (g.H+1)/2, 2*g.DX, 2*g.DY
	small := grid.New[uint8](f)
	for y := range f.H {
		top, bottom := g.Row(2*y), g.Row(min(2*y+1, g.H-1))
		row := small.Row(y)
		for x := range row {
			right := min(2*x+1, g.W-1)
			row[x] = mean([4]uint8{top[2*x], top[right], bottom[2*x], bottom[right]})
		}
	}
	return small
}

func mean(four [4]uint8) uint8 {
	var sum, n uint32
	for _, v := range four {
		if v != 0 {
			sum, n = sum+uint32(v), n+1
		}
	}
	if n == 0 {
		return 0
	}
	return uint8((sum + n/2) / n)
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
