package surface

import (
	"math"

	"runnel/geo/grid"
)

// Ground is told from what stands on it by slope: a cell stands on the ground if
// another near it lies lower by more than ground falls over that distance (G. Vosselman,
// Slope based filtering of laser altimetry data, International Archives of
// Photogrammetry and Remote Sensing 33, B3, 2000).
const (
	steepestGround = 0.3 // the fall of ground that is believed, as a share
	leastStanding  = 0.4 // how far below another cell must lie besides [m]
	standReach     = 20  // how far is looked for lower cells, and round a hole [m]
	mostReach      = 12  // and at most [cells]
)

// standingRound lists cells round a hole that stand on the ground, and their neighbours,
// which show part of what stands. A cell may be listed more than once.
func standingRound(g grid.Ground, hole []bool) []int {
	reach := min(mostReach, max(2, int(math.Ceil(standReach/min(g.DX, g.DY)))))
	var found []int
	for _, i := range ringRound(g.Frame, hole, reach) {
		if !grid.IsNoData(g.V[i]) && stands(g, hole, i, reach) {
			found = append(found, i)
			widen(g.Frame, i, func(n int) { found = append(found, n) })
		}
	}
	return found
}

// ringRound lists the cells within so many of a hole.
func ringRound(f grid.Frame, hole []bool, reach int) []int {
	near := make([]bool, len(hole))
	var edge, ring []int
	for i, in := range hole {
		if in {
			near[i] = true
			edge = append(edge, i)
		}
	}
	for range reach {
		var next []int
		for _, i := range edge {
			widen(f, i, func(n int) {
				if !near[n] {
					near[n] = true
					next = append(next, n)
				}
			})
		}
		ring, edge = append(ring, next...), next
	}
	return ring
}

// stands reports whether a cell outside the hole lies lower than ground could fall.
func stands(g grid.Ground, hole []bool, i, reach int) bool {
	x, y, top := i%g.W, i/g.W, float64(g.V[i])
	for dy := -reach; dy <= reach; dy++ {
		for dx := -reach; dx <= reach; dx++ {
			if !g.In(x+dx, y+dy) {
				continue
			}
			n := i + dy*g.W + dx
			if hole[n] || grid.IsNoData(g.V[n]) {
				continue
			}
			if top-float64(g.V[n]) > leastStanding+steepestGround*math.Hypot(float64(dx)*g.DX, float64(dy)*g.DY) {
				return true
			}
		}
	}
	return false
}
