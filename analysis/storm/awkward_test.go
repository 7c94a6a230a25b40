package storm_test

import (
	"math"
	"testing"

	"runnel/analysis/storm"
	"runnel/analysis/synthetic"
	"runnel/geo/grid"
)

// On any ground what falls is what stands and what leaves; and no storm, none.
func TestNoWaterIsLostOnAwkwardGrounds(t *testing.T) {
	for name, ground := range synthetic.Awkward() {
		t.Run(name, func(t *testing.T) {
			f := route(t, ground)
			m := prepare(t, f, storm.Surface{})
			_, _, known := grid.Extent(ground)
			for _, rain := range []float64{0.001, 0.05, 3, 0} {
				r := fill(t, m, rain)
				b, want := r.Balance, rain*float64(known)*ground.CellArea()
				if math.Abs(b.In-want) > 1e-9*want || math.Abs(b.In-b.Stored-b.Left) > 1e-9*want {
					t.Errorf("%g m of rain bring %g m³: %+v", rain, want, b)
				}
				// No float tells a depth of metres at the bottom of the shaft.
				if name != "a shaft 1e30 deep" {
					check(t, f, m, r)
				}
			}
		})
	}
}
