package channel

import (
	"math"
	"slices"
	"sort"

	"github.com/paulmach/orb"
)

// A segment is a straight piece of a reach, with all that varies along it.
type segment struct {
	a, b orb.Point
	// ux, uy is the direction from a to b, of length 1.
	ux, uy float64
	// start is the chainage of a, length the distance to b [m].
	start, length float64
	// turnA and turnB are the tangents of half the turns at a and b: positive to
	// the left, nought at the end of a line. On the inner side of a turn the
	// segment's own ground is shorter by so much for each metre out.
	turnA, turnB float64
	// bedA and bedB are the bed's levels at a and b [m].
	bedA, bedB float64
	// crestA and crestB are the levels of an island's outline [m].
	crestA, crestB float64
	// levelA and levelB are the water's levels at a and b [m].
	levelA, levelB float64
	// brim is the level above which the water would run out over a bank [m], +Inf
	// where no bank is known.
	brim float64
	// runs is set where its water is taken as it runs, and keeps to what is dug.
	runs bool
	// held is the level to which a sill holds a drain's water [m] when the drain
	// stops, -Inf where none does.
	held float64
	// line is the place in the network's list of the line it counts toward, pool that of
	// the pool whose water stands in it, where that is no drain.
	line, pool int
	// over is the stretch of the line on which the section goes over from one to
	// another; nil where that of the reach holds.
	over *stretch
}

func (s *segment) bed(along float64) float64 {
	return s.bedA + (s.bedB-s.bedA)*along/s.length
}

func (s *segment) crest(along float64) float64 {
	return s.crestA + (s.crestB-s.crestA)*along/s.length
}

func (s *segment) level(along float64) float64 {
	return s.levelA + (s.levelB-s.levelA)*along/s.length
}

// hold sets the water at one level [m], but no higher than the brim.
func (s *segment) hold(level float64) {
	s.levelA = min(level, s.brim)
	s.levelB = s.levelA
}

// lay cuts a line into segments at its points and at some chainages [m], in any
// order. Points that repeat are left out. A line that ends where it starts is
// joined up.
func lay(line orb.LineString, cuts []float64) []segment {
	cuts = slices.Clone(cuts)
	slices.Sort(cuts)
	var segs []segment
	chainage := 0.0
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		length := math.Hypot(b[0]-a[0], b[1]-a[1])
		if length == 0 {
			continue
		}
		whole := segment{a: a, b: b, ux: (b[0] - a[0]) / length, uy: (b[1] - a[1]) / length, start: chainage, length: length, brim: math.Inf(1)}
		segs = append(segs, whole.cut(cuts[sort.SearchFloat64s(cuts, chainage):])...)
		chainage += length
	}
	for i := 1; i < len(segs); i++ {
		segs[i-1].turnB = turn(&segs[i-1], &segs[i])
		segs[i].turnA = segs[i-1].turnB
	}
	if last := len(segs) - 1; last > 0 && closed(line) {
		segs[last].turnB = turn(&segs[last], &segs[0])
		segs[0].turnA = segs[last].turnB
	}
	return segs
}

// shortest is the least length of a segment [m]: a cut nearer than this to a
// point of the line is taken to lie on it.
const shortest = 1e-4

func (s segment) cut(cuts []float64) []segment {
	var parts []segment
	for _, c := range cuts {
		at := c - s.start
		if at > s.length-shortest {
			break
		}
		if at < shortest {
			continue
		}
		head := s
		head.b, head.length = s.place(at), at
		parts = append(parts, head)
		s.a, s.start, s.length = head.b, s.start+at, s.length-at
	}
	return append(parts, s)
}

// place returns the place some way along the segment [m].
func (s *segment) place(along float64) orb.Point {
	return orb.Point{s.a[0] + along*s.ux, s.a[1] + along*s.uy}
}

// sharpest is the tangent of half a turn that is taken for a turn right back.
const sharpest = 1e6

func turn(s, next *segment) float64 {
	sin, cos := s.ux*next.uy-s.uy*next.ux, s.ux*next.ux+s.uy*next.uy
	if 1+cos < 1/sharpest {
		return math.Copysign(sharpest, sin)
	}
	return sin / (1 + cos)
}

func closed(line orb.LineString) bool { return len(line) > 3 && line[0] == line[len(line)-1] }

// A hit is the place of a line nearest to some place.
type hit struct {
	// seg is the segment's number in the network.
	seg int
	// along is how far it is along the segment, off how far away [m].
	along, off float64
	// left is positive where the place lies left of the line. At a bend that is
	// the side on which the bend leaves a gap.
	left float64
	// end is -1 at the segment's a, 1 at its b, else 0.
	end int
}

// near returns where the segment passes nearest to p.
func (s *segment) near(p orb.Point) (along, square float64) {
	dx, dy := p[0]-s.a[0], p[1]-s.a[1]
	along = max(0, min(s.length, dx*s.ux+dy*s.uy))
	ex, ey := dx-along*s.ux, dy-along*s.uy
	return along, ex*ex + ey*ey
}

// side says on which side of the segment p lies, for a nearest place at along.
func (s *segment) side(p orb.Point, along float64) (left float64, end int) {
	left = s.ux*(p[1]-s.a[1]) - s.uy*(p[0]-s.a[0])
	switch {
	case along <= 0:
		if s.turnA != 0 {
			left = -s.turnA
		}
		return left, -1
	case along >= s.length:
		if s.turnB != 0 {
			left = -s.turnB
		}
		return left, 1
	}
	return left, 0
}
