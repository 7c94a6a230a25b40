package view

import (
	"math"

	"github.com/paulmach/orb"
)

// A Hatch is a pattern of short strokes that repeats in a square.
type Hatch struct {
	Colour Colour
	// Size is the side of the square, Width that of the strokes [px].
	Size, Width float64
	// Strokes run between points of the square, each coordinate 0 to 1.
	Strokes []Stroke
}

// A Stroke is a straight line of a hatch: x, y to x, y. A dot is a stroke
// between two equal points.
type Stroke [4]float64

func hatch(c Colour, size, width float64, strokes []Stroke) Hatch {
	return Hatch{Colour: c, Size: size, Width: width, Strokes: strokes}
}

// The hatches.
var (
	rising     = []Stroke{{0, 1, 1, 0}}
	falling    = []Stroke{{0, 0, 1, 1}}
	levelLines = []Stroke{{0, 0.25, 0.62, 0.25}, {0.5, 0.75, 1.12, 0.75}}
	pavers     = []Stroke{{0, 0.04, 1, 0.04}, {0, 0.54, 1, 0.54}, {0.25, 0.04, 0.25, 0.54}, {0.75, 0.54, 0.75, 1.04}}
	trenches   = []Stroke{{0, 0.5, 0.7, 0.5}, {0.85, 0.5, 0.85, 0.5}}
	tufts      = []Stroke{{0.25, 0.42, 0.25, 0.2}, {0.25, 0.42, 0.1, 0.26}, {0.25, 0.42, 0.4, 0.26}, {0.75, 0.92, 0.75, 0.7}, {0.75, 0.92, 0.6, 0.76}, {0.75, 0.92, 0.9, 0.76}}
	earth      = []Stroke{{0.1, 0.36, 0.3, 0.16}, {0.22, 0.4, 0.42, 0.2}, {0.6, 0.86, 0.8, 0.66}, {0.72, 0.9, 0.92, 0.7}}
	stipple    = []Stroke{{0.2, 0.25, 0.2, 0.25}, {0.7, 0.45, 0.7, 0.45}, {0.4, 0.85, 0.4, 0.85}}
	seedlings  = []Stroke{{0.25, 0.14, 0.25, 0.36}, {0.14, 0.25, 0.36, 0.25}, {0.75, 0.64, 0.75, 0.86}, {0.64, 0.75, 0.86, 0.75}}
)

// A tile is one square of a hatch as coverage: pixel (x, y) is cover[y*size+x].
type tile struct {
	size  int
	cover []uint8
}

// tile draws the square. Strokes that leave it come in at the other side.
func (h Hatch) tile() tile {
	n := int(math.Round(h.Size))
	if n < 2 || len(h.Strokes) == 0 {
		return tile{}
	}
	t := tile{size: n, cover: make([]uint8, n*n)}
	s := newStencil(3*n, 3*n)
	for i := range 9 {
		ox, oy := float64(i%3*n), float64(i/3*n)
		for _, k := range h.Strokes {
			s.segment(segment{
				a:     orb.Point{ox + k[0]*float64(n), oy + k[1]*float64(n)},
				b:     orb.Point{ox + k[2]*float64(n), oy + k[3]*float64(n)},
				width: h.Width,
			}, add)
		}
	}
	for y := range n {
		copy(t.cover[y*n:(y+1)*n], s.cover[(n+y)*s.w+n:])
	}
	return t
}
