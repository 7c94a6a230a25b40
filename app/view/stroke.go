package view

import (
	"math"

	"github.com/paulmach/orb"
)

// A Pen is how a line is drawn.
type Pen struct {
	Colour Colour
	// Width of the line [px].
	Width float64
	// Dash holds the lengths of strokes and gaps in turn [px]; none is a whole line.
	Dash []float64
}

// wide is the width [px] from which a line is filled as a shape: scanning the
// square round each short piece of a wide line costs more.
const wide = 14

// stroke merges a line of the pen's width and dash into the stencil. Corners are
// round and ends are square; a line that ends where it starts has no ends.
func (s *stencil) stroke(line []orb.Point, pen Pen, m merge) {
	last := len(line) - 1
	switch {
	case len(line) < 2 || !(pen.Width > 0):
	case len(pen.Dash) > 0:
		s.dashed(line, pen, m)
	case pen.Width >= wide:
		s.band(line, pen.Width, m)
	default:
		for i := 1; i < len(line); i++ {
			s.segment(segment{
				a: line[i-1], b: line[i], width: pen.Width,
				squareA: i == 1 && line[0] != line[last], squareB: i == last && line[0] != line[last],
			}, m)
		}
	}
}

// dashed walks the line and draws what falls on a stroke of the dash. Strokes
// end square, and turn round at the line's own corners.
func (s *stencil) dashed(line []orb.Point, pen Pen, m merge) {
	d := newDasher(pen.Dash)
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		length := math.Hypot(b[0]-a[0], b[1]-a[1])
		from, to, ok := s.seen(a, b, pen.Width)
		if !ok || !(length > 0) {
			d.skip(length)
			continue
		}
		d.skip(from * length)
		for at := from * length; at < to*length; {
			step := min(d.left, to*length-at)
			if d.on {
				s.segment(segment{
					a: along(a, b, at/length), b: along(a, b, (at+step)/length), width: pen.Width,
					squareA: at > 0 || i == 1, squareB: at+step < length || i == len(line)-1,
				}, m)
			}
			at += max(step, 1e-3)
			d.skip(step)
		}
		d.skip((1 - to) * length)
	}
}

// A dasher knows where in its pattern a dashed line stands.
type dasher struct {
	pattern []float64
	total   float64
	i       int
	left    float64 // to the next change [px]
	on      bool
}

func newDasher(pattern []float64) *dasher {
	if len(pattern)%2 == 1 {
		pattern = append(append([]float64{}, pattern...), pattern...)
	}
	d := &dasher{pattern: pattern, left: pattern[0], on: true}
	for _, v := range pattern {
		d.total += v
	}
	return d
}

func (d *dasher) skip(length float64) {
	if !(length > 0) || !(d.total > 0) {
		return
	}
	length = math.Mod(length, d.total)
	for length >= d.left {
		length -= d.left
		d.i = (d.i + 1) % len(d.pattern)
		d.left, d.on = d.pattern[d.i], !d.on
	}
	d.left -= length
}

func along(a, b orb.Point, t float64) orb.Point {
	return orb.Point{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])}
}

// seen returns the part of the segment that may touch the picture, as shares of
// its length.
func (s *stencil) seen(a, b orb.Point, width float64) (from, to float64, ok bool) {
	if !finite(a) || !finite(b) {
		return 0, 0, false
	}
	from, to = 0, 1
	reach := width/2 + 2
	high := [2]float64{float64(s.w) + reach, float64(s.h) + reach}
	for axis := range 2 {
		d, low := b[axis]-a[axis], -reach
		if d == 0 {
			if a[axis] < low || a[axis] > high[axis] {
				return 0, 0, false
			}
			continue
		}
		t0, t1 := (low-a[axis])/d, (high[axis]-a[axis])/d
		from, to = max(from, min(t0, t1)), min(to, max(t0, t1))
	}
	return from, to, from < to
}

// A segment is one straight piece of a line. Its ends are round unless square.
type segment struct {
	a, b             orb.Point
	width            float64
	squareA, squareB bool
}

// segment covers pixels by the distance from their middles to the segment: the
// edge falls from whole to nothing over one pixel, so that the covered area is
// the width times the length. A line thinner than a pixel is drawn one pixel
// wide and fainter.
func (s *stencil) segment(g segment, m merge) {
	from, to, ok := s.seen(g.a, g.b, g.width)
	if g.a == g.b {
		ok = finite(g.a)
		from, to = 0, 1
	}
	if !ok {
		return
	}
	a, b := along(g.a, g.b, from), along(g.a, g.b, to)
	half, level := max(g.width, 1)/2, 255*min(g.width, 1)
	reach := half + 0.5
	length := math.Hypot(b[0]-a[0], b[1]-a[1])
	ux, uy := 1.0, 0.0
	if length > 0 {
		ux, uy = (b[0]-a[0])/length, (b[1]-a[1])/length
	}
	top, bottom := s.rows(min(a[1], b[1])-reach, max(a[1], b[1])+reach)
	for y := top; y < bottom; y++ {
		dy := float64(y) + 0.5 - a[1]
		left, right := min(a[0], b[0])-reach, max(a[0], b[0])+reach
		if math.Abs(uy) > 1e-6 {
			mid, side := a[0]+dy*ux/uy, reach/math.Abs(uy)
			left, right = max(left, mid-side-reach), min(right, mid+side+reach)
		}
		lo, hi := max(0, int(max(left, 0))), int(min(right+1, float64(s.w)))
		if lo >= hi {
			continue
		}
		r := run{across: -uy*(float64(lo)+0.5-a[0]) + ux*dy, along: ux*(float64(lo)+0.5-a[0]) + uy*dy,
			ux: ux, uy: uy, length: length, reach: reach, level: level}
		r.cover(s.cover[y*s.w+lo:y*s.w+hi], g, m)
		s.touch(y, lo, hi)
	}
}

func (s *stencil) rows(top, bottom float64) (from, to int) {
	return int(max(top, 0)), int(min(bottom+1, float64(s.h)))
}

// A run is one row of pixels over a segment, in the segment's own directions.
type run struct {
	across, along float64 // of the first pixel's middle [px]
	ux, uy        float64
	length, reach float64
	level         float64
}

func (r run) cover(row []uint8, g segment, m merge) {
	for x := range row {
		d := math.Abs(r.across)
		beyond := max(-r.along, r.along-r.length)
		if beyond > 0 {
			d = math.Sqrt(d*d + beyond*beyond)
		}
		if c := r.reach - d; c > 0 {
			if g.squareA {
				c = min(c, r.along+0.5)
			}
			if g.squareB {
				c = min(c, r.length-r.along+0.5)
			}
			if c > 0 {
				row[x] = m.of(row[x], uint8(min(c, 1)*r.level+0.5))
			}
		}
		r.across -= r.uy
		r.along += r.ux
	}
}

// band fills a wide line as the union of its pieces and the discs at its corners.
func (s *stencil) band(line []orb.Point, width float64, m merge) {
	half := width / 2
	pieces := make([]orb.Ring, 0, 2*len(line))
	for i, p := range line {
		if !finite(p) {
			return
		}
		if i > 0 && i < len(line)-1 || line[0] == line[len(line)-1] {
			pieces = append(pieces, circle(p, half))
		}
		if i == 0 || line[i-1] == p {
			continue
		}
		q := line[i-1]
		length := math.Hypot(p[0]-q[0], p[1]-q[1])
		nx, ny := -(p[1]-q[1])/length*half, (p[0]-q[0])/length*half
		pieces = append(pieces, orb.Ring{{q[0] + nx, q[1] + ny}, {p[0] + nx, p[1] + ny}, {p[0] - nx, p[1] - ny}, {q[0] - nx, q[1] - ny}})
	}
	s.union(pieces, m)
}

// union merges rings that may overlap: their windings add up and are capped.
func (s *stencil) union(pieces []orb.Ring, m merge) {
	bound, ok := s.frame(pieces)
	if !ok {
		return
	}
	s.begin(bound)
	for _, piece := range pieces {
		s.trace(clipRing(piece, s.view()), bound.Min, outward)
	}
	s.end(bound, m)
}

// circle returns a ring round p that strays from the circle by 1/20 px at most.
func circle(p orb.Point, radius float64) orb.Ring {
	n := int(min(max(8, math.Ceil(10*math.Sqrt(radius))), 240))
	ring := make(orb.Ring, n)
	for i := range ring {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		ring[i] = orb.Point{p[0] + radius*cos, p[1] + radius*sin}
	}
	return ring
}
