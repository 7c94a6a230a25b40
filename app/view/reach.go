package view

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A reach is a water path from where it starts to where it joins a larger one
// or leaves the ground.
type reach struct {
	line orb.LineString
	// area is what drains through each point [m²]; it grows along the line.
	area  []float64
	bound orb.Bound
}

// settles is how often each point is drawn halfway to the middle of its
// neighbours. Six times spreads over some three cells to each side: enough for
// the steps between eight directions, too little to leave the valley.
const settles = 6

// settle takes the steps of a grid out of a line of cell centres; its ends stay.
func settle(line orb.LineString) orb.LineString {
	settled := slices.Clone(line)
	for range settles {
		for i, before := 1, settled[0]; i < len(line)-1; i++ {
			here, after := settled[i], settled[i+1]
			settled[i] = orb.Point{(before[0] + 2*here[0] + after[0]) / 4, (before[1] + 2*here[1] + after[1]) / 4}
			before = here
		}
	}
	return settled
}

// from returns the part of a reach through which at least some area drains.
func (r reach) from(least float64) (orb.LineString, []float64) {
	i, _ := slices.BinarySearch(r.area, least)
	return r.line[i:], r.area[i:]
}

// largest returns what drains through the end of the reach [m²].
func (r reach) largest() float64 {
	if len(r.area) == 0 {
		return math.NaN()
	}
	return r.area[len(r.area)-1]
}
