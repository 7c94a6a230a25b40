package runoff

import (
	"context"
	"testing"

	"runnel/assets/demo"
	"runnel/geo/grid"
)

// The demo's features, on its own ground and on one of 1 Mcell about it.
func BenchmarkSurface(b *testing.B) {
	site := demo.Site()
	large := site
	large.Ground = grid.New[float32](grid.Square(1000, 1000, site.Ground.West, site.Ground.North, 0.1))
	for i := range large.Ground.V {
		large.Ground.V[i] = float32(grid.Sample(site.Ground, large.Ground.Centre(i%1000, i/1000)))
	}
	for name, s := range map[string]*grid.Ground{"100 kcell": &site.Ground, "1 Mcell": &large.Ground} {
		b.Run(name, func(b *testing.B) {
			at := site
			at.Ground = *s
			for b.Loop() {
				if _, err := Of(context.Background(), &at, at.Ground); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(s.Len())/1e6*float64(b.N)/b.Elapsed().Seconds(), "Mcell/s")
		})
	}
}
