package caution

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"runnel/analysis/channel"
	"runnel/analysis/soil"
	"runnel/geo/plan"
)

// Depth and banks: City of Los Angeles, low impact development sample design
// calculations: ponding to 18 in (0.46 m), sides not steeper than 3:1.
const shapeSource = "City of Los Angeles, low impact development design criteria"

// depths checks how deep the water is.
func (c *checker) depths() {
	for _, l := range c.channels {
		if c.limits.Depth <= 0 || !(l.Measure.Depth > c.limits.Depth) {
			continue
		}
		c.add(Caution{
			Rule:     "deep water",
			Features: []plan.ID{l.ID},
			Text:     fmt.Sprintf("%s holds deep water. Where children play, make it shallower, give it a shelf at the edge, or fence it.", l.Title),
			Measured: fmt.Sprintf("%.2f m deep at the deepest", l.Measure.Depth),
			Guidance: fmt.Sprintf("Pond no more than %.2f m (%s).", c.limits.Depth, shapeSource),
			At:       shore(l),
		})
	}
}

// shore returns a place on a channel's water's edge.
func shore(l channel.Line) orb.Point {
	if len(l.Shore) == 0 {
		return orb.Point{}
	}
	return l.Shore[len(l.Shore)/2]
}

// slopes checks how steep the banks are.
func (c *checker) slopes() {
	for _, f := range append(c.of(plan.Channel), c.of(plan.Island)...) {
		fields := []string{"side_left", "side_right"}
		if f.Kind == plan.Island {
			fields = []string{"side"}
		}
		steepest := math.Inf(1)
		for _, name := range fields {
			steepest = min(steepest, f.Num(name))
		}
		if f.Geometry == nil || !(steepest < c.limits.Side) {
			continue
		}
		c.add(Caution{
			Rule:     "steep bank",
			Features: []plan.ID{f.ID},
			Text:     fmt.Sprintf("The banks of %s are steep. Where people walk beside the water, flatten them or plant them thickly.", f.Title()),
			Measured: fmt.Sprintf("%.1f across for each 1 down", steepest),
			Guidance: fmt.Sprintf("No steeper than %.1f to 1 (%s).", c.limits.Side, shapeSource),
			At:       f.Geometry.Bound().Center(),
		})
	}
}

// standing checks how long water stands once the drain stops: the deepest of it
// sinks at the likely rate of the site's soil.
func (c *checker) standing() {
	texture, err := soil.TextureNamed(c.site.Setting.Soil)
	if err != nil {
		return // whoever measures the soak-in says so
	}
	for _, l := range c.channels {
		hours := l.Measure.Depth * 1000 / texture.Ksat.Likely
		measured := fmt.Sprintf("%.0f h for %.2f m of water to sink at %.1f mm/h in %s", hours, l.Measure.Depth, texture.Ksat.Likely, texture.Name)
		if c.limits.Drawdown > 0 && hours > c.limits.Drawdown {
			c.add(Caution{
				Rule:     "slow to drain",
				Features: []plan.ID{l.ID},
				Text:     fmt.Sprintf("Water stands long in %s once the drain stops. Where it drowns roots or keeps soil sour, make it shallower.", l.Title),
				Measured: measured,
				Guidance: fmt.Sprintf("Drain within %.0f h (Minnesota Stormwater Manual, drawdown time).", c.limits.Drawdown),
				At:       shore(l),
			})
		}
		if c.limits.Mosquitoes > 0 && hours > c.limits.Mosquitoes {
			c.add(Caution{
				Rule:     "mosquitoes",
				Features: []plan.ID{l.ID},
				Text:     fmt.Sprintf("Mosquitoes can breed in %s. Look weekly in the warm season, or drain it sooner.", l.Title),
				Measured: measured,
				Guidance: fmt.Sprintf("Leave no water standing longer than %.0f h (California Department of Public Health, vector control practices, 2010).", c.limits.Mosquitoes),
				At:       shore(l),
			})
		}
	}
}
