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
