package channel

import (
	"iter"
	"math"

	"github.com/paulmach/orb"
)

// bunch is how many segments that follow on each other are looked past at once.
const bunch = 16

// bunches returns the rectangle round each bunch of segments.
func bunches(segs []segment) []orb.Bound {
	var all []orb.Bound
	for i := range segs {
		b := orb.Bound{Min: segs[i].a, Max: segs[i].a}.Extend(segs[i].b)
		if i%bunch == 0 {
			all = append(all, b)
		} else {
			all[i/bunch] = all[i/bunch].Union(b)
		}
	}
	return all
}

// pairs goes through the pairs of segments, one of each list, that may meet.
func pairs(of, with []segment) iter.Seq2[*segment, *segment] {
	a, b := bunches(of), bunches(with)
	return func(yield func(s, t *segment) bool) {
		for i := range a {
			for k := range b {
				if a[i].Intersects(b[k]) && !bunchPairs(bunchOf(of, i), bunchOf(with, k), yield) {
					return
				}
			}
		}
	}
}

// bunchOf returns a bunch of segments by its number.
func bunchOf(segs []segment, i int) []segment {
	return segs[i*bunch : min((i+1)*bunch, len(segs))]
}

// bunchPairs yields the pairs of two bunches that may meet; it reports whether all were
// asked for.
func bunchPairs(of, with []segment, yield func(s, t *segment) bool) bool {
	for x := range of {
		for y := range with {
			if s, t := &of[x], &with[y]; s.mayMeet(t) && !yield(s, t) {
				return false
			}
		}
	}
	return true
}

// mayMeet reports whether the rectangles round two segments meet.
func (s *segment) mayMeet(t *segment) bool {
	return max(s.a[0], s.b[0]) >= min(t.a[0], t.b[0]) && max(t.a[0], t.b[0]) >= min(s.a[0], s.b[0]) &&
		max(s.a[1], s.b[1]) >= min(t.a[1], t.b[1]) && max(t.a[1], t.b[1]) >= min(s.a[1], s.b[1])
}

// meet returns how far along each of two segments they cross [m]. Those that run
// side by side do not.
func (s *segment) meet(t *segment) (along, on float64, ok bool) {
	const aligned = 1e-12
	across := s.ux*t.uy - s.uy*t.ux
	if math.Abs(across) < aligned {
		return 0, 0, false
	}
	dx, dy := t.a[0]-s.a[0], t.a[1]-s.a[1]
	along, on = (dx*t.uy-dy*t.ux)/across, (dx*s.uy-dy*s.ux)/across
	return along, on, along >= 0 && along <= s.length && on >= 0 && on <= t.length
}
