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

// newIndex takes from the index of a scene before what its relief has in common
// with this one.
func newIndex(s, before *Scene) *index {
	x := &index{pond: newPond(s.Wet, s.Ground)}
	if s.Site != nil {
		x.cut = newCut(s.Site.Ground, s.Ground)
	}
	if before != nil && before.prepared != nil && s.sameRelief(before) {
		b := before.prepared
		x.unknown, x.shades = b.unknown, b.shades
		if len(s.Contours) > 0 && len(b.contours) > 0 {
			x.contours, x.spacing = b.contours, b.spacing
			return x
		}
		x.indexContours(s)
		return x
	}
	x.unknown, x.shades = slices.Contains(s.Shade.V, 0), halves(s.Shade, mean)
	x.indexContours(s)
	return x
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
			x.contours = append(x.contours, contourLine{line: line, bound: line.Bound(), level: c.Level, heavy: c.Index})
		}
	}
	b := s.Bound()
	x.spacing = math.Inf(1)
	if length > 0 {
		x.spacing = (b.Max[0] - b.Min[0]) * (b.Max[1] - b.Min[1]) / length
	}
}

// leastShade is the longer side [cells] below which a grid is not halved again.
const leastShade = 256

// halves returns a grid and ever smaller copies of it, each of which makes one
// cell of four.
func halves(g grid.Grid[uint8], join func(four [4]uint8) uint8) []grid.Grid[uint8] {
	all := []grid.Grid[uint8]{g}
	for max(g.W, g.H) > leastShade {
		g = half(g, join)
		all = append(all, g)
	}
	return all
}

func half(g grid.Grid[uint8], join func([4]uint8) uint8) grid.Grid[uint8] {
	f := g.Frame
	f.W, f.H, f.DX, f.DY = (g.W+1)/2, (g.H+1)/2, 2*g.DX, 2*g.DY
	small := grid.New[uint8](f)
	eachRow(f.H, func(y int) {
		top, bottom := g.Row(2*y), g.Row(min(2*y+1, g.H-1))
		row := small.Row(y)
		for x := range row {
			right := min(2*x+1, g.W-1)
			row[x] = join([4]uint8{top[2*x], top[right], bottom[2*x], bottom[right]})
		}
	})
	return small
}

// mean leaves out cells that are not known, so that a ground seen from far does
// not sparkle.
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

// surest keeps the highest grade: water paths are one cell wide, and a mean would
// lose them.
func surest(four [4]uint8) uint8 { return max(four[0], four[1], four[2], four[3]) }

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
