package runoff

import (
	"testing"

	"runnel/geo/plan"
)

// Of 100 mm on 100 m², 12 m² of roof and 10 m² of paving shed 0.9 and 0.85 of
// theirs and the open ground brings up all of its own; nothing soaks in under the
// roof and the paving.
func TestBeforeSoakingAllRainOnOpenGroundComesUp(t *testing.T) {
	b := shaped(t, 10, 10, level)
	b.draw(plan.Roof, box(1, 1, 5, 4), nil)
	b.draw(plan.Paving, box(0, 8, 10, 9), nil)
	s := b.surface()
	weight, open := s.BeforeSoaking()
	total, cells := 0.0, 0
	for c, w := range weight {
		total += w
		if open[c] {
			cells++
		}
	}
	if want := 78 + 12*0.9 + 10*0.85; !near(total, want, 1e-9) || cells != 78 {
		t.Errorf("%.3f m³ a metre come up and %d cells are open, want %.3f and 78", total, cells, want)
	}
	if weight[b.cell(2, 7)] != 0 || weight[b.cell(3, 1)] != 0.85 {
		t.Errorf("the roof's cell brings up %g, the paving's %g", weight[b.cell(2, 7)], weight[b.cell(3, 1)])
	}
}
