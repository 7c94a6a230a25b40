package survey

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// joint is how close [m] the ends of two pieces of one contour lie.
const joint = 0.01

// Continued returns the contours that are pieces of one line with a given one: those
// that begin where another ends, and no third does, as drawings are often cut. The given
// line is the first; those that have a height of their own are no part of it.
func (s Survey) Continued(line int) []int {
	type place [2]int64
	at := func(p orb.Point) place {
		return place{int64(math.Round(p[0] / joint)), int64(math.Round(p[1] / joint))}
	}
	ends := map[place][]int{}
	for i, l := range s.Lines {
		if l.Use == Contour && !l.Out && len(l.At) > 1 {
			for _, p := range []orb.Point{l.At[0], l.At[len(l.At)-1]} {
				ends[at(p)] = append(ends[at(p)], i)
			}
		}
	}
	pieces := []int{line}
	for k := 0; k < len(pieces); k++ {
		l := s.Lines[pieces[k]].At
		if len(l) < 2 {
			continue
		}
		for _, p := range []orb.Point{l[0], l[len(l)-1]} {
			met := ends[at(p)]
			if len(met) != 2 {
				continue
			}
			for _, i := range met {
				if !slices.Contains(pieces, i) && !s.Lines[i].Known() {
					pieces = append(pieces, i)
				}
			}
		}
	}
	return pieces
}
