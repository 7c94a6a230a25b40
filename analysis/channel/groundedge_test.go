package channel

import (
	"math"
	"testing"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

func TestWaterStopsAtGroundThatIsNotKnown(t *testing.T) {
	s := site(60, 30, 0.25)
	add(s, plan.Channel, line(10, 15, 50, 15), "water_level", 9.9)
	_, whole := measured(t, s, Step{})
	for i := range s.Ground.V {
		if s.Ground.Centre(i%s.Ground.W, i/s.Ground.W)[0] > east+30 {
			s.Ground.V[i] = grid.NoData
		}
	}
	s.Plan.Features[0] = s.Plan.Features[0].With("bed_end", plan.Value{Number: 9.6})
	n, problems := NewNetwork(s, 1)
	half, err := n.Measure(t.Context(), Step{})
	if err != nil || len(problems) != 1 || len(about(problems, "Channel 1 leaves the known ground 20.0 m along it, and lies beyond it for 20.0 m")) != 1 {
		t.Fatal(problems, err)
	}
	if at := problems[0].At; math.Abs(at[0]-east-30) > bedStep || at[1] != north+15 {
		t.Errorf("it shows at %v", at)
	}
	m := half[0].Measure
	near(t, "contact of the half that is known", m.Contact, whole[0].Measure.Contact/2, 0.02)
	near(t, "length of the half that is known", m.Length, 20, 1e-9)
	near(t, "what of it is wet", m.Wet, 20, 1e-9)
	near(t, "length that is not known", half[0].Unknown, 20, 1e-9)
}
