// Package synthetic makes grounds for tests and benchmarks: the kind of surface
// that a laser survey of a small place gives, at any size and always the same.
//
// Cells are 1 m, the south-west corner is at (0, 0), heights are metres and no
// cell is without data. The answer depends on the arguments alone: any number of
// processors gives the same bits. Nothing is kept beside the ground but the
// lattices of the hills, a sixth of a byte a cell.
package synthetic

import (
	"context"
	"math"
	"math/rand/v2"

	"runnel/analysis/internal/band"
	"runnel/geo/grid"
)

const (
	middle = 500.0 // height at the north-west corner, before hills [m]
	tilt   = 0.02  // fall to the south-east [m/m]
	noise  = 0.02  // standard deviation of the survey's error [m]
	round  = 20.0  // steps a metre that Rounded keeps: 5 cm

	longest, shortest = 256, 8 // cells between the tops of the hills
	highest           = 5.2    // rise of the longest hills [m]; half as long, half as high
)

// Site makes a ground of w by h cells: a fall of 2 % to the south-east, smooth
// hills of 256 m and, each half as long and half as high, down to 8 m, and white
// noise of 2 cm, which makes many small hollows as surveys do.
func Site(w, h int, seed uint64) grid.Ground {
	g := grid.New[float32](grid.Square(w, h, 0, float64(h), 1))
	var all []hills
	for wave, rise := longest, highest; wave >= shortest; wave, rise = wave/2, rise/2 {
		all = append(all, newHills(g.Frame, wave, rise, seed))
	}
	inBands(h, func(lo, hi int) {
		height, edge := make([]float64, w), make([]float64, w/shortest+2)
		for y := lo; y < hi; y++ {
			clear(height)
			for _, o := range all {
				o.addRow(height, edge, y)
			}
			// A row has a stream of its own, so rows can be made in any order.
			random := rand.New(rand.NewPCG(seed, uint64(y)))
			for x, row := 0, g.Row(y); x < w; x++ {
				row[x] = float32(middle - tilt*float64(x+y)/math.Sqrt2 + height[x] + noise*random.NormFloat64())
			}
		}
	})
	return g
}

// Rounded returns g with its heights kept to 5 cm, so that much of it is flat.
func Rounded(g grid.Ground) grid.Ground {
	g = g.Clone()
	inBands(g.H, func(lo, hi int) {
		for c, z := range g.V[lo*g.W : hi*g.W] {
			g.V[lo*g.W+c] = float32(math.Round(float64(z)*round) / round)
		}
	})
	return g
}

// inBands shares n rows among the processors. A run that nothing can cancel has
// no error to report.
func inBands(n int, f func(lo, hi int)) { _ = band.Rows(context.Background(), n, f) }
