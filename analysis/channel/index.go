package channel

import (
	"math"
	"slices"

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
			b := orb.Bound{
				Min: orb.Point{min(s.a[0], s.b[0]), min(s.a[1], s.b[1])},
				Max: orb.Point{max(s.a[0], s.b[0]), max(s.a[1], s.b[1])},
			}.Pad(r.influence)
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
	x.list(reaches, segs)
	return x
}

// A sighting is a segment seen from the middle of a square, so far off [m].
type sighting struct {
	square, seg int32
	off         float64
}

// list fills the lists of the squares.
func (x *index) list(reaches []reach, segs []segment) {
	least := make([]float64, x.w*x.h)
	for i := range least {
		least[i] = math.Inf(1)
	}
	var seen []sighting
	x.first = make([]int32, len(least)+1)
	for _, r := range reaches {
		seen = x.sight(seen, r, segs, least)
	}
	for _, s := range seen {
		x.first[s.square+1]++
	}
	for i := range least {
		x.first[i+1] += x.first[i]
	}
	x.segs = make([]int32, len(seen))
	next := slices.Clone(x.first)
	for _, s := range seen {
		x.segs[next[s.square]] = s.seg
		next[s.square]++
	}
}

// sight adds one reach to what is seen: of the segments that a square may be near
// to, those that are no further than a square's diagonal beyond the nearest. All of
// least is +Inf, before and after.
func (x *index) sight(seen []sighting, r reach, segs []segment, least []float64) []sighting {
	diagonal, from := x.size*math.Sqrt2, len(seen)
	far := r.influence + diagonal/2
	for i := r.first; i < r.end; i++ {
		x.each(&segs[i], far, func(square int, off float64) {
			least[square] = min(least[square], off)
			seen = append(seen, sighting{int32(square), int32(i), off})
		})
	}
	kept := seen[:from]
	for _, s := range seen[from:] {
		if s.off <= least[s.square]+diagonal {
			kept = append(kept, s)
		}
	}
	for _, s := range kept[from:] { // the nearest to each square is kept
		least[s.square] = math.Inf(1)
	}
	return kept
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

// along calls visit with the stretches of the line at a northing, from west to east,
// along which some segment before one numbered end is listed.
func (x *index) along(north float64, end int, visit func(west, east float64)) {
	row := (north - x.south) / x.size
	if !(row >= 0 && row < float64(x.h)) {
		return
	}
	first, from := x.first[int(row)*x.w:], -1
	for i := 0; i <= x.w; i++ {
		listed := i < x.w && first[i] < first[i+1] && int(x.segs[first[i]]) < end
		switch {
		case listed && from < 0:
			from = i
		case !listed && from >= 0:
			visit(x.west+float64(from)*x.size, x.west+float64(i)*x.size)
			from = -1
		}
	}
}
