package caution

import (
	"fmt"

	"runnel/analysis/earthwork"
	"runnel/geo/plan"
)

// groundwater checks how near the beds come to the water table, where it is known.
func (c *checker) groundwater() {
	var found findings
	for _, t := range c.water.Tables {
		if c.limits.Groundwater > 0 && t.Above() < c.limits.Groundwater {
			found = append(found, finding{t.Title, []plan.ID{t.ID}, standsAbove(t), t.At})
		}
	}
	c.report("groundwater", found, Caution{
		Text:     "The bed of %s comes near the water table. Soil that is full of water takes in little more, and a bed below the table fills from beneath: make it shallower, or look into a test hole in the wet season.",
		Measured: "%s.",
		Guidance: fmt.Sprintf("Keep %.1f m between the bed and the water table of the wet season (Minnesota Stormwater Manual, vertical separation).", c.limits.Groundwater),
	})
}

// standsAbove says how a bed lies against the water table.
func standsAbove(t earthwork.Watertable) string {
	told := "the depth that is set for the site"
	if t.Well != "" {
		told = t.Well
	}
	if above := t.Above(); above >= 0 {
		return fmt.Sprintf("%s lies %.2f m above it, %.1f m along, as %s has it", t.Title, above, t.Chainage, told)
	}
	return fmt.Sprintf("%s lies %.2f m below it, %.1f m along, as %s has it, and below it for %.1f m in all", t.Title, -t.Above(), t.Chainage, told, t.Cut)
}
