package accuracy

import (
	"math"

	"github.com/paulmach/orb"
)

// A places is a table of what lies where, in squares of some tolerances.
type places struct {
	head  []int32 // the first point of each entry, -1 for none
	next  []link
	shift uint
}

// A link is a point and the entry's next link.
type link struct{ of, next int32 }

func newPlaces(n int) *places {
	p := &places{shift: 64}
	size := 1
	for size < n {
		size *= 2
		p.shift--
	}
	p.head = make([]int32, size)
	for i := range p.head {
		p.head[i] = -1
	}
	return p
}

// side is that of the squares [m].
const side = 4 * tolerance

func (p *places) entry(x, y float64) uint64 {
	h := uint64(int64(x))*0x9E3779B97F4A7C15 ^ uint64(int64(y))*0xC2B2AE3D27D4EB4F
	h ^= h >> 29
	h *= 0xBF58476D1CE4E5B9
	return h >> p.shift
}

func (p *places) add(at orb.Point, i int32) {
	e := p.entry(math.Floor(at[0]/side), math.Floor(at[1]/side))
	p.next = append(p.next, link{i, p.head[e]})
	p.head[e] = int32(len(p.next) - 1)
}

// find returns the first that lies within about the tolerance of a place and is the
// same; -1 for none.
func (p *places) find(at orb.Point, same func(of int32) bool) int32 {
	x0, x1 := math.Floor((at[0]-tolerance)/side), math.Floor((at[0]+tolerance)/side)
	y0, y1 := math.Floor((at[1]-tolerance)/side), math.Floor((at[1]+tolerance)/side)
	for x := x0; x <= x1; x++ {
		for y := y0; y <= y1; y++ {
			for l := p.head[p.entry(x, y)]; l >= 0; l = p.next[l].next {
				if same(p.next[l].of) {
					return p.next[l].of
				}
			}
		}
	}
	return -1
}

// together reports whether two places are one.
func together(a, b orb.Point) bool {
	return square(a[0]-b[0])+square(a[1]-b[1]) <= tolerance*tolerance
}
