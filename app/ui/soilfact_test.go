package ui

import (
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/app/site"
	"runnel/geo/plan"
)

// draws adds a feature of the site as it is.
func (b *bench) draws(kind plan.Kind, g orb.Geometry, fields map[string]plan.Value) plan.Feature {
	b.t.Helper()
	add := &site.Add{Features: []plan.Feature{{Kind: kind, Geometry: g, Fields: fields}}}
	if err := b.doc.Do(add); err != nil {
		b.t.Fatal(err)
	}
	return add.Features[0]
}

func TestTheLedgerSaysHowFastTheSoilSoaks(t *testing.T) {
	b := newBench(t)
	b.open()
	at := b.doc.Site().Ground.Bound().Center()
	x, y := at[0], at[1]
	zone := b.draws(plan.SoilZone, orb.Polygon{{{x - 9, y - 9}, {x + 9, y - 9}, {x + 9, y + 9}, {x - 9, y + 9}, {x - 9, y - 9}}}, nil)
	if faults := b.soilFaults(zone); len(faults) != 1 || !strings.Contains(faults[0], "no test in it") {
		t.Errorf("of a zone without a test: %q", faults)
	}
	// Worked by hand, as in the tests of the soil: 4.90 mm/h.
	hole := b.draws(plan.SoilTest, at, map[string]plan.Value{"radius": {Number: 0.04}, "readings": {Text: "0 0.9; 60 0.7"}})
	if faults := append(b.soilFaults(zone), b.soilFaults(hole)...); len(faults) > 0 {
		t.Errorf("of a zone with a test: %q", faults)
	}
	for _, c := range []struct {
		of   plan.Feature
		want []string
	}{
		{zone, []string{"4.90\u00a0mm/h", "0.83\u00a0mm/h to 28.9\u00a0mm/h", "C"}},
		{hole, []string{"4.90\u00a0mm/h", "4.90\u00a0mm/h", "0.83\u00a0mm/h to 28.9\u00a0mm/h", "C"}},
	} {
		var got []string
		for _, fact := range b.soilFacts(c.of) {
			got = append(got, fact.figure)
		}
		if strings.Join(got, "; ") != strings.Join(c.want, "; ") {
			t.Errorf("the facts are %q, want %q", got, c.want)
		}
	}
	spoilt := hole.With("readings", plan.Value{Text: "0 0.9"})
	if err := b.doc.Do(&site.Replace{After: spoilt}); err != nil {
		t.Fatal(err)
	}
	if faults := b.soilFaults(spoilt); len(faults) != 1 || !strings.Contains(faults[0], "fewer than two readings") || len(b.soilFacts(spoilt)) != 0 {
		t.Errorf("of readings that are none: %q and %v", faults, b.soilFacts(spoilt))
	}
	if got := usFeet.rate(25.4); got != "1.00\u00a0in/h" {
		t.Errorf("an inch an hour is %q", got)
	}
}
