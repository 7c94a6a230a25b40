package flow_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"runnel/analysis/flow"
	"runnel/analysis/synthetic"
	"runnel/geo/grid"
)

// onSites runs a benchmark on generated grounds of 1, 4 and 25 million cells, as
// surveyed and rounded to 5 cm.
func onSites(b *testing.B, run func(b *testing.B, ground grid.Ground)) {
	for _, side := range []int{1000, 2000, 5000} {
		surveyed := synthetic.Site(side, side, 7)
		for _, ground := range []struct {
			name string
			grid.Ground
		}{{"site", surveyed}, {"flat", synthetic.Rounded(surveyed)}} {
			b.Run(fmt.Sprintf("%s-%dMcell", ground.name, side*side/1_000_000), func(b *testing.B) {
				b.ReportAllocs()
				run(b, ground.Ground)
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(ground.Len()), "ns/cell")
			})
		}
	}
}

// BenchmarkRoute is the whole work with memory to hand, and the nanoseconds that
// each stage takes a cell.
func BenchmarkRoute(b *testing.B) {
	onSites(b, func(b *testing.B, ground grid.Ground) {
		var router flow.Router
		stage := map[string]float64{}
		o := flow.Options{Stage: func(name string, seconds float64) { stage[name] += seconds }}
		if _, err := router.Route(context.Background(), ground, o); err != nil {
			b.Fatal(err)
		}
		clear(stage)
		b.ResetTimer()
		for b.Loop() {
			if _, err := router.Route(context.Background(), ground, o); err != nil {
				b.Fatal(err)
			}
		}
		for name, seconds := range stage {
			b.ReportMetric(seconds*1e9/float64(b.N)/float64(ground.Len()), name+"-ns/cell")
		}
	})
}

// BenchmarkUpdate is the answer after an edit: a ditch 0.3 m deep and 30 m long,
// dug and filled in turns.
func BenchmarkUpdate(b *testing.B) {
	onSites(b, func(b *testing.B, ground grid.Ground) {
		var router flow.Router
		if _, err := router.Route(context.Background(), ground, flow.Options{}); err != nil {
			b.Fatal(err)
		}
		random := rand.New(rand.NewPCG(1, 2))
		var x, y int
		for i := 0; b.Loop(); i++ {
			depth := float32(0.3)
			if i%2 == 0 {
				x, y, depth = random.IntN(ground.W-3), random.IntN(ground.H-30), -0.3
			}
			for c := y*ground.W + x; c < (y+30)*ground.W; c += ground.W {
				for k := range 3 {
					ground.V[c+k] += depth
				}
			}
			if _, err := router.Update(context.Background(), ground, y, y+30); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkAccumulate(b *testing.B) {
	onSites(b, func(b *testing.B, ground grid.Ground) {
		_, dir := route(b, ground)
		for b.Loop() {
			if _, err := flow.Accumulate(context.Background(), dir, nil); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkDrop is what follows the pointer: the path of a drop across the site.
func BenchmarkDrop(b *testing.B) {
	ground := synthetic.Site(1000, 1000, 7)
	_, dir := route(b, ground)
	at := ground.Centre(500, 500)
	for b.Loop() {
		if _, err := flow.Drop(ground, dir, at); err != nil {
			b.Fatal(err)
		}
	}
}
