package hydraulics

import (
	"testing"

	"runnel/analysis/soil"
	"runnel/geo"
	"runnel/geo/plan"
)

func TestEveryLiningOfThePlanIsInTheTables(t *testing.T) {
	if got, want := len(linings()), len(plan.Linings()); got != want {
		t.Errorf("the table has %d linings, the plan %d", got, want)
	}
	for _, name := range plan.Linings() {
		l, err := LiningNamed(name)
		if err != nil {
			t.Fatal(err)
		}
		if !(l.N.Low < l.N.Likely && l.N.Likely < l.N.High) || l.Source == "" {
			t.Errorf("%s is %+v", name, l)
		}
		for _, texture := range soil.Textures() {
			if limit, err := LimitOf(name, texture.Name, .01); err != nil || !(limit.Velocity > .4) || !(limit.Shear > 1) || limit.Source == "" {
				t.Errorf("%s on %s stands %+v, %v", name, texture.Name, limit, err)
			}
		}
	}
}

// Chow 1959 table 5-6 as it is reprinted; Fortier and Scobey 1926, and HEC-15's shear:
// from memory. SCS-TP-61 1954 as the codes of Winchester, Norton and Kansas print it.
func TestTablesPrintWhatTheirSourcesDo(t *testing.T) {
	l, _ := LiningNamed("Bare earth, weathered")
	if want := (geo.Range{Low: .018, Likely: .022, High: .025}); l.N != want {
		t.Errorf("weathered earth has n %v", l.N)
	}
	for _, c := range []struct {
		lining, soil                 string
		slope, feetPerSecond, pounds float64
	}{
		{"bare earth, new", "sandy loam", .01, 1.75, .037},
		{"bare earth, weathered", "clay", .01, 3.75, .26},
		{"short grass", "clay", .02, 5, .6},
		{"short grass", "clay", .07, 4, .6},
		{"short grass", "silt loam", .02, 4, .6},
		{"grass and weeds", "loam", .07, 3, 1},
		{"dense weeds", "sand", .05, 2.5, 1},
		{"stones", "loam", .3, 5, .91},
	} {
		limit, err := LimitOf(c.lining, c.soil, c.slope)
		if err != nil {
			t.Fatal(err)
		}
		within(t, c.lining+": velocity", limit.Velocity, c.feetPerSecond*.3048, 1e-9)
		within(t, c.lining+": shear", limit.Shear, c.pounds*47.88, 1e-9)
	}
	// HEC-15 classes C and D as they come to in metres: 48 and 29 Pa.
	limit, _ := LimitOf("short grass", "loam", 0)
	within(t, "retardance D", limit.Shear, 29, .5)
}

func TestNoLimitIsMadeUp(t *testing.T) {
	for _, c := range []struct {
		lining, soil string
		slope        float64
	}{{"short grass", "loam", .11}, {"dense weeds", "loam", .06}, {"carpet", "loam", .01}, {"bare earth, new", "peat", .01}} {
		if limit, err := LimitOf(c.lining, c.soil, c.slope); err == nil {
			t.Errorf("%+v stands %+v", c, limit)
		}
	}
	if _, err := LiningNamed("carpet"); err == nil {
		t.Error("carpet is a lining")
	}
}
