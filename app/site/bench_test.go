package site

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// BenchmarkDragStep is one pointer move of a drag on a well filled site.
func BenchmarkDragStep(b *testing.B) {
	s := field()
	for i := range 2000 {
		east := float64(i)
		s.Plan.Features = append(s.Plan.Features, plan.Feature{ID: plan.ID(10 + i), Kind: plan.Roof,
			Geometry: orb.Polygon{{{east, 0}, {east + 1, 0}, {east, 1}, {east, 0}}}})
	}
	doc := New(s, "")
	gesture, east := doc.Gesture(), 2.0
	for b.Loop() {
		shiftTo(doc, east, gesture)
		east++
	}
}
