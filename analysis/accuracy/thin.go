package accuracy

import (
	"math"

	"runnel/geo/grid"
)

// A Thinness says how well a survey tells which way water runs over a cell.
type Thinness uint8

// The grades. Unknown, the zero value, is a cell of no data. A slope runs the other
// way than the ground says in less than one case in 20 where the survey is Enough, in
// one in 4 or more where it is TooLittle.
const (
	Unknown Thinness = iota
	Enough
	Little
	TooLittle
)

func (t Thinness) String() string {
	return [...]string{"unknown", "enough", "little", "too little"}[t]
}

// oneIn20 and oneIn4 are how many standard deviations a normal value lies above its
// mean in so many cases.
const (
	oneIn20 = 1.6449
	oneIn4  = 0.6745
)

// Thin grades the cells of a ground by their doubt, a standard deviation [m]: by the
// fall of the ground over the reach of its error [m], beside the standard deviation of
// such a fall. Errors of two places a distance apart correlate by exp(-(d/reach)²), as
// package certainty has them.
func Thin(ground grid.Ground, doubt grid.Grid[float32], reach float64) grid.Grid[Thinness] {
	out := grid.New[Thinness](ground.Frame)
	cell := math.Sqrt(ground.CellArea())
	over := max(reach, cell)
	// A difference of two has a variance of 2·(1-correlation) times that of one.
	spread := math.Sqrt(2 * (1 - math.Exp(-square(over/max(reach, cell/1000)))))
	across := axis{1, ground.W, max(1, int(math.Round(over/2/ground.DX)))}
	down := axis{ground.W, ground.H, max(1, int(math.Round(over/2/ground.DY)))}
	for y := range ground.H {
		for x := range ground.W {
			i := y*ground.W + x
			if grid.IsNoData(ground.V[i]) || grid.IsNoData(doubt.V[i]) {
				continue
			}
			slope := math.Hypot(across.fall(ground.V, i, x)/ground.DX, down.fall(ground.V, i, y)/ground.DY)
			out.V[i] = grade(slope*over, spread*float64(doubt.V[i]))
		}
	}
	return out
}

func grade(fall, deviation float64) Thinness {
	switch {
	case fall > oneIn20*deviation:
		return Enough
	case fall > oneIn4*deviation:
		return Little
	}
	return TooLittle
}

// An axis is that of the columns or of the rows: the stride from a cell to the next,
// how many cells it has, and over how many a fall is measured to each side.
type axis struct{ stride, cells, reach int }

// fall returns by how much heights rise a cell along the axis at cell i, which lies
// at a place on it, as far as they are known.
func (a axis) fall(z []float32, i, place int) float64 {
	before, after := min(a.reach, place), min(a.reach, a.cells-1-place)
	for before > 0 && grid.IsNoData(z[i-before*a.stride]) {
		before--
	}
	for after > 0 && grid.IsNoData(z[i+after*a.stride]) {
		after--
	}
	if before+after == 0 {
		return 0
	}
	return float64(z[i+after*a.stride]-z[i-before*a.stride]) / float64(before+after)
}
