package surface

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// sideCuts appends where a polygon's sides cross a line from west to east, in order.
// A side has its lower end and not its upper one.
func sideCuts(rings orb.Polygon, north float64, into []float64) []float64 {
	for _, ring := range rings {
		for i := range ring {
			a, b := ring[i], ring[(i+1)%len(ring)]
			if a[1] > b[1] {
				a, b = b, a
			}
			if a[1] <= north && north < b[1] {
				into = append(into, a[0]+(north-a[1])/(b[1]-a[1])*(b[0]-a[0]))
			}
		}
	}
	slices.Sort(into)
	return into
}

// crownSides is how many sides a crown's outline has.
const crownSides = 32

// Crown outlines a tree's crown, a circle [m].
func Crown(middle orb.Point, spread float64) orb.Polygon {
	ring := make(orb.Ring, 0, crownSides+1)
	for i := range crownSides {
		s, c := math.Sincos(2 * math.Pi * float64(i) / crownSides)
		ring = append(ring, orb.Point{middle[0] + spread/2*c, middle[1] + spread/2*s})
	}
	return orb.Polygon{append(ring, ring[0])}
}
