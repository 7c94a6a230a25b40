package ui

import (
	"testing"

	"runnel/analysis/channel"
	"runnel/geo"
)

func TestTheDryDaysOfAnIslandsWaterAreARange(t *testing.T) {
	w := &Window{}
	facts := w.barrierFacts(barrier{channel.Barrier{Closed: true, Narrowest: 1, Shallowest: 0.2}, geo.Range{Low: 305, Likely: 335, High: 351}})
	if last := facts[len(facts)-1]; last.figure != "305–351" {
		t.Errorf("it says %+v", last)
	}
	if open := w.barrierFacts(barrier{}); len(open) != 1 {
		t.Errorf("water that is not closed has %+v", open)
	}
	if one := days(geo.Range{Low: 300, Likely: 300, High: 300}); one != "300" {
		t.Errorf("it says %q", one)
	}
}
