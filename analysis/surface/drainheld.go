package surface

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
	"runnel/geo/survey"
)

const (
	// contourSlack is how far the surface may come to lie from a contour, as a share
	// of the interval: a little less than the tenth that is promised.
	contourSlack = 0.09
	// pointSlack is the same for spots, breaks and kerbs [m].
	pointSlack = 0.01
	// lowShare is how far below a hollow's brim a spot asks for it, as a share of the
	// contours' interval, and lowDepth the same where there are no contours [m].
	lowShare, lowDepth = 0.1, 0.05
)

// held is what the measurements hold of a surface.
type held struct {
	ground grid.Ground
	points []sample
	// of lists the points that each cell has a share in, in the order of the cells;
	// those of cell c are of[first[c]:first[c+1]].
	first, of []int32
	// rings are the cells along each closed contour.
	rings [][]int32
	// lows are measured heights other than contours.
	lows []low
}

// A sample is a measured height that the surface lies off by at most slack [m].
type sample struct {
	z, slack float32
	// The surface there is that between four cells: cell, which lies to the north-west,
	// and the cells tx of the way to the east and ty to the south.
	cell   int32
	tx, ty float32
}

// A low is a measured height that a hollow may be there for, if the brim is more than
// clear above it [m].
type low struct {
	cell     int32
	z, clear float64
}

// hold works out what the measurements of s hold of g.
func hold(g grid.Ground, s survey.Survey) held {
	h := held{ground: g}
	step := Interval(s)
	slack, clear := contourSlack*step, lowShare*step
	if step == 0 {
		clear = lowDepth
	}
	for _, l := range s.Lines {
		switch {
		case l.Out || !l.Known() || len(l.At) == 0:
		case l.Use == survey.Contour:
			h.contour(l, slack)
		default:
			along(l, g.DX/2, func(p orb.Point, z float64) {
				h.point(p, z, pointSlack)
				h.low(p, z, clear)
			})
		}
	}
	for _, p := range s.Spots {
		if !p.Out && !math.IsNaN(p.Z) {
			h.point(p.At, p.Z, pointSlack)
			h.low(p.At, p.Z, clear)
		}
	}
	h.index()
	return h
}

// Interval returns the usual difference between one level of the contours and the
// next [m]; 0 where there are fewer than two levels.
func Interval(s survey.Survey) float64 {
	var levels []float64
	for _, l := range s.Lines {
		if l.Use == survey.Contour && !l.Out && l.Known() {
			levels = append(levels, l.Z...)
		}
	}
	slices.Sort(levels)
	levels = slices.Compact(levels)
	if len(levels) < 2 {
		return 0
	}
	for i := range len(levels) - 1 {
		levels[i] = levels[i+1] - levels[i]
	}
	steps := levels[:len(levels)-1]
	slices.Sort(steps)
	return steps[len(steps)/2]
}

// along calls f at points of a line no further apart than step.
func along(l survey.Line, step float64, f func(p orb.Point, z float64)) {
	for i, p := range l.At {
		f(p, l.Height(i))
		if i+1 == len(l.At) {
			return
		}
		q := l.At[i+1]
		parts := int(math.Ceil(math.Hypot(q[0]-p[0], q[1]-p[1]) / step))
		for k := 1; k < parts; k++ {
			t := float64(k) / float64(parts)
			f(orb.Point{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])}, l.Height(i)+t*(l.Height(i+1)-l.Height(i)))
		}
	}
}

func (h *held) contour(l survey.Line, slack float64) {
	closed := len(l.At) > 3 && shuts(placeOn(h.ground.Frame, l.At[0]), placeOn(h.ground.Frame, l.At[len(l.At)-1]))
	var ring []int32
	along(l, h.ground.DX/2, func(p orb.Point, z float64) {
		h.point(p, z, slack)
		if x, y, ok := h.ground.Cell(p); ok && closed {
			ring = append(ring, int32(y*h.ground.W+x))
		}
	})
	if closed && len(ring) > 0 {
		h.rings = append(h.rings, ring)
	}
}

// point adds a measured height, if the surface has one there.
func (h *held) point(p orb.Point, z, slack float64) {
	g := h.ground
	x, y, ok := g.Cell(p)
	if !ok || grid.IsNoData(g.At(x, y)) {
		return
	}
	// As grid.Sample has it, the cell's own height counts where not all four are known.
	at := sample{z: float32(z), slack: float32(slack), cell: int32(y*g.W + x)}
	place := placeOn(g.Frame, p)
	fx, fy := place[0], place[1]
	if x, y = int(math.Floor(fx)), int(math.Floor(fy)); g.In(x, y) && g.In(x+1, y+1) {
		four := at
		four.cell, four.tx, four.ty = int32(y*g.W+x), float32(fx-float64(x)), float32(fy-float64(y))
		if !math.IsNaN(h.off(four)) {
			at = four
		}
	}
	h.points = append(h.points, at)
}

func (h *held) low(p orb.Point, z, clear float64) {
	if x, y, ok := h.ground.Cell(p); ok {
		h.lows = append(h.lows, low{int32(y*h.ground.W + x), z, clear})
	}
}

// share yields the cells that a point lies between, with the share of each.
func (h *held) share(p sample) func(yield func(c int32, weight float32) bool) {
	return func(yield func(int32, float32) bool) {
		for i, weight := range [4]float32{(1 - p.tx) * (1 - p.ty), p.tx * (1 - p.ty), (1 - p.tx) * p.ty, p.tx * p.ty} {
			if weight != 0 && !yield(p.cell+int32(i%2+i/2*h.ground.W), weight) {
				return
			}
		}
	}
}

// off returns how far the surface lies above a point [m].
func (h *held) off(p sample) float64 {
	z := 0.0
	for c, weight := range h.share(p) {
		z += float64(weight) * float64(h.ground.V[c])
	}
	return z - float64(p.z)
}

// index lists each cell's points.
func (h *held) index() {
	h.first = make([]int32, h.ground.Len()+1)
	for _, p := range h.points {
		for c := range h.share(p) {
			h.first[c+1]++
		}
	}
	for c := range h.ground.V {
		h.first[c+1] += h.first[c]
	}
	h.of = make([]int32, h.first[h.ground.Len()])
	next := append([]int32(nil), h.first...)
	for i, p := range h.points {
		for c := range h.share(p) {
			h.of[next[c]] = int32(i)
			next[c]++
		}
	}
}

// measured reports whether a point has a share in a cell.
func (h *held) measured(c int32) bool { return h.first[c] < h.first[c+1] }

// slack returns how far a cell may move alone [m].
func (h *held) slack(c int32) float64 {
	slack := math.Inf(1)
	for _, i := range h.of[h.first[c]:h.first[c+1]] {
		p := h.points[i]
		for at, weight := range h.share(p) {
			if at == c {
				slack = min(slack, max(float64(p.slack)-math.Abs(h.off(p)), 0)/float64(weight))
			}
		}
	}
	return slack
}

// over returns by how much of what the cells around a point shift it would come to
// lie too far from the surface: 0 is by none, 1 by all.
func (h *held) over(p sample, shift []float32) float64 {
	move, off := 0.0, h.off(p)
	for c, weight := range h.share(p) {
		move += float64(weight) * float64(shift[c])
	}
	free := max(float64(p.slack), math.Abs(off))
	if move < 0 {
		free += off
	} else {
		free -= off
	}
	if math.Abs(move) <= free {
		return 0
	}
	return 1 - free/math.Abs(move)
}
