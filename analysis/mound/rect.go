package mound

import (
	"math"

	"github.com/paulmach/orb"
)

// A Rect is a rectangle in plan: its middle, the direction of its length, and half of
// its length and of its width [m].
type Rect struct {
	At, Along             orb.Point
	HalfLength, HalfWidth float64
}

// from returns where p lies from the middle: along the length, and across it to the left.
func (r Rect) from(p orb.Point) (along, across float64) {
	dx, dy := p[0]-r.At[0], p[1]-r.At[1]
	e, n := r.direction()
	return dx*e + dy*n, dy*e - dx*n
}

// direction is Along at length 1; east where there is none.
func (r Rect) direction() (e, n float64) {
	d := math.Hypot(r.Along[0], r.Along[1])
	if d == 0 {
		return 1, 0
	}
	return r.Along[0] / d, r.Along[1] / d
}

func (r Rect) area() float64 { return 4 * r.HalfLength * r.HalfWidth }
