package view

import (
	"encoding/binary"
	"image"
	"image/draw"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
	"golang.org/x/image/vector"
)

// A stencil gathers how much of each pixel a set of shapes covers, so that
// shapes of one colour may overlap and are still inked once.
type stencil struct {
	w, h int
	// cover holds the rows one after another: pixel (x, y) is cover[y*w+x];
	// 255 is wholly covered.
	cover []uint8
	// lo and hi are the touched columns of each row, from lo up to before hi.
	lo, hi []int
	// top and bottom are the touched rows, from top up to before bottom.
	top, bottom int

	raster  vector.Rasterizer
	scratch image.Alpha
}

func newStencil(w, h int) *stencil {
	s := &stencil{w: w, h: h, cover: make([]uint8, w*h), lo: make([]int, h), hi: make([]int, h), top: h}
	for y := range s.lo {
		s.lo[y] = w
	}
	return s
}

// clear empties the stencil; it costs only what was touched.
func (s *stencil) clear() {
	for y := s.top; y < s.bottom; y++ {
		if s.lo[y] < s.hi[y] {
			clear(s.cover[y*s.w+s.lo[y] : y*s.w+s.hi[y]])
		}
		s.lo[y], s.hi[y] = s.w, 0
	}
	s.top, s.bottom = s.h, 0
}

func (s *stencil) touch(y, lo, hi int) {
	s.lo[y], s.hi[y] = min(s.lo[y], lo), max(s.hi[y], hi)
	s.top, s.bottom = min(s.top, y), max(s.bottom, y+1)
}

// merge says how a shape joins what the stencil holds already.
type merge uint8

const (
	add merge = iota // the union of both
	cut              // what was there, less the shape
)

// seam is the most that the edges of two touching shapes, each rounded, fall
// short of covering a pixel together; a cut takes no notice of it.
const seam = 20

func (m merge) of(was, shape uint8) uint8 {
	switch {
	case m == add:
		return max(was, shape)
	case shape > 255-seam:
		return 0
	}
	return min(was, 255-shape)
}

// area merges rings, outer first, holes after; they are closed by themselves.
func (s *stencil) area(rings []orb.Ring, m merge) {
	bound, ok := s.frame(rings)
	if !ok {
		return
	}
	s.begin(bound)
	for i, ring := range rings {
		s.trace(s.clipped(ring), bound.Min, turn(i == 0))
	}
	s.end(bound, m)
}

// A turn is the way round that a ring is traced.
type turn bool

// The rasterizer adds windings up, so holes must run against their outline.
const outward turn = true

// view is a little more than the picture: rings are cut to it, so that what
// lies far outside costs nothing and cannot overflow.
func (s *stencil) view() orb.Bound {
	return orb.Bound{Min: orb.Point{-8, -8}, Max: orb.Point{float64(s.w) + 8, float64(s.h) + 8}}
}

// frame returns the pixels that rings may cover, and whether there are any.
func (s *stencil) frame(rings []orb.Ring) (image.Rectangle, bool) {
	low, high := orb.Point{math.Inf(1), math.Inf(1)}, orb.Point{math.Inf(-1), math.Inf(-1)}
	for _, ring := range rings {
		for _, p := range ring {
			if !finite(p) {
				return image.Rectangle{}, false
			}
			low = orb.Point{min(low[0], p[0]), min(low[1], p[1])}
			high = orb.Point{max(high[0], p[0]), max(high[1], p[1])}
		}
	}
	r := image.Rect(
		int(math.Floor(clampTo(low[0], s.w))), int(math.Floor(clampTo(low[1], s.h))),
		int(math.Ceil(clampTo(high[0], s.w))), int(math.Ceil(clampTo(high[1], s.h))),
	)
	return r, !r.Empty()
}

func clampTo(v float64, size int) float64 { return max(0, min(float64(size), v)) }

func finite(p orb.Point) bool { return !math.IsNaN(p[0]-p[0]) && !math.IsNaN(p[1]-p[1]) }

func (s *stencil) begin(r image.Rectangle) {
	s.raster.Reset(r.Dx(), r.Dy())
	s.raster.DrawOp = draw.Src
}

func (s *stencil) trace(ring orb.Ring, origin image.Point, way turn) {
	n := len(ring)
	if n < 3 {
		return
	}
	ox, oy := float64(origin.X), float64(origin.Y)
	at := func(i int) (x, y float32) { return float32(ring[i][0] - ox), float32(ring[i][1] - oy) }
	first, step := 0, 1
	if (signedArea(ring) > 0) != bool(way) {
		first, step = n-1, -1
	}
	s.raster.MoveTo(at(first))
	for i := first + step; i >= 0 && i < n; i += step {
		s.raster.LineTo(at(i))
	}
	s.raster.ClosePath()
}

// clipped returns the part of a ring in view.
func (s *stencil) clipped(ring orb.Ring) orb.Ring {
	view := s.view()
	inside := true
	for _, p := range ring {
		inside = inside && view.Contains(p)
	}
	if inside {
		return ring
	}
	return clip.Ring(view, closed(ring.Clone()))
}

func signedArea(ring orb.Ring) float64 {
	var sum float64
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		sum += p[0]*q[1] - q[0]*p[1]
	}
	return sum / 2
}

func (s *stencil) end(r image.Rectangle, m merge) {
	s.rasterize(r)
	for y := range r.Dy() {
		from := s.scratch.Pix[y*r.Dx() : (y+1)*r.Dx()]
		lo, hi := inkedSpan(from)
		if lo == hi {
			continue
		}
		to := s.cover[(r.Min.Y+y)*s.w+r.Min.X:][:hi]
		for x := lo; x < hi; x++ {
			to[x] = m.of(to[x], from[x])
		}
		s.touch(r.Min.Y+y, r.Min.X+lo, r.Min.X+hi)
	}
}

// inkedSpan returns the part of a row between its first and last covered pixel.
func inkedSpan(row []uint8) (lo, hi int) {
	hi = len(row)
	for lo+8 <= hi && binary.LittleEndian.Uint64(row[lo:]) == 0 {
		lo += 8
	}
	for lo < hi && row[lo] == 0 {
		lo++
	}
	for hi-8 >= lo && binary.LittleEndian.Uint64(row[hi-8:]) == 0 {
		hi -= 8
	}
	for hi > lo && row[hi-1] == 0 {
		hi--
	}
	return lo, hi
}

// take cuts another stencil of the same size out of this one.
func (s *stencil) take(other *stencil) {
	for y := max(s.top, other.top); y < min(s.bottom, other.bottom); y++ {
		for i := y*s.w + max(s.lo[y], other.lo[y]); i < y*s.w+min(s.hi[y], other.hi[y]); i++ {
			s.cover[i] = cut.of(s.cover[i], other.cover[i])
		}
	}
}

// rasterize leaves the traced shape in scratch, which then is r's size.
func (s *stencil) rasterize(r image.Rectangle) {
	n := r.Dx() * r.Dy()
	if cap(s.scratch.Pix) < n {
		s.scratch.Pix = make([]uint8, n)
	}
	s.scratch = image.Alpha{Pix: s.scratch.Pix[:n], Stride: r.Dx(), Rect: image.Rectangle{Max: r.Size()}}
	s.raster.Draw(&s.scratch, s.scratch.Rect, image.Opaque, image.Point{})
}
