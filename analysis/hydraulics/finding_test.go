package hydraulics

import (
	"math"
	"strings"
	"testing"

	"runnel/geo/plan"
)

// Just inside a limit nothing is found, just outside it is, with the limit itself.
// Fortier and Scobey 1926 for fine gravel: 2.5 ft/s and 0.075 lb/ft².
func TestScourIsFoundJustBeyondEachLimit(t *testing.T) {
	const velocity, shear = 2.5 * .3048, .075 * 47.88
	for _, c := range []struct {
		velocity, shear float64
		want            []What
	}{
		{velocity * .999, shear * .999, nil},
		{velocity * 1.001, shear * .999, []What{TooFast}},
		{velocity * .999, shear * 1.001, []What{TooMuchShear}},
		{-velocity * 1.001, shear * 1.001, []What{TooFast, TooMuchShear}},
	} {
		s := site(10, 10)
		id := add(s, plan.Channel, line(1, 5, 9, 5), "lining", "gravel")
		f := s.Plan.Features[0]
		p := part{study: &study{site: s, features: map[plan.ID]plan.Feature{id: f}}}
		p.judgeScour(&Reach{ID: id, Title: "Brook", Stations: []Station{
			{Chainage: 2, Along: 2}, {Chainage: 4, Along: 4, Velocity: c.velocity, Shear: c.shear},
		}})
		var got []What
		for _, f := range p.result.Findings {
			got = append(got, f.What)
			value, limit, unit := math.Abs(c.velocity), velocity, "m/s"
			if f.What == TooMuchShear {
				value, limit, unit = c.shear, shear, "Pa"
			}
			within(t, "value", f.Value, value, 1e-12)
			within(t, "limit", f.Limit, limit, 1e-9)
			if f.Unit != unit || f.From != 4 || f.To != 4 || !strings.Contains(f.Source, "Fortier and Scobey 1926") || strings.Contains(f.Source, "memory") {
				t.Errorf("it finds %+v", f)
			}
		}
		if len(got) != len(c.want) || len(got) > 0 && got[0] != c.want[0] {
			t.Errorf("at %v m/s and %v Pa it finds %v", c.velocity, c.shear, got)
		}
	}
}

// In even flow the shear on the bed is the weight of water × depth × the bed's fall, and
// the mean of bed and banks that with the hydraulic radius (Chow 1959 section 7-8).
func TestShearOfEvenFlowIsTheWeightOfItsWaterDownTheBed(t *testing.T) {
	const slope, q = .004, .1
	s := falling(420, 40, slope)
	canal(s, 10, 400, slope, "flow", q*1000, "lining", "gravel")
	r := given(t, s)
	section := trapezoid(1, 2)
	normal, _ := NormalDepth(section, .025, slope, q)
	st := r.Reaches[0].Stations[20]
	within(t, "depth", st.Depth, normal, 1e-6)
	within(t, "shear", st.Shear, 9806.65*normal*slope, 1e-3)
	within(t, "mean shear", st.MeanShear, 9806.65*section.HydraulicRadius(normal)*slope, 1e-3)
	if f := found(r, TooMuchShear); f == nil || !(f.Value >= st.Shear-1e-3) || f.Limit != .075*47.880 {
		t.Errorf("it finds %+v", f)
	}
}
