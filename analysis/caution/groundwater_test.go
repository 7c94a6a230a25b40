package caution

import (
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// Minnesota Stormwater Manual: 3 ft (0.91 m) from the bottom to saturated soil. The
// bed lies 0.4 m below the ground.
func TestABedNearTheWaterTableIsACaution(t *testing.T) {
	for _, c := range []struct {
		depth float64
		says  string
	}{
		{0, ""}, // not known
		{0.4 + 3*foot + 0.01, ""},
		{0.4 + 3*foot - 0.01, "Channel 1 lies 0.90 m above it, 0.0 m along, as the depth that is set for the site has it."},
		{0.3, "Channel 1 lies 0.10 m below it, 0.0 m along, as the depth that is set for the site has it, and below it for 40.0 m in all."},
	} {
		s := site()
		s.Setting.Groundwater = c.depth
		found := about(check(t, s, Limits{}), "groundwater")
		if (found != nil) != (c.says != "") || found != nil && (found.Measured != c.says || found.Features[0] != 1) {
			t.Errorf("at %.2f m: %+v", c.depth, found)
		}
	}
	s := site()
	s.Setting.Groundwater = 0.3
	limits := UsualLimits()
	limits.Groundwater = 0
	if found := about(check(t, s, limits), "groundwater"); found != nil {
		t.Errorf("turned off: %+v", found)
	}
}

func TestAWellTellsOfTheWaterTable(t *testing.T) {
	for _, c := range []struct {
		x, depth, set float64
		says          string
	}{
		{30, 0.5, 0, "Channel 1 lies 0.10 m above it, 19.5 m along, as Well 2 has it."},
		{30, 0.5, 0.45, "Channel 1 lies 0.05 m above it, 0.0 m along, as the depth that is set for the site has it."},
		{30, 3, 0, ""},
	} {
		s := site()
		s.Setting.Groundwater = c.set
		// Only the line's middle lies within 30 m of it.
		add(s, plan.Well, orb.Point(at(c.x, 39.8)), numbers{"water_depth": c.depth})
		s.Plan.Features[0].Geometry = line(10, 9.805, 50, 9.805)
		found := about(measured(t, s, Limits{}), "groundwater")
		if (found != nil) != (c.says != "") || found != nil && !strings.Contains(found.Measured, c.says) {
			t.Errorf("%+v: %+v", c, found)
		}
	}
}

// Between 6.2 and 6.7 m below the ground the bed is 0.4 m deep; the service runs
// under the middle of it, the tree stands at its edge.
func TestServicesAndRootsAreToldHowDeepTheDiggingGoes(t *testing.T) {
	s := site()
	add(s, plan.ServiceLine, line(30, 5, 30, 35), numbers{})
	add(s, plan.Tree, at(30, 22.5), numbers{"spread": 3})
	found := check(t, s, Limits{})
	for rule, says := range map[string]string{
		"service near digging": "0.0 m from Service line 2 to the edge of the digging, which is 0.40 m deep within 1.0 m of it.",
		"service not located":  "Known by the plan only: 0.0 m from Service line 2 to the edge of the digging, which is 0.40 m deep within 5.0 m of it.",
		"tree roots":           "The edge of the digging lies 1.0 m from the trunk of Tree 3, whose crown reaches 1.5 m; under it the digging is up to 0.",
	} {
		if c := about(found, rule); c == nil || !strings.Contains(c.Measured, says) {
			t.Errorf("%s: %+v", rule, c)
		}
	}
}
