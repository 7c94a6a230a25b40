package runoff

import (
	"strings"
	"testing"

	"runnel/geo/plan"
)

func TestEveryCoverThatIsOfferedStandsInTheTable(t *testing.T) {
	covers := table()
	for i, name := range plan.Covers() {
		if covers[i].Name != name {
			t.Errorf("%s is offered at place %d, where the table has %s", name, i, covers[i].Name)
		}
	}
	for _, c := range covers {
		if c.Source == "" {
			t.Errorf("%s has no word about its source", c.Name)
		}
	}
}

// FHWA HEC-22 (3rd ed.) table 3-1: lawns from 0.05 (sandy soil, flat) to 0.35
// (heavy soil, steep), parks 0.10–0.25, asphalt streets 0.70–0.95, roofs 0.75–0.95.
func TestCoefficientsAreThoseOfTheirSource(t *testing.T) {
	for name, want := range map[string][2]float64{
		"lawn": {0.05, 0.35}, "rough grass": {0.10, 0.25}, "asphalt": {0.70, 0.95}, "Roof ": {0.75, 0.95},
	} {
		c, err := CoverNamed(name)
		if err != nil || c.Coefficient.Low != want[0] || c.Coefficient.High != want[1] {
			t.Errorf("%s: %+v, %v; want %v", name, c.Coefficient, err, want)
		}
	}
}

func TestRoofsAndPavingUsuallyRunOffAsTheTableSays(t *testing.T) {
	for name, kind := range map[string]plan.Kind{"roof": plan.Roof, "asphalt": plan.Paving} {
		c, err := CoverNamed(name)
		if usual := (plan.Feature{Kind: kind}).Num("runoff"); err != nil || usual != c.Coefficient.Likely {
			t.Errorf("%v usually runs off %v, the table's %s %v", kind, usual, name, c.Coefficient.Likely)
		}
	}
}

func TestACoverThatIsNotThereIsToldWithThoseThatAre(t *testing.T) {
	if _, err := CoverNamed("moon dust"); err == nil || !strings.Contains(err.Error(), "lawn, lawn on sand") {
		t.Errorf("the error is %v", err)
	}
}

func TestTablesThatCannotBeReadAreRefused(t *testing.T) {
	for name, text := range map[string]string{
		"no figures": "cover,low,likely,high,source\n",
		`high of lawn is "1.3"; give a figure from 0 to 1`: "cover,low,likely,high,source\nlawn,0.1,0.2,1.3,x\n",
		"is out of order": "cover,low,likely,high,source\nlawn,0.3,0.2,0.4,x\n",
	} {
		if _, err := parse(text); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("error %v, want one with %q", err, name)
		}
	}
}
