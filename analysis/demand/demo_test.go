package demand

import (
	"testing"

	"runnel/assets/demo"
	"runnel/geo/plan"
)

// The demo's beds are those of the terrace in both schemes, and in the winding one two
// more; a household draws the same everywhere.
func TestTheDemoDrawsWhatAPlotOfItsKindDraws(t *testing.T) {
	s := demo.Site()
	et, how, err := Reference(s.Weather)
	if err != nil {
		t.Fatal(err)
	}
	t.Log(how)
	schemes := map[plan.SchemeID]int{plan.AsItIs: 0, s.Plan.Schemes[0].ID: 5, s.Plan.Schemes[1].ID: 3}
	for scheme, beds := range schemes {
		d, problems := Of(&s, scheme, et)
		for _, p := range problems {
			t.Errorf("%s: %v", s.Plan.SchemeName(scheme), p.Err)
		}
		y := d.MeanYear
		t.Logf("%-26s %d beds: reference %.0f mm, rain %.0f mm, crop %.1f, rain used %.1f, net %.1f, gross %.1f, household %.1f, draw %.1f m³ (%.1f of it in dry months %v)",
			s.Plan.SchemeName(scheme), len(d.Beds), y.Reference, y.Rain, y.Crop, y.Effective, y.Net, y.Gross, y.Household, y.Draw, y.DryDraw, d.Dry)
		for _, b := range d.Beds {
			t.Logf("   %-22s %6.1f m² from %v", b.Name, b.Area, b.Starts)
		}
		if len(d.Beds) != beds || !y.Known || len(d.Years) != 10 {
			t.Errorf("%s: %d beds, %d years, known: %v", s.Plan.SchemeName(scheme), len(d.Beds), len(d.Years), y.Known)
		}
		// Common practice, no source: a kitchen garden in such a place is given a tenth to half a metre of water a summer.
		for _, b := range d.Beds {
			var net float64
			for _, w := range b.Mean {
				net += w.Net
			}
			if depth := net / b.Area; depth < 0.05 || depth > 0.6 {
				t.Errorf("%s is given %.2f m of water a year", b.Name, depth)
			}
		}
	}
}
