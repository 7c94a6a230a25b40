package view

import (
	"math"

	"github.com/paulmach/orb"
)

// occupied is the side of the squares [px] in which room is reckoned.
const occupied = 4

// An occupancy knows where on the picture something stands that a label must
// not be written over.
type occupancy struct {
	w, h          int // in squares
	width, height float64
	full          []bool
}

func newOccupancy(w, h int) occupancy {
	cols, rows := (w+occupied-1)/occupied, (h+occupied-1)/occupied
	return occupancy{w: cols, h: rows, width: float64(w), height: float64(h), full: make([]bool, cols*rows)}
}

func square(x, y, half float64) orb.Bound {
	return orb.Bound{Min: orb.Point{x - half, y - half}, Max: orb.Point{x + half, y + half}}
}

func (o occupancy) squares(b orb.Bound) (x0, y0, x1, y1 int) {
	clampCell := func(v float64, n int) int { return int(max(0, min(float64(n), math.Floor(v/occupied)))) }
	x0, y0 = clampCell(b.Min[0], o.w), clampCell(b.Min[1], o.h)
	x1, y1 = clampCell(b.Max[0]+occupied, o.w), clampCell(b.Max[1]+occupied, o.h)
	return x0, y0, x1, y1
}

// within reports whether a box lies within the picture, clear of its edge.
func (o occupancy) within(b orb.Bound) bool {
	return b.Min[0] >= 2 && b.Min[1] >= 2 && b.Max[0] <= o.width-2 && b.Max[1] <= o.height-2
}

// free reports whether a box lies within the picture and over nothing taken.
func (o occupancy) free(b orb.Bound) bool {
	if !o.within(b) {
		return false
	}
	x0, y0, x1, y1 := o.squares(b)
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			if o.full[y*o.w+x] {
				return false
			}
		}
	}
	return true
}

// take marks a box.
func (o occupancy) take(b orb.Bound) {
	x0, y0, x1, y1 := o.squares(b)
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			o.full[y*o.w+x] = true
		}
	}
}

// takeLine marks the squares along a line of some width [px].
func (o occupancy) takeLine(line []orb.Point, width float64) {
	view := square(o.width/2, o.height/2, max(o.width, o.height)/2+width)
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if !finite(a) || !finite(b) || !view.Intersects(orb.MultiPoint{a, b}.Bound()) {
			continue
		}
		n := int(min(4096, math.Ceil(math.Hypot(b[0]-a[0], b[1]-a[1])/occupied))) + 1
		for j := range n + 1 {
			p := along(a, b, float64(j)/float64(n))
			o.take(square(p[0], p[1], width/2))
		}
	}
}
