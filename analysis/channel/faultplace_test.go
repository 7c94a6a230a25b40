package channel

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/plan"
)

func TestAChannelOfHardlyAnyLength(t *testing.T) {
	for length, laid := range map[float64]bool{0.09: false, 0.11: true} {
		s := site(60, 40, 0.25)
		id := add(s, plan.Channel, line(20, 20, 20+length, 20))
		n, problems := NewNetwork(s, 1)
		said := len(problems) == 1 && problems[0].ID == id && strings.Contains(problems[0].Error(), "only 0.09 m long") && planar.Distance(problems[0].At, at(20.045, 20)) < 1e-6
		if (len(n.lines) == 1) != laid || said == laid {
			t.Errorf("%v m long: %v", length, problems)
		}
	}
}

func TestASillHigherThanTheBank(t *testing.T) {
	for crest, said := range map[float64]bool{10: false, 10.02: true} {
		s := siteOf(60, 40, 0.25, func(p orb.Point) float64 {
			if p[0] > 31 {
				return 9.9
			}
			return 10
		})
		add(s, plan.Channel, line(10, 20, 50, 20), "bed_start", 9.6, "bed_end", 9.4)
		id := add(s, plan.Sill, line(28, 18, 28, 22), "crest", crest)
		n, problems := NewNetwork(s, 1)
		found := about(problems, "Sill 2 would spill: at 10.02 m the water that it holds in Channel 1 would run out over the bank, which is lowest, at 10.00 m")
		if (len(found) == 1) != said || len(problems) != len(found) {
			t.Errorf("a crest at %v m: %v", crest, problems)
		}
		if said && (found[0].ID != id || math.Abs(found[0].At[1]-north-20) > 1.6 || found[0].At[0] > east+29) {
			t.Errorf("it is said of %d, at %v", found[0].ID, found[0].At)
		}
		if above, _ := n.Section(1, 5); math.Abs(above.Level-10) > 0.001 {
			t.Errorf("a crest at %v m holds the water at %v m", crest, above.Level)
		}
	}
}

func TestWaterAboveTheBanksShowsWhereItRunsOut(t *testing.T) {
	for level, said := range map[float64]bool{9.79: false, 9.9: true} {
		s := siteOf(60, 40, 0.25, hollow(30, 21.2))
		add(s, plan.Channel, line(10, 20, 50, 20), "bed_start", 9.4, "bed_end", 9.4, "water_level", level)
		_, problems := NewNetwork(s, 1)
		if (len(problems) == 1) != said || said && planar.Distance(problems[0].At, at(30, 21.3)) > 0.6 {
			t.Errorf("at %v m: %+v", level, problems)
		}
	}
}

func TestAnIslandOutsideItsLoopShowsWhereItIs(t *testing.T) {
	s := site(60, 40, 0.25)
	channelOn(line(10, 10, 50, 10))(s)
	id := add(s, plan.Island, orb.Polygon{circle(30, 30, 2, 12)})
	_, problems := NewNetwork(s, 1)
	if len(problems) != 1 || problems[0].ID != id || planar.Distance(problems[0].At, at(30, 30)) > 0.01 {
		t.Errorf("%+v", problems)
	}
}
