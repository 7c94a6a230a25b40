package demand

import (
	"strings"
	"testing"

	"runnel/geo/plan"
)

// NEH 623 chapter 2, table 2-43, and the factor of equation 2-85: the row of 1 inch from
// memory of the table, the others recomputed from the equation.
func TestEffectiveRainOfTheTable(t *testing.T) {
	compare(t, []figure{{"SF(1)", storeFactor(1), 0.773, 0.0006}, {"SF(2)", storeFactor(2), 0.922, 0.0006}, {"SF(3)", storeFactor(3), 1.001, 0.0006}})
	for rain, row := range map[float64][6]float64{
		1: {0.59, 0.66, 0.74, 0.83, 0.93, 1.04},
		2: {1.14, 1.28, 1.43, 1.60, 1.78, 1.99},
		4: {2.11, 2.36, 2.64, 2.95, 3.30, 3.69},
	} {
		for i, want := range row {
			need := float64(2 * i)
			compare(t, []figure{
				{"rain that is used", effectiveInches(rain, need, 3), want, 0.0075},
				{"the same in mm", EffectiveRain(25.4*rain, 25.4*need), 25.4 * min(want, rain, need), 0.19},
			})
		}
	}
}

func TestNoMoreRainIsUsedThanFallsOrIsNeeded(t *testing.T) {
	for rain := 0.0; rain < 700; rain += 3 {
		last := 0.0
		for need := 0.0; need < 400; need += 7 {
			used := EffectiveRain(rain, need)
			if !(used >= last && used <= rain && used <= need) {
				t.Fatalf("%g mm of %g mm are used where %g mm are needed, %g mm where less is", used, rain, need, last)
			}
			last = used
		}
	}
}

// FAO irrigation water management training manual 4, annex I, table 8: seen in copies.
func TestEfficienciesAreThoseOfTheTable(t *testing.T) {
	for way, want := range map[string]float64{"surface": 0.60, "sprinkler": 0.75, "drip": 0.90} {
		if got, err := Efficiency(way); err != nil || got != want {
			t.Errorf("of %s %g gets to the plants (%v), want %g", way, got, err, want)
		}
	}
	for _, way := range plan.Irrigations() {
		if _, err := Efficiency(way); err != nil {
			t.Error(err)
		}
	}
	if len(efficiencies()) != len(plan.Irrigations()) {
		t.Error("the table has ways that the plan does not offer")
	}
	if _, err := Efficiency("by hand"); err == nil || !strings.Contains(err.Error(), `"by hand" is not in the table`) {
		t.Error(err)
	}
	if _, err := parseEfficiencies("method,efficiency,source\ndrip,1.2,a\n"); err == nil || !strings.Contains(err.Error(), `efficiency of drip is "1.2"`) {
		t.Error(err)
	}
}
