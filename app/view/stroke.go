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
		length := apart(a, b)
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

// segment covers pixels by the distance from their middles to the segment. The
// edge falls from whole to nothing over the extent of a pixel square to the
// line, from 1 to √2: for any slope that is a whole number of steps between the
// pixels' middles, so that lines of all directions weigh the same, their width
// times their length. A line narrower than that extent covers no pixel wholly.
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
	length := apart(a, b)
	ux, uy := 1.0, 0.0
	if length > 0 {
		ux, uy = (b[0]-a[0])/length, (b[1]-a[1])/length
	}
	soft := math.Abs(ux) + math.Abs(uy)
	reach := (g.width + soft) / 2
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
			ux: ux, uy: uy, length: length, reach: reach, soft: 1 / soft, most: min(1, g.width/soft)}
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
	// soft is what a pixel's coverage grows by in a pixel across the edge.
	soft float64
	// most is the most that the line covers of any pixel.
	most float64
}

func (r run) cover(row []uint8, g segment, m merge) {
	for x := range row {
		d := math.Abs(r.across)
		beyond := max(-r.along, r.along-r.length)
		if beyond > 0 {
			d = math.Sqrt(d*d + beyond*beyond)
		}
		if c := (r.reach - d) * r.soft; c > 0 {
			c = min(c, r.most)
			if g.squareA {
				c *= max(0, min(1, r.along*r.soft+0.5))
			}
			if g.squareB {
				c *= max(0, min(1, (r.length-r.along)*r.soft+0.5))
			}
			row[x] = m.of(row[x], uint8(c*255+0.5))
		}
		r.across -= r.uy
		r.along += r.ux
	}
}

// chunk is about how much of a band is filled at a time [px]: the filler works
// on the whole rectangle round a shape, which for a long winding line is mostly
// empty.
const chunk = 160

// band fills a wide line as the union of its pieces and, on the outside of each
// corner, the fan that rounds it. Chunks share a piece, so that no seam shows.
func (s *stencil) band(line []orb.Point, width float64, m merge) {
	line = split(line, chunk)
	half, last := width/2, len(line)-1
	var pieces []orb.Ring
	filled := 0.0
	for i := 1; i <= last; i++ {
		a, b := line[i-1], line[i]
		if _, _, ok := s.seen(a, b, 2*width); !ok || a == b {
			continue
		}
		nx, ny := normalOf(a, b)
		nx, ny = nx*half, ny*half
		quad := orb.Ring{{a[0] + nx, a[1] + ny}, {b[0] + nx, b[1] + ny}, {b[0] - nx, b[1] - ny}, {a[0] - nx, a[1] - ny}}
		var corner orb.Ring
		switch {
		case i < last:
			corner = fan(a, b, line[i+1], half)
		case line[0] == line[last]:
			corner = fan(a, b, line[1], half)
		}
		pieces = append(pieces, quad, corner)
		if filled += apart(a, b); filled > chunk {
			s.union(pieces, m)
			pieces, filled = append(pieces[:0], quad, corner), 0
		}
	}
	s.union(pieces, m)
}

// sameSpot is how close [px] two points must be to be taken for one.
const sameSpot = 1e-6

// split returns a line without repeated points, and with points between those
// further apart than some length, as far as they are sound.
func split(line []orb.Point, length float64) []orb.Point {
	out := line[:1:1]
	for _, p := range line[1:] {
		from := out[len(out)-1]
		n := math.Ceil(apart(from, p) / length)
		if !(n >= 1) || n > 4096 {
			n = 1
		}
		if apart(from, p) < sameSpot {
			continue
		}
		for i := 1.0; i <= n; i++ {
			out = append(out, along(from, p, i/n))
		}
	}
	return out
}

// normalOf returns the direction square to the way from a to b, on its right
// as the screen shows it.
func normalOf(a, b orb.Point) (nx, ny float64) {
	length := apart(a, b)
	return -(b[1] - a[1]) / length, (b[0] - a[0]) / length
}

// fan returns the slice of a disc round b that fills the outside of the corner
// from a by b to c; nothing where there is no corner.
func fan(a, b, c orb.Point, radius float64) orb.Ring {
	if a == b || b == c || !finite(c) {
		return nil
	}
	n0x, n0y := normalOf(a, b)
	n1x, n1y := normalOf(b, c)
	turn := math.Atan2(n0x*n1y-n0y*n1x, n0x*n1x+n0y*n1y)
	// The outside of a turn to the right is on the left.
	start := math.Atan2(n0y, n0x)
	if turn > 0 {
		start += math.Pi
	}
	n := int(math.Ceil(math.Abs(turn)*math.Sqrt(radius)*1.6)) + 1
	ring := make(orb.Ring, 0, n+2)
	ring = append(ring, b)
	for i := range n + 1 {
		sin, cos := math.Sincos(start + turn*float64(i)/float64(n))
		ring = append(ring, orb.Point{b[0] + radius*cos, b[1] + radius*sin})
	}
	return ring
}

// apart is the distance between two points. The plain root serves: screen
// coordinates are far from where its square would overflow.
func apart(a, b orb.Point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	return math.Sqrt(dx*dx + dy*dy)
}

// union merges rings that may overlap: their windings add up and are capped.
func (s *stencil) union(pieces []orb.Ring, m merge) {
	bound, ok := s.frame(pieces)
	if !ok {
		return
	}
	s.begin(bound)
	for _, piece := range pieces {
		s.trace(s.clipped(piece), bound.Min, outward)
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
