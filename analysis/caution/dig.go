package caution

import (
	"fmt"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// services checks buried lines: those near the digging, and those about it that
// nobody has located. A metre is common practice for digging by hand, and five for
// how far off a plan may show a line, no source.
func (c *checker) services() {
	var near, unmarked findings
	for _, f := range c.of(plan.ServiceLine) {
		if f.Geometry == nil {
			continue
		}
		name := fmt.Sprintf("%s (%s)", f.Title(), f.Text("carries"))
		away, at := c.cutFrom(f.Line(), max(c.limits.Service, c.limits.Unlocated))
		is := func(within float64) finding {
			deep := c.deepest(f.Line(), within)
			return finding{name, []plan.ID{f.ID}, fmt.Sprintf("%.1f m from %s to the edge of the digging, which is %.2f m deep within %.1f m of it", away, f.Title(), deep, within), at}
		}
		if c.limits.Service > 0 && away <= c.limits.Service {
			near = append(near, is(c.limits.Service))
		}
		if c.limits.Unlocated > 0 && away <= c.limits.Unlocated && f.Text("located") != "yes" {
			unmarked = append(unmarked, is(c.limits.Unlocated))
		}
	}
	c.report("service near digging", near, Caution{
		Text:     "The scheme is dug at or near %s. Ask the owner before digging; dig by hand there.",
		Measured: "%s.",
		Guidance: fmt.Sprintf("Keep %.1f m away (common practice; the owner's own rules govern).", c.limits.Service),
	})
	c.report("service not located", unmarked, Caution{
		Text:     "Nobody has located %s on the ground. Have it marked before anything is dug.",
		Measured: "Known by the plan only: %s.",
		Guidance: fmt.Sprintf("Have every buried service within %.1f m located and marked before digging; in many places the law asks for it.", c.limits.Unlocated),
	})
}

// cells checks whether the ground's cells are small enough to show the beds. Four
// cells across a bed is common practice, no source.
func (c *checker) cells() {
	var narrow findings
	cell := max(c.site.Ground.DX, c.site.Ground.DY)
	for _, f := range append(c.laid(plan.Channel), c.laid(plan.Island)...) {
		field := "bed_width"
		if f.Kind == plan.Island {
			field = "arm_width"
		}
		if bed := f.Num(field); c.limits.Cell > 0 && cell > c.limits.Cell*bed {
			narrow = append(narrow, finding{f.Title(), []plan.ID{f.ID}, fmt.Sprintf("%.2f m at %s", bed, f.Title()), f.Geometry.Bound().Center()})
		}
	}
	c.report("coarse cells", narrow, Caution{
		Text:     "The ground's cells are large for the bed of %s: figures on the ground are rough; the sections are not affected.",
		Measured: fmt.Sprintf("Cells of %.2f m, beds of %%s.", cell),
		Guidance: fmt.Sprintf("Have cells of no more than %g of the bed's width (common practice, no source).", c.limits.Cell),
	})
}

// roots checks trees whose roots are cut: those with digging under their crown.
func (c *checker) roots() {
	var found findings
	for _, f := range c.of(plan.Tree) {
		crown := f.Num("spread") / 2
		if away, at := c.cutFrom(orb.LineString{f.Point()}, crown); f.Geometry != nil && away < crown {
			found = append(found, finding{f.Title(), []plan.ID{f.ID}, fmt.Sprintf("%.1f m from the trunk of %s, whose crown reaches %.1f m; under it the digging is up to %.2f m deep", away, f.Title(), crown, c.deepest(orb.LineString{f.Point()}, crown)), at})
		}
	}
	c.report("tree roots", found, Caution{
		Text:     "Digging under the crown of %s cuts roots. Lead the channel round.",
		Measured: "The edge of the digging lies %s.",
		Guidance: "Do not dig within the spread of the crown (common practice, no source).",
	})
}

// tieInReach is how near to a drain a channel's end draws on it [m].
const tieInReach = 1.5

// tieIns checks whose drains are drawn on.
func (c *checker) tieIns() {
	var found findings
	for _, channel := range c.laid(plan.Channel) {
		line := channel.Line()
		for _, drain := range c.laid(plan.Drain) {
			for _, end := range []orb.Point{line[0], line[len(line)-1]} {
				away := plan.Distance(drain.Geometry, end)
				if drain.Text("owner") == "private" || away > tieInReach {
					continue
				}
				measured := fmt.Sprintf("%s ends %.1f m from %s (owner: %s)", channel.Title(), away, drain.Title(), drain.Text("owner"))
				found = append(found, finding{drain.Title(), []plan.ID{channel.ID, drain.ID}, measured, end})
				break
			}
		}
	}
	for _, sill := range c.water.Sills {
		for _, drain := range c.laid(plan.Drain) {
			if drain.ID == sill.Across && drain.Text("owner") != "private" {
				measured := fmt.Sprintf("%s dams %s (owner: %s)", sill.Title, drain.Title(), drain.Text("owner"))
				found = append(found, finding{drain.Title(), []plan.ID{sill.ID, drain.ID}, measured, sill.Line.Bound().Center()})
			}
		}
	}
	c.report("permission to tie in", found, Caution{
		Text:     "The scheme draws on or dams %s. Ask whoever keeps the drain for permission, and whether the water is yours to use.",
		Measured: "%s.",
		Guidance: "Work on a public drain needs its keeper's consent, and taking water may need a right to it (common practice, no source).",
	})
}
