package hollow_test

import (
	"context"
	"fmt"
	"testing"

	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/analysis/synthetic"
	"runnel/geo/grid"
)

// BenchmarkTree is the whole tree with its volumes, on grounds of 1 and 4 million
// cells as surveyed and rounded to 5 cm.
func BenchmarkTree(b *testing.B) {
	for _, side := range []int{1000, 2000} {
		surveyed := synthetic.Site(side, side, 7)
		for _, ground := range []struct {
			name string
			grid.Ground
		}{{"site", surveyed}, {"flat", synthetic.Rounded(surveyed)}} {
			routed, err := flow.Route(context.Background(), ground.Ground, flow.Options{})
			if err != nil {
				b.Fatal(err)
			}
			b.Run(fmt.Sprintf("%s-%dMcell", ground.name, side*side/1_000_000), func(b *testing.B) {
				b.ReportAllocs()
				nodes := 0
				for b.Loop() {
					t, err := hollow.NewTree(context.Background(), routed)
					if err != nil {
						b.Fatal(err)
					}
					nodes = len(t.Nodes)
				}
				b.ReportMetric(float64(nodes), "nodes")
				b.ReportMetric(float64(ground.Len())/1e6*float64(b.N)/b.Elapsed().Seconds(), "Mcell/s")
			})
		}
	}
}
