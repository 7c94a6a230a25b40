package view

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// A reach is a water path from where it starts to where it joins a larger one
// or leaves the ground.
type reach struct {
	line orb.LineString
	// area is what drains through each point [m²]; it grows along the line.
	area  []float64
	bound orb.Bound
	// parts follow each other along the line; step is how far apart its points are
	// on average [m].
	parts []linePart
	step  float64
}

// divide works out the bound and the parts of a reach.
func (r *reach) divide() {
	r.bound, r.parts = r.line.Bound(), inParts(r.line)
	r.step = planar.Length(r.line) / float64(max(len(r.line)-1, 1))
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

// from returns the first point of a reach through which at least some area drains.
func (r reach) from(least float64) int {
	i, _ := slices.BinarySearch(r.area, least)
	return i
}

// between returns the parts of a reach from one point up to and with another.
func (r reach) between(from, to int) []linePart {
	var parts []linePart
	for _, p := range r.parts[min(from/partLength, len(r.parts)):] {
		if p.from >= to {
			break
		}
		if p.from < from || p.to > to {
			p.from, p.to = max(p.from, from), min(p.to, to)
		}
		parts = append(parts, p)
	}
	return parts
}

// largest returns what drains through the end of the reach [m²].
func (r reach) largest() float64 {
	if len(r.area) == 0 {
		return math.NaN()
	}
	return r.area[len(r.area)-1]
}
