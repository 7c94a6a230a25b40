package storm_test

import (
	"context"
	"fmt"
	"testing"

	"runnel/analysis/hollow"
	"runnel/analysis/storm"
	"runnel/analysis/synthetic"
	"runnel/geo/grid"
)

// onSites runs a benchmark on models of grounds of 1 and 4 million cells, as
// surveyed and rounded to 5 cm.
func onSites(b *testing.B, run func(b *testing.B, m *storm.Model)) {
	for _, side := range []int{1000, 2000} {
		surveyed := synthetic.Site(side, side, 7)
		for _, ground := range []struct {
			name string
			grid.Ground
		}{{"site", surveyed}, {"flat", synthetic.Rounded(surveyed)}} {
			m := prepare(b, route(b, ground.Ground), storm.Surface{})
			b.Run(fmt.Sprintf("%s-%dMcell", ground.name, side*side/1_000_000), func(b *testing.B) {
				b.ReportAllocs()
				run(b, m)
				b.ReportMetric(float64(ground.Len())/1e6*float64(b.N)/b.Elapsed().Seconds(), "Mcell/s")
			})
		}
	}
}

// BenchmarkFill is a slider that goes up and down between 1 and 10 cm of rain.
func BenchmarkFill(b *testing.B) {
	onSites(b, func(b *testing.B, m *storm.Model) {
		for i := 0; b.Loop(); i++ {
			fill(b, m, []float64{0.01, 0.05, 0.1, 0.05}[i%4])
		}
	})
}

func BenchmarkFillSoaking(b *testing.B) {
	onSites(b, func(b *testing.B, m *storm.Model) {
		for b.Loop() {
			if _, err := m.FillSoaking(context.Background(), 0.05, storm.Soak{Rate: 5e-6, Hours: 2}); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkPrepare(b *testing.B) {
	f := route(b, synthetic.Site(2000, 2000, 7))
	tree, err := hollow.NewTree(context.Background(), f)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := storm.Prepare(context.Background(), f, tree, storm.Surface{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(4*float64(b.N)/b.Elapsed().Seconds(), "Mcell/s")
}
