package pool

import (
	"testing"

	"runnel/analysis/channel"
	"runnel/analysis/soil"
	"runnel/assets/demo"
)

func BenchmarkOf(b *testing.B) {
	s := demo.Site()
	soils, _ := soil.NewMap(&s)
	for _, scheme := range s.Plan.Schemes {
		n, _ := channel.NewNetwork(&s, scheme.ID)
		b.Run(scheme.Name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Of(b.Context(), &s, n, soils); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkDaysWet(b *testing.B) {
	s := demo.Site()
	n, _ := channel.NewNetwork(&s, s.Plan.Schemes[0].ID)
	got, err := Of(b.Context(), &s, n, loam{})
	if err != nil {
		b.Fatal(err)
	}
	standing := make([][]float64, len(got.Pools))
	for i, p := range got.Pools {
		standing[i] = make([]float64, len(p.Stages))
	}
	for b.Loop() {
		if _, err := DaysWet(b.Context(), s.Ground, n, got.Pools, standing); err != nil {
			b.Fatal(err)
		}
	}
}
