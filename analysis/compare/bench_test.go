package compare_test

import (
	"context"
	"testing"

	"runnel/analysis/compare"
	"runnel/assets/demo"
	"runnel/geo/plan"
)

// BenchmarkAnAccountWhileDragging accounts for the demo's winding channel with one of
// its vertices somewhere else each time.
func BenchmarkAnAccountWhileDragging(b *testing.B) {
	s := demo.Site()
	scheme := s.Plan.Schemes[0].ID
	for i := 0; b.Loop(); i++ {
		s = s.Clone()
		for k, f := range s.Plan.Features {
			if f.Kind == plan.Channel && f.Scheme == scheme {
				line := f.Line().Clone()
				line[len(line)/2][0] += 0.05 * float64(1-2*(i%2))
				s.Plan.Features[k].Geometry = line
			}
		}
		if _, err := compare.Measure(context.Background(), &s, scheme, compare.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAStageTable(b *testing.B) {
	s := demo.Site()
	for b.Loop() {
		if _, err := compare.StageTable(context.Background(), &s, s.Plan.Schemes[0].ID, 17); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAGain(b *testing.B) {
	s, a := accounted(b)
	for b.Loop() {
		if _, err := compare.GainOf(context.Background(), s, a); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkASensitivity(b *testing.B) {
	s, a := accounted(b)
	for b.Loop() {
		if _, err := compare.SensitivityOf(context.Background(), s, a); err != nil {
			b.Fatal(err)
		}
	}
}

func accounted(b *testing.B) (*plan.Site, *compare.Account) {
	s := demo.Site()
	a, err := compare.Measure(context.Background(), &s, s.Plan.Schemes[0].ID, compare.Options{})
	if err != nil {
		b.Fatal(err)
	}
	return &s, &a
}
