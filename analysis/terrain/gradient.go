package terrain

import (
	"math"

	"runnel/geo/grid"
)

// A gradient is how much the ground rises eastward and northward [m/m].
type gradient struct{ east, north float64 }

// slope is the rise over run [m/m] in the steepest way.
func (g gradient) slope() float64 { return math.Hypot(g.east, g.north) }

// eachGradient calls f with the gradient of each cell of row y, NaN on no data.
func eachGradient(g grid.Ground, y int, f func(x int, rise gradient)) {
	if y == 0 || y == g.H-1 || g.W < 3 {
		for x := range g.W {
			f(x, gradientBeside(g, x, y))
		}
		return
	}
	n, c, s := g.Row(y-1), g.Row(y), g.Row(y+1)
	perEast, perNorth := 1/(8*g.DX), 1/(8*g.DY)
	f(0, gradientBeside(g, 0, y))
	for x := 1; x < g.W-1; x++ {
		nw, no, ne := float64(n[x-1]), float64(n[x]), float64(n[x+1])
		w, own, e := float64(c[x-1]), float64(c[x]), float64(c[x+1])
		sw, so, se := float64(s[x-1]), float64(s[x]), float64(s[x+1])
		rise := gradient{
			east:  ((ne + 2*e + se) - (nw + 2*w + sw)) * perEast,
			north: ((nw + 2*no + ne) - (sw + 2*so + se)) * perNorth,
		}
		if sum := rise.east + rise.north + own; sum != sum {
			rise = gradientBeside(g, x, y)
		}
		f(x, rise)
	}
	f(g.W-1, gradientBeside(g, g.W-1, y))
}

// gradientBeside is the gradient of a cell some of whose neighbours are missing.
// Horn's formula is the mean of the differences along three rows, the middle
// one counting twice; here a row that lacks one side gives the difference to the
// other, and a row that lacks more does not count.
func gradientBeside(g grid.Ground, x, y int) gradient {
	if grid.IsNoData(g.At(x, y)) {
		return gradient{math.NaN(), math.NaN()}
	}
	var east, north, eastWeight, northWeight float64
	for k := -1; k <= 1; k++ {
		weight := float64(2 - k*k)
		if d := difference(height(g, x-1, y+k), height(g, x, y+k), height(g, x+1, y+k)); !math.IsNaN(d) {
			east += weight * d / g.DX
			eastWeight += weight
		}
		if d := difference(height(g, x+k, y+1), height(g, x+k, y), height(g, x+k, y-1)); !math.IsNaN(d) {
			north += weight * d / g.DY
			northWeight += weight
		}
	}
	// A cell that stands alone is level.
	return gradient{east / max(eastWeight, 1), north / max(northWeight, 1)}
}

// height is the height of cell (x, y), NaN off the grid.
func height(g grid.Ground, x, y int) float64 {
	if !g.In(x, y) {
		return math.NaN()
	}
	return float64(g.At(x, y))
}

// difference is the rise of one step from a over b to c, taken over both steps
// where a and c are known, over one of them otherwise.
func difference(a, b, c float64) float64 {
	switch {
	case !math.IsNaN(a) && !math.IsNaN(c):
		return (c - a) / 2
	case math.IsNaN(a):
		return c - b
	default:
		return b - a
	}
}
