package channel

import (
	"math"
	"testing"

	"runnel/assets/demo"
	"runnel/geo/plan"
)

// The demo's winding channel stands below its banks, and its drain a good way below
// its own.
func TestRaisedWaterStandsSoMuchHigherUpToTheBrim(t *testing.T) {
	s := demo.Site()
	own, _ := NewNetwork(&s, s.Plan.Schemes[0].ID)
	before, err := own.Measure(t.Context(), Step{})
	if err != nil {
		t.Fatal(err)
	}
	for _, by := range []float64{-0.05, 0, 0.02} {
		lines, err := own.Raised(by).Measure(t.Context(), Step{})
		if err != nil {
			t.Fatal(err)
		}
		for i, l := range lines {
			if got, want := l.Measure.Depth, before[i].Measure.Depth+by; math.Abs(got-want) > 1e-9 {
				t.Errorf("%s raised by %v m is %v m deep, want %v", l.Title, by, got, want)
			}
			if got, want := l.Measure.Level, before[i].Measure.Level+by; math.Abs(got-want) > 1e-9 {
				t.Errorf("%s raised by %v m stands at %v m, want %v", l.Title, by, got, want)
			}
		}
	}
	brim, _ := own.WithLevel(1e5)
	full, _ := brim.Measure(t.Context(), Step{})
	lines, _ := own.Raised(9).Measure(t.Context(), Step{})
	for i, l := range lines {
		f, _ := s.Plan.Find(l.ID)
		switch {
		case l.Kind == plan.Channel && l.Measure != full[i].Measure:
			t.Errorf("%s raised by 9 m measures %+v, at its brim %+v", l.Title, l.Measure, full[i].Measure)
		case l.Kind == plan.Drain && math.Abs(l.Measure.Depth-f.Num("depth")) > 1e-3:
			t.Errorf("%s raised by 9 m is %v m deep, and the drain %v", l.Title, l.Measure.Depth, f.Num("depth"))
		}
	}
}
