package channel

import (
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

func TestIslandsThatOverlap(t *testing.T) {
	for name, c := range map[string]struct {
		second orb.Ring
		said   bool
	}{
		"apart":             {circle(40, 20, 4, 32), false},
		"across each other": {circle(26, 20, 4, 32), true},
		"one in the other":  {circle(20, 20, 1.5, 32), true},
		"round the other":   {circle(20, 20, 7, 32), true},
	} {
		s := site(60, 40, 0.25)
		channelOn(line(5, 20, 55, 20))(s)
		add(s, plan.Island, orb.Polygon{circle(20, 20, 4, 32)}, "arm_width", 0.6)
		id := add(s, plan.Island, orb.Polygon{c.second}, "arm_width", 0.6)
		_, problems := NewNetwork(s, 1)
		found := about(problems, "overlaps")
		if (len(found) == 1) != c.said || len(found) != len(problems) {
			t.Errorf("%s: %v", name, problems)
		}
		if !c.said {
			continue
		}
		inside := orb.Polygon{circle(20, 20, 4, 32)}
		if found[0].ID != id || !strings.Contains(found[0].Error(), "Island 3 overlaps Island 2") || plan.Distance(inside, found[0].At) > 1e-6 {
			t.Errorf("%s: it is said of %d, at %v: %v", name, found[0].ID, found[0].At, found[0])
		}
	}
}
