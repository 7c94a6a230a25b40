package compare

import (
	"testing"

	"runnel/analysis/soil"
	"runnel/geo"
	"runnel/geo/plan"
)

// A drain that says how long it runs soaks in for so long, and so do the channels
// that it feeds; one that nothing feeds does as usual.
func TestEachLineSoaksAsLongAsItsDrainRuns(t *testing.T) {
	s := site()
	s.Plan.Features[0] = s.Plan.Features[0].With("run_days", plan.Value{Number: 100})
	add(s, 101, plan.Channel, line(15, 25, 30, 25), "bed_start", 9.6, "bed_end", 9.6)
	a, err := Measure(t.Context(), s, 101, Options{})
	if err != nil || len(a.Channels) != 3 {
		t.Fatalf("%d lines, %v", len(a.Channels), err)
	}
	texture, _ := soil.TextureNamed(s.Setting.Soil)
	fed := a.Channels[0].Measure.Contact + a.Channels[2].Measure.Contact
	alone := a.Channels[1].Measure.Contact
	long := texture.Soaked(fed, geo.Range{Low: 100, Likely: 100, High: 100})
	short := texture.Soaked(alone, s.Setting.RunDays)
	want := geo.Range{Low: long.Low + short.Low, Likely: long.Likely + short.Likely, High: long.High + short.High}
	if a.Recharge != want || alone == 0 || fed == 0 {
		t.Errorf("recharge is %v, want %v", a.Recharge, want)
	}
}
