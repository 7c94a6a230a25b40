package caution

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// services checks buried lines: those near the digging, and those that nobody
// has located. A metre is common practice for digging by hand, no source.
func (c *checker) services() {
	for _, f := range c.of(plan.ServiceLine) {
		if f.Geometry == nil {
			continue
		}
		if away, at := c.cutFrom(f.Line(), c.limits.Service); away <= c.limits.Service {
			c.add(Caution{
				Rule:     "service near digging",
				Features: []plan.ID{f.ID},
				Text:     fmt.Sprintf("The channel is dug at or near %s, which carries: %s. Ask its owner before digging; dig by hand there.", f.Title(), f.Text("carries")),
				Measured: fmt.Sprintf("%.1f m from the line to the edge of the digging", away),
				Guidance: fmt.Sprintf("Keep %.1f m away (common practice; the owner's own rules govern).", c.limits.Service),
				At:       at,
			})
		}
		if f.Text("located") != "yes" {
			c.add(Caution{
				Rule:     "service not located",
				Features: []plan.ID{f.ID},
				Text:     fmt.Sprintf("%s is not located on the ground. Have it marked before anything is dug.", f.Title()),
				Measured: "its place on the plan only",
				Guidance: "Have every buried service located and marked before digging; in many places the law asks for it.",
				At:       f.Geometry.Bound().Center(),
			})
		}
	}
}

// roots checks trees whose roots are cut: those with digging under their crown.
func (c *checker) roots() {
	for _, f := range c.of(plan.Tree) {
		crown := f.Num("spread") / 2
		away, at := c.cutFrom(orb.LineString{f.Point()}, crown)
		if f.Geometry == nil || !(away < crown) {
			continue
		}
		c.add(Caution{
			Rule:     "tree roots",
			Features: []plan.ID{f.ID},
			Text:     fmt.Sprintf("Digging under the crown of %s cuts its roots. Lead the channel round it.", f.Title()),
			Measured: fmt.Sprintf("%.1f m from the trunk to the edge of the digging", away),
			Guidance: fmt.Sprintf("Do not dig within the spread of the crown, %.1f m from the trunk (common practice, no source).", crown),
			At:       at,
		})
	}
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
		for x := max(0, x0); x <= min(ground.W-1, x1); x++ {
			if !(float64(ground.At(x, y)-proposed.At(x, y)) > dug) {
				continue
			}
			m := ground.Centre(x, y)
			dx, dy := max(0, math.Abs(m[0]-p[0])-ground.DX/2), max(0, math.Abs(m[1]-p[1])-ground.DY/2)
			nearest = min(nearest, math.Hypot(dx, dy))
		}
	}
	return nearest
}

// tieInReach is how near to a drain a channel's end draws on it [m].
const tieInReach = 1.5

// tieIns checks whose drain a channel draws on.
func (c *checker) tieIns() {
	for _, channel := range c.of(plan.Channel) {
		line := channel.Line()
		if len(line) == 0 {
			continue
		}
		for _, drain := range c.of(plan.Drain) {
			for _, end := range []orb.Point{line[0], line[len(line)-1]} {
				if drain.Text("owner") == "private" || plan.Distance(drain.Geometry, end) > tieInReach {
					continue
				}
				c.add(Caution{
					Rule:     "permission to tie in",
					Features: []plan.ID{channel.ID, drain.ID},
					Text:     fmt.Sprintf("%s draws on %s. Ask whoever keeps the drain for permission, and whether the water is yours to use.", channel.Title(), drain.Title()),
					Measured: fmt.Sprintf("%.1f m from the channel's end to the drain; its owner: %s", plan.Distance(drain.Geometry, end), drain.Text("owner")),
					Guidance: "Work on a public drain needs its keeper's consent, and taking water may need a right to it (common practice, no source).",
					At:       end,
				})
				break
			}
		}
	}
}
