package flow_test

import (
	"context"
	"fmt"
	"testing"

	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/geo/grid"
)

// onSites runs a benchmark on grounds of 1 and 4 million cells, as surveyed and
// rounded to 5 cm, and reports how many million cells it takes a second.
func onSites(b *testing.B, run func(b *testing.B, ground, filled grid.Ground, dir grid.Grid[grid.Dir]) error) {
	for _, side := range []int{1000, 2000} {
		surveyed := site(side, side, 7)
		for _, ground := range []struct {
			name string
			grid.Ground
		}{{"site", surveyed}, {"flat", rounded(surveyed)}} {
			filled, dir := route(b, ground.Ground)
			b.Run(fmt.Sprintf("%s-%dMcell", ground.name, side*side/1_000_000), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if err := run(b, ground.Ground, filled, dir); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(ground.Len())/1e6*float64(b.N)/b.Elapsed().Seconds(), "Mcell/s")
			})
		}
	}
}

func BenchmarkFill(b *testing.B) {
	onSites(b, func(b *testing.B, ground, _ grid.Ground, _ grid.Grid[grid.Dir]) error {
		_, err := flow.Fill(context.Background(), ground)
		return err
	})
}

func BenchmarkDirections(b *testing.B) {
	onSites(b, func(b *testing.B, ground, filled grid.Ground, _ grid.Grid[grid.Dir]) error {
		_, err := flow.Directions(context.Background(), ground, filled)
		return err
	})
}

func BenchmarkAccumulate(b *testing.B) {
	onSites(b, func(b *testing.B, _, _ grid.Ground, dir grid.Grid[grid.Dir]) error {
		_, err := flow.Accumulate(context.Background(), dir, nil)
		return err
	})
}

func BenchmarkHollows(b *testing.B) {
	onSites(b, func(b *testing.B, ground, filled grid.Ground, _ grid.Grid[grid.Dir]) error {
		found, err := hollow.Find(context.Background(), ground, filled)
		b.ReportMetric(float64(len(found)), "hollows")
		return err
	})
}

// BenchmarkDrop is what follows the pointer: the path of a drop across the site.
func BenchmarkDrop(b *testing.B) {
	ground := site(1000, 1000, 7)
	_, dir := route(b, ground)
	at := ground.Centre(500, 500)
	for b.Loop() {
		if _, err := flow.Drop(ground, dir, at); err != nil {
			b.Fatal(err)
		}
	}
}
