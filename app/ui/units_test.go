package ui

import (
	"math"
	"testing"

	"runnel/geo/plan"
)

func TestFiguresAreWrittenWithTheirUnit(t *testing.T) {
	for _, c := range []struct {
		name, got, want string
	}{
		{"an easting is parted in thousands", decimal(523411.25, 1), "523\u2009411.2"},
		{"a northing of seven figures", decimal(4811200.6, 1), "4\u2009811\u2009200.6"},
		{"a fall below nought has a minus sign", decimal(-12.5, 1), "−12.5"},
		{"a trace below nought is nought", decimal(-0.001, 1), "0.0"},
		{"three figures are kept", metric.area(412.4), "412\u00a0m²"},
		{"of a small area too", metric.area(9.4), "9.40\u00a0m²"},
		{"what is not known is a dash without a unit", metric.volume(math.NaN()), "–"},
		// 1 ft = 0.3048 m exactly, so 3.048 m is 10 ft and 9.290304 m² is 100 ft².
		{"feet", usFeet.length(3.048), "10.0\u00a0ft"},
		{"square feet", usFeet.area(9.290304), "100\u00a0ft²"},
		{"cubic feet", usFeet.volume(0.028316846592), "1.00\u00a0ft³"},
		{"a ratio", times(4.381), "×\u00a04.38"},
		{"no ratio", times(math.Inf(1)), "–"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.name, c.got, c.want)
		}
	}
}

func TestAFieldTypedInFeetKeepsItsLimitsInMetres(t *testing.T) {
	for _, spec := range plan.Specs() {
		for _, f := range spec.Fields {
			typed, each := usFeet.field(f)
			for _, limit := range []float64{typed.Low, typed.High} {
				if f.Type == plan.Number && f.Check(plan.Value{Number: limit * each}) != nil {
					t.Errorf("%s: the limit %g %s is outside %g to %g m", f.Label, limit, typed.Unit, f.Low, f.High)
				}
			}
		}
	}
	if _, each := usFeet.field(plan.Field{Unit: "H:V"}); each != 1 {
		t.Error("a side slope is taken for a length")
	}
}

func TestASentenceIsWrittenInUSUnitsAsItsSourceHadIt(t *testing.T) {
	for given, want := range map[string]string{
		// 50 ft, 10 ft, 35 ft and 18 in, as the guidance has them.
		"Keep 15.2 m from a well.":           "Keep 50\u00a0ft from a well.",
		"Keep 3.0 m from it (the manual).":   "Keep 10\u00a0ft from it (the manual).",
		"Keep 10.7 m away":                   "Keep 35\u00a0ft away",
		"Pond no more than 0.46 m (manual).": "Pond no more than 1.5\u00a0ft (manual).",
		"12 m² and 3 m³.":                    "129\u00a0ft² and 106\u00a0ft³.",
		"To sink at 10.4 mm/h in loam.":      "To sink at 10.4 mm/h in loam.",
		"It runs at 0.5 m/s.":                "It runs at 1.6\u00a0ft/s.",
		"It lets in 20.0 L/s.":               "It lets in 0.706\u00a0ft³/s.",
		"Channel 41 meets 2 m, then 2 m.":    "Channel 41 meets 7\u00a0ft, then 7\u00a0ft.",
	} {
		if got := usFeet.sentence(given); got != want {
			t.Errorf("%q gives %q, want %q", given, got, want)
		}
		if got := metric.sentence(given); got != given {
			t.Errorf("%q gives %q in metres", given, got)
		}
	}
}

func TestAPersonsOwnNameKeepsItsFigures(t *testing.T) {
	t.Cleanup(func() { ownNames.Store(nil) })
	s := plan.Site{Name: "Orchard"}
	s.Plan.Features = []plan.Feature{{Kind: plan.Channel, Name: "Pond 3 m deep"}}
	keepNames(&s)
	const text = "Pond 3 m deep is 3 m from the well"
	if got, want := usFeet.told(text), "Pond 3 m deep is 10\u00a0ft from the well"; got != want {
		t.Errorf("it is told as %q, want %q", got, want)
	}
}
