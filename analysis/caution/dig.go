package caution

import (
	"fmt"
	"math"

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
		is := finding{name, []plan.ID{f.ID}, fmt.Sprintf("%.1f m from %s", away, f.Title()), at}
		if c.limits.Service > 0 && away <= c.limits.Service {
			near = append(near, is)
		}
		if c.limits.Unlocated > 0 && away <= c.limits.Unlocated && f.Text("located") != "yes" {
			unmarked = append(unmarked, is)
		}
	}
	c.report("service near digging", near, Caution{
		Text:     "The scheme is dug at or near %s. Ask the owner before digging; dig by hand there.",
		Measured: "%s to the edge of the digging.",
		Guidance: fmt.Sprintf("Keep %.1f m away (common practice; the owner's own rules govern).", c.limits.Service),
	})
	c.report("service not located", unmarked, Caution{
		Text:     "Nobody has located %s on the ground. Have it marked before anything is dug.",
		Measured: "Known by the plan only: %s to the edge of the digging.",
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
			found = append(found, finding{f.Title(), []plan.ID{f.ID}, fmt.Sprintf("%.1f m from the trunk of %s, whose crown reaches %.1f m", away, f.Title(), crown), at})
		}
	}
	c.report("tree roots", found, Caution{
		Text:     "Digging under the crown of %s cuts roots. Lead the channel round.",
		Measured: "The edge of the digging lies %s.",
		Guidance: "Do not dig within the spread of the crown (common practice, no source).",
	})
}

// dug is the least cut that counts as digging, and alongStep how far apart a
// line is looked at [m].
const (
	dug       = 0.01
	alongStep = 0.5
)

// cutFrom returns how far a line is from the nearest digging within reach, and
// where; +Inf where there is none.
func (c *checker) cutFrom(line orb.LineString, reach float64) (away float64, at orb.Point) {
	away = math.Inf(1)
	for i, p := range line {
		steps := 1.0
		if i > 0 {
			steps = math.Ceil(math.Hypot(p[0]-line[i-1][0], p[1]-line[i-1][1]) / alongStep)
		}
		for k := 1.0; k <= steps; k++ {
			q := p
			if i > 0 {
				t := k / steps
				q = orb.Point{line[i-1][0] + t*(p[0]-line[i-1][0]), line[i-1][1] + t*(p[1]-line[i-1][1])}
			}
			if d := c.cutNear(q, reach); d < away {
				away, at = d, q
			}
		}
	}
	return away, at
}

// cutNear returns how far p is from the nearest cell that is dug, to the cell's
// edge, within reach [m].
func (c *checker) cutNear(p orb.Point, reach float64) float64 {
	ground, proposed := c.site.Ground, c.water.Proposed
	if ground.Frame != proposed.Frame || ground.Len() == 0 {
		return math.Inf(1)
	}
	nearest := math.Inf(1)
	x0, y0 := int((p[0]-reach-ground.West)/ground.DX), int((ground.North-p[1]-reach)/ground.DY)
	x1, y1 := int((p[0]+reach-ground.West)/ground.DX), int((ground.North-p[1]+reach)/ground.DY)
	for y := max(0, y0); y <= min(ground.H-1, y1); y++ {
		dy := max(0, math.Abs(ground.Centre(0, y)[1]-p[1])-ground.DY/2)
		if dy >= nearest {
			continue
		}
		was, is := ground.Row(y), proposed.Row(y)
		for x := max(0, x0); x <= min(ground.W-1, x1); x++ {
			if !(float64(was[x]-is[x]) > dug) {
				continue
			}
			dx := max(0, math.Abs(ground.Centre(x, y)[0]-p[0])-ground.DX/2)
			nearest = min(nearest, math.Hypot(dx, dy))
		}
	}
	return nearest
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
