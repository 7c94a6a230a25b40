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
	var found findings
	for _, l := range c.channels {
		if c.limits.Depth > 0 && l.Measure.Depth > c.limits.Depth {
			found = append(found, finding{l.Title, []plan.ID{l.ID}, fmt.Sprintf("%s is %.2f m deep", l.Title, l.Measure.Depth), shore(l)})
		}
	}
	c.report("deep water", found, Caution{
		Text:     "Deep water stands in %s. Where children play, make it shallower, give it a shelf at the edge, or fence it.",
		Measured: "At the deepest %s.",
		Guidance: fmt.Sprintf("Pond no more than %.2f m (%s).", c.limits.Depth, shapeSource),
	})
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
	var found findings
	for _, f := range append(c.laid(plan.Channel), c.laid(plan.Island)...) {
		fields := []string{"side_left", "side_right"}
		if f.Kind == plan.Island {
			fields = []string{"side"}
		}
		steepest := math.Inf(1)
		for _, name := range fields {
			steepest = min(steepest, f.Num(name))
		}
		if steepest < c.limits.Side {
			found = append(found, finding{f.Title(), []plan.ID{f.ID}, fmt.Sprintf("%.1f at %s", steepest, f.Title()), f.Geometry.Bound().Center()})
		}
	}
	c.report("steep bank", found, Caution{
		Text:     "The banks of %s are steep. Where people walk beside the water, flatten them or plant them thickly.",
		Measured: "Across for each 1 down: %s.",
		Guidance: fmt.Sprintf("No steeper than %.1f to 1 (%s).", c.limits.Side, shapeSource),
	})
}

// The rules of how long water stands by its depth and the soil alone.
const (
	slowToDrain     = "slow to drain"
	breedMosquitoes = "mosquitoes"
)

// OfStillWater reports whether a caution rests on the depth of still water and the soil alone, so
// that those of a storm that is led through take its place.
func (c Caution) OfStillWater() bool { return c.Rule == slowToDrain || c.Rule == breedMosquitoes }

// standing checks how long water stands once the drain stops: the deepest of it
// sinks at the likely rate of the site's soil.
func (c *checker) standing() {
	texture, err := soil.TextureNamed(c.site.Setting.Soil)
	if err != nil {
		return // whoever measures the soak-in says so
	}
	var slow, mosquitoes findings
	for _, l := range c.channels {
		hours := l.Measure.Depth * 1000 / texture.Ksat.Likely
		f := finding{l.Title, []plan.ID{l.ID}, fmt.Sprintf("%.0f h for the %.2f m of %s", hours, l.Measure.Depth, l.Title), shore(l)}
		if c.limits.Drawdown > 0 && hours > c.limits.Drawdown {
			slow = append(slow, f)
		}
		if c.limits.Mosquitoes > 0 && hours > c.limits.Mosquitoes {
			mosquitoes = append(mosquitoes, f)
		}
	}
	measured := fmt.Sprintf("To sink at %.1f mm/h in %s: %%s.", texture.Ksat.Likely, texture.Name)
	c.report(slowToDrain, slow, Caution{
		Text:     "Water stands long in %s once the drain stops. Where it drowns roots or keeps soil sour, make it shallower.",
		Measured: measured,
		Guidance: fmt.Sprintf("Drain within %.0f h (Minnesota Stormwater Manual, drawdown time).", c.limits.Drawdown),
	})
	c.report(breedMosquitoes, mosquitoes, Caution{
		Text:     "Mosquitoes can breed in %s. Look weekly in the warm season, or drain it sooner.",
		Measured: measured,
		Guidance: fmt.Sprintf("Leave no water standing longer than %.0f h (California Department of Public Health, vector control practices, 2010).", c.limits.Mosquitoes),
	})
}

// held is the least depth that runs out for a mouth to be worth a word [m]: less
// than the two decimals of levels show.
const held = 0.01

// mouths checks what water stands only as long as a drain runs.
func (c *checker) mouths() {
	var open findings
	for _, m := range c.water.Mouths {
		if m.Level-m.Rest < held {
			continue
		}
		name := fmt.Sprintf("%s stands at %.2f m only while %s runs; when it stops the water runs back out at the mouth, down to %.2f m",
			m.Channel.Title(), m.Level, m.Drain.Title(), m.Rest)
		measured := fmt.Sprintf("%.2f m of %s", m.Level-m.Rest, m.Channel.Title())
		open = append(open, finding{name, []plan.ID{m.Channel.ID, m.Drain.ID}, measured, m.At})
	}
	c.report("open mouth", open, Caution{
		Text:     "%s. A sill across the drain below the mouth, or across the mouth, would hold it longer.",
		Measured: "Above what is held when the drain stops: %s.",
		Guidance: "Water above the lowest way out does not stay (common practice, no source).",
	})
}
