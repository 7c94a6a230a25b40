package channel

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A straight channel of one section, with its water at a fall of its own, in which an
// even depth is 0.3 m: what it touches is its wetted perimeter times its length.
func TestRunningWaterIsMeasuredAtItsOwnLevels(t *testing.T) {
	s := siteOf(80, 30, 0.5, func(p orb.Point) float64 { return 10 - .01*p[0] })
	id := add(s, plan.Channel, line(10, 15, 70, 15), "bed_width", 1.0, "side_left", 2.0, "side_right", 2.0,
		"bed_start", 9.2, "bed_end", 8.6, "water_level", 8.0)
	n, problems := NewNetwork(s, 1)
	if len(problems) == 0 || !problems[0].HoldsNone() {
		t.Fatalf("at rest it should hold none: %v", problems)
	}
	var levels []RunningLevel
	for x := 0.0; x <= 60; x += .5 {
		levels = append(levels, RunningLevel{ID: id, Chainage: x, At: at(10+x, 15), Level: 9.5 - .01*x})
	}
	m := n.Running(levels)
	if n.Wet(id) || !m.Wet(id) || !m.Runs(id) || m.Standing() != n || n.Runs(id) {
		t.Fatal("it does not run, or what it was made of was changed")
	}
	near(t, "level half way", m.WaterAt(id, 30), 9.2, 1e-9)
	near(t, "lowest level", m.StandsAt(id), 8.9, 1e-9)
	lines, err := m.Measure(t.Context(), Step{})
	if err != nil {
		t.Fatal(err)
	}
	got := lines[0].Measure
	// The two round ends add half a frustum each, of which the ground's fall takes some.
	perimeter := 1 + 2*.3*math.Sqrt(5)
	if along := perimeter * 60; !(got.Contact > along && got.Contact < along+8) {
		t.Errorf("contact is %v m², %v m² along the line", got.Contact, along)
	}
	near(t, "wet length", got.Wet, 60, 1e-9)
	near(t, "greatest depth", got.Depth, .3, 1e-6)
	if back, _ := m.WithLevel(9.0); back.WaterAt(id, 60) != first(n.WithLevel(9.0)).WaterAt(id, 60) || back.Runs(id) {
		t.Error("held at a level its water still runs")
	}
}

// Water that runs higher than a bank does not go beyond what is dug.
func TestRunningWaterKeepsToWhatIsDug(t *testing.T) {
	s := siteOf(80, 60, 0.5, func(p orb.Point) float64 { return 10 - .05*p[1] })
	id := add(s, plan.Channel, line(10, 30, 70, 30), "bed_width", 1.0, "side_left", 1.0, "side_right", 1.0, "bed_start", 8.0, "bed_end", 8.0)
	n, _ := NewNetwork(s, 1)
	over := n.Running([]RunningLevel{{ID: id, Chainage: 0, At: at(10, 30), Level: 8.9}, {ID: id, Chainage: 60, At: at(70, 30), Level: 8.9}})
	lines, err := over.Measure(t.Context(), Step{})
	if err != nil {
		t.Fatal(err)
	}
	// The lower bank's top lies at 8.5 − 0.05 × 0.98 = 8.45 m: what is dug is 2.1 m wide or so.
	if got := lines[0].Measure.Surface; !(got > 60*1.8 && got < 62*2.4) {
		t.Errorf("the surface is %v m²", got)
	}
}

func TestAProfileIsThinnedToWhatAStraightLineGives(t *testing.T) {
	var levels []RunningLevel
	for x := 0.0; x <= 50; x += .5 {
		level := 10 - .002*x
		if x >= 30 {
			level -= .3
		}
		if x == 30 {
			levels = append(levels, RunningLevel{ID: 1, Chainage: x, Level: level + .3})
		}
		levels = append(levels, RunningLevel{ID: 1, Chainage: x, Level: level})
	}
	got := profileOf(levels, 1)
	if len(got) != 4 || got[1].Chainage != 30 || got[2].Chainage != 30 || math.Abs(got[1].Level-got[2].Level-.3) > 1e-9 {
		t.Errorf("it keeps %+v", got)
	}
}
