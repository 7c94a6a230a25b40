package synthetic

import (
	"math/rand/v2"

	"runnel/geo/grid"
)

// hills are random heights at lattice points some cells apart, blended smoothly
// between them.
type hills struct {
	wave    int       // cells between lattice points
	across  int       // lattice points in a row
	lattice []float64 // their heights [m]
	share   []float64 // of the way from one point to the next, by cell
}

// newHills draws hills within ±rise [m] at points wave cells apart over f.
func newHills(f grid.Frame, wave int, rise float64, seed uint64) hills {
	o := hills{wave: wave, across: f.W/wave + 2, share: make([]float64, wave)}
	// Rows take the streams 0, 1, 2 and so on; the hills take those from the other end.
	random := rand.New(rand.NewPCG(seed, ^uint64(wave)))
	o.lattice = make([]float64, o.across*(f.H/wave+2))
	for i := range o.lattice {
		o.lattice[i] = rise * (2*random.Float64() - 1)
	}
	for i := range o.share {
		t := float64(i) / float64(wave)
		o.share[i] = t * t * (3 - 2*t)
	}
	return o
}

// addRow adds the heights of row y to height. It keeps the lattice of that row
// in edge, which must hold a value a lattice point.
func (o hills) addRow(height, edge []float64, y int) {
	above := o.lattice[y/o.wave*o.across:]
	below, down := above[o.across:], o.share[y%o.wave]
	for i := range o.across {
		edge[i] = above[i] + (below[i]-above[i])*down
	}
	for i := 0; i*o.wave < len(height); i++ {
		from, rise := edge[i], edge[i+1]-edge[i]
		cells := height[i*o.wave : min((i+1)*o.wave, len(height))]
		for x := range cells {
			cells[x] += from + rise*o.share[x]
		}
	}
}
