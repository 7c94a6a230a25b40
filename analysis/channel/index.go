package channel

import (
	"math"

	"github.com/paulmach/orb"
)

// An index lists, for each square of a coarse grid, the segments that may be
// the nearest of their reach to a place in it, in rising order. The zero index
// lists none.
type index struct {
	west, south, size float64
	w, h              int
	// first holds where each square's list starts in segs, and the end.
	first []int32
	segs  []int32
}

// squares is about how many squares an index has, and leastSquare their least
// size [m]: on a garden a square is then as long as a segment.
const (
	squares     = 30_000
	leastSquare = 0.5
)

// at returns the list of the square that holds p.
func (x *index) at(p orb.Point) []int32 {
	fx, fy := (p[0]-x.west)/x.size, (p[1]-x.south)/x.size
	if !(fx >= 0 && fy >= 0 && fx < float64(x.w) && fy < float64(x.h)) {
		return nil
	}
	i := int(fy)*x.w + int(fx)
	return x.segs[x.first[i]:x.first[i+1]]
}

// newIndex indexes the segments of a network out to the influence of each reach.
func newIndex(reaches []reach, segs []segment) index {
	bound, any := orb.Bound{}, false
	for _, r := range reaches {
		for _, s := range segs[r.first:r.end] {
			b := orb.MultiPoint{s.a, s.b}.Bound().Pad(r.influence)
			if !any {
				bound, any = b, true
			}
			bound = bound.Union(b)
		}
	}
	if !any {
		return index{}
	}
	width, height := bound.Max[0]-bound.Min[0], bound.Max[1]-bound.Min[1]
	x := index{west: bound.Min[0], south: bound.Min[1], size: max(leastSquare, math.Sqrt(width*height/squares))}
	x.w, x.h = int(width/x.size)+1, int(height/x.size)+1
	lists := make([][]int32, x.w*x.h)
	for _, r := range reaches {
		x.add(lists, r, segs)
	}
	x.first = make([]int32, 1, len(lists)+1)
	for _, list := range lists {
		x.segs = append(x.segs, list...)
		x.first = append(x.first, int32(len(x.segs)))
	}
	return x
}

// add lists one reach: first each square's least distance to it, then the
// segments that are no further than a square's diagonal beyond that.
func (x *index) add(lists [][]int32, r reach, segs []segment) {
	diagonal := x.size * math.Sqrt2
	least := make([]float64, len(lists))
	for i := range least {
		least[i] = math.Inf(1)
	}
	far := r.influence + diagonal/2
	for i := r.first; i < r.end; i++ {
		x.each(&segs[i], far, func(square int, off float64) {
			least[square] = min(least[square], off)
		})
	}
	for i := r.first; i < r.end; i++ {
		x.each(&segs[i], far, func(square int, off float64) {
			if off <= least[square]+diagonal {
				lists[square] = append(lists[square], int32(i))
			}
		})
	}
}

// each visits the squares whose middle lies within far [m] of a segment.
func (x *index) each(s *segment, far float64, visit func(square int, off float64)) {
	column := func(east float64) int { return max(0, min(x.w-1, int((east-x.west)/x.size))) }
	row := func(north float64) int { return max(0, min(x.h-1, int((north-x.south)/x.size))) }
	x0, x1 := column(min(s.a[0], s.b[0])-far), column(max(s.a[0], s.b[0])+far)
	y0, y1 := row(min(s.a[1], s.b[1])-far), row(max(s.a[1], s.b[1])+far)
	for y := y0; y <= y1; y++ {
		for i := x0; i <= x1; i++ {
			middle := orb.Point{x.west + (float64(i)+0.5)*x.size, x.south + (float64(y)+0.5)*x.size}
			if _, square := s.near(middle); square <= far*far {
				visit(y*x.w+i, math.Sqrt(square))
			}
		}
	}
}
