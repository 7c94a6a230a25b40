package channel

import (
	"testing"

	"runnel/geo/plan"
)

// A rounded bed of 0.6 m whose banks are of slope m is 2√(0.6 m × depth) wide at the
// ground: half its bed or more where m is 0.0375 at least, 1 m below the ground.
func TestARoundedChannelWithWallsIsASlit(t *testing.T) {
	draw := func(shape string, side, depth float64) func(s *plan.Site) {
		return func(s *plan.Site) {
			add(s, plan.Channel, line(10, 20, 50, 20), "bed_width", 0.6, "side_left", side, "side_right", side, "bed_start", 10-depth, "bed_end", 10-depth)
			words(s, "shape", shape)
		}
	}
	checkFaults(t, "slit", flat, map[string]faulty{
		"walls":                  {draw("rounded", 0, 0.4), "0.03 m wide at the ground", at(30, 20)},
		"nearly walls":           {draw("rounded", 0.03, 1), "0.27 m wide at the ground, less than half the 0.60 m", at(30, 20)},
		"steep, but deep":        {draw("rounded", 0.05, 1), "", at(30, 20)},
		"banks as usual":         {draw("rounded", 3, 0.4), "", at(30, 20)},
		"a trapezoid with walls": {draw("trapezoid", 0, 0.4), "", at(30, 20)},
	})
}
