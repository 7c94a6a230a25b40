package channel

import (
	"strings"
	"testing"

	"runnel/geo/plan"
)

// The channel's bed lies at 9.4 m and its bank at 10 m, but for 9.8 m at its far end.
func TestASpillwayThatCannotSpillIsNamed(t *testing.T) {
	for crest, c := range map[float64]struct {
		words string
		level float64
	}{
		9.3:  {"Spillway 2, 30.0 m along Channel 1, has its crest at 9.30 m, no higher than the channel's bed, which lies at 9.40 m at the lowest", 9.4},
		9.4:  {"no higher than the channel's bed", 9.4},
		9.6:  {"", 9.6},
		9.75: {"", 9.75},
		9.9:  {"Spillway 2, 30.0 m along Channel 1, never spills: its crest at 9.90 m lies above the lowest bank, at 9.81 m, 10.0 m along it, on its left", 9.8},
	} {
		s := siteOf(60, 40, 0.25, hollow(20, 21.3))
		add(s, plan.Channel, line(10, 20, 50, 20), "bed_start", 9.4, "bed_end", 9.4)
		id := add(s, plan.Spillway, at(40, 20.5), "crest", crest)
		n, problems := NewNetwork(s, 1)
		switch {
		case c.words == "" && len(problems) > 0:
			t.Errorf("a crest at %v m: %v", crest, problems)
		case c.words == "":
		case len(problems) != 1 || problems[0].ID != id || problems[0].At != at(40, 20.5) || !strings.Contains(problems[0].Error(), c.words):
			t.Errorf("a crest at %v m: %+v", crest, problems)
		}
		if got := n.lines[0].level; got < c.level-0.02 || got > c.level+0.02 {
			t.Errorf("a crest at %v m holds the water at %v m, want %v", crest, got, c.level)
		}
	}
}
