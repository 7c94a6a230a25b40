package flow_test

import (
	"math"
	"math/rand/v2"

	"runnel/geo/grid"
)

// site makes the kind of ground that a laser survey of a small place gives: a
// fall of 2 % to the south-east, smooth hills 256 m long and less, and survey
// noise of 2 cm. Cells are 1 m. The same seed gives the same ground.
func site(w, h int, seed uint64) grid.Ground {
	random := rand.New(rand.NewPCG(seed, 1))
	g := grid.New[float32](grid.Square(w, h, 0, float64(h), 1))
	height := make([]float64, len(g.V))
	for wave, rise := 256, 3.0; wave >= 8; wave, rise = wave/2, rise/2 {
		addHills(height, g.Frame, wave, rise, random)
	}
	for y := range h {
		for x := range w {
			c := y*w + x
			g.V[c] = float32(500 - 0.02*float64(x+y)/math.Sqrt2 + height[c] + 0.02*random.NormFloat64())
		}
	}
	return g
}

// addHills adds random heights within ±rise at lattice points wave cells apart,
// blended smoothly between them.
func addHills(height []float64, f grid.Frame, wave int, rise float64, random *rand.Rand) {
	across := f.W/wave + 2
	lattice := make([]float64, across*(f.H/wave+2))
	for i := range lattice {
		lattice[i] = rise * (2*random.Float64() - 1)
	}
	blend := func(a, b, t float64) float64 { return a + (b-a)*t*t*(3-2*t) }
	for y := range f.H {
		ty := float64(y%wave) / float64(wave)
		for x := range f.W {
			tx := float64(x%wave) / float64(wave)
			at := lattice[y/wave*across+x/wave:]
			height[y*f.W+x] += blend(blend(at[0], at[1], tx), blend(at[across], at[across+1], tx), ty)
		}
	}
}

// rounded is a ground whose heights were kept to 5 cm, so that much of it is flat.
func rounded(g grid.Ground) grid.Ground {
	g = g.Clone()
	for c, z := range g.V {
		g.V[c] = float32(math.Round(float64(z)*20) / 20)
	}
	return g
}
