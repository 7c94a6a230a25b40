package channel

import (
	"math"
	"testing"

	"runnel/geo/plan"
)

// A channel dug 1.8 m to either side turns by 45° to the left at x = 25 m. From a place
// e before that the ground to the left is dug from the other leg until (h + e)·√½ = 1.8.
func TestABankInsideABendLiesWhereTheDiggingEnds(t *testing.T) {
	s := site(60, 40, 0.25)
	id := add(s, plan.Channel, line(10, 10, 25, 10, 40, 25), "bed_width", 2.0, "side_left", 2.0, "side_right", 2.0, "bed_start", 9.6, "bed_end", 9.6)
	n, _ := measured(t, s, Step{})
	const beside = 1 + 2*0.4
	for e, want := range map[float64]float64{0.2: beside*math.Sqrt2 - 0.2, 0.6: beside*math.Sqrt2 - 0.6, 0.9: beside, 4: beside} {
		left, right, err := n.Banks(id, 15-e)
		if err != nil || math.Abs(-left.Off-want) > 2e-3 || math.Abs(right.Off-beside) > 2e-3 {
			t.Errorf("%v m before the bend the banks are %v and %v m off, want %v and %v (%v)", e, -left.Off, right.Off, want, beside, err)
		}
		if n.DugBy(left.At) != "" || math.Abs(left.Level-10) > 1e-5 {
			t.Errorf("%v m before the bend the left bank's top is dug for %q, at %v m", e, n.DugBy(left.At), left.Level)
		}
	}
	if got := n.DugBy(at(20, 10)); got != n.lines[0].Title() {
		t.Errorf("the bed is dug for %q", got)
	}
}
