package ui

import (
	"slices"
	"testing"
	"time"

	"runnel/app/view"
	"runnel/assets/demo"
	"runnel/geo/plan"
)

// BenchmarkWhatSoaksInFollowsAnEdit is what follows a change of the soil, and of the
// channel's bed, in the Soak step: figures, both accounts and the days under water. p95
// is the time that 19 of 20 keep within.
func BenchmarkWhatSoaksInFollowsAnEdit(b *testing.B) {
	for _, of := range []struct {
		name   string
		change func(s *plan.Site, i int)
	}{
		{"soil", func(s *plan.Site, i int) { s.Setting.Soil = []string{"loam", "sandy loam"}[i%2] }},
		{"bed", func(s *plan.Site, i int) {
			for k, f := range s.Plan.Features {
				if f.Kind == plan.Channel && f.Scheme == s.Plan.Schemes[0].ID {
					s.Plan.Features[k] = f.With("bed_width", plan.Value{Number: 0.8 + 0.1*float64(i%2)})
				}
			}
		}},
	} {
		b.Run(of.name, func(b *testing.B) {
			var m measurer
			var k soaker
			var took []float64
			s := demo.Site()
			for i := 0; b.Loop(); i++ {
				next := s.Clone()
				next.Weather = s.Weather
				of.change(&next, i)
				start := time.Now()
				f, err := m.measure(b.Context(), &next, next.Plan.Schemes[0].ID)
				if err != nil {
					b.Fatal(err)
				}
				if _, err := k.account(b.Context(), f, view.Days); err != nil {
					b.Fatal(err)
				}
				took = append(took, time.Since(start).Seconds()*1000)
			}
			slices.Sort(took)
			b.ReportMetric(took[len(took)*19/20], "p95-ms")
			b.ReportMetric(took[len(took)/2], "p50-ms")
		})
	}
}
