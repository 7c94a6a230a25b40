package channel

import (
	"strings"
	"testing"

	"runnel/geo/plan"
)

// A bed that rises away from where the water comes in is said to; one that falls from
// it, is level, or whose other end is the way in is not.
func TestABedThatRisesFromItsWayIn(t *testing.T) {
	for name, c := range map[string]struct {
		x1, x2 float64
		fields []any
		want   string
	}{
		"rises from the drain":           {10, 40, []any{"bed_start", 9.3, "bed_end", 9.6}, "rises by 0.30 m from its way in, where it opens on its drain, 0.0 m along it, to 30.0 m"},
		"drawn toward the drain":         {40, 10, []any{"bed_start", 9.6, "bed_end", 9.3}, "where it opens on its drain, 30.0 m along it, to 0.0 m"},
		"falls from the drain":           {10, 40, []any{"bed_start", 9.6, "bed_end", 9.3}, ""},
		"level":                          {10, 40, []any{"bed_start", 9.4, "bed_end", 9.4}, ""},
		"leads a flow down to the drain": {40, 10, []any{"bed_start", 9.6, "bed_end", 9.3, "flow", 5.0}, ""},
		"rises from where a flow is set": {20, 40, []any{"bed_start", 9.3, "bed_end", 9.6, "flow", 5.0}, "rises by 0.30 m from its start, so the flow that is set for it is taken to come in at its end, 20.0 m along it"},
		"falls from where a flow is set": {20, 40, []any{"bed_start", 9.6, "bed_end", 9.3, "flow", 5.0}, ""},
	} {
		s := site(60, 40, 0.5)
		add(s, plan.Drain, line(10, 2, 10, 38), "depth", .5, "water_depth", .2)
		id := add(s, plan.Channel, line(c.x1, 20, c.x2, 20), append([]any{"bed_width", 1.0}, c.fields...)...)
		_, problems := NewNetwork(s, 1)
		said := ""
		for _, p := range problems {
			if p.ID == id && (strings.Contains(p.Error(), "from its way in") || strings.Contains(p.Error(), "from its start")) {
				said += p.Error()
			}
		}
		if (c.want == "") != (said == "") || !strings.Contains(said, c.want) {
			t.Errorf("%s: it says %q", name, said)
		}
	}
}
