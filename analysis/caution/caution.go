// Package caution lists what to look into before a scheme is dug: setbacks,
// depth, slopes, how long water stands, what holds it, what lies buried, how near
// the groundwater is, whose drain it is, whose roots, and whether the ground's cells
// show it all.
//
// Each caution says what was measured, and the published guidance that it leans
// on. Guidance differs from place to place, so that its figures are Limits that a
// person may set, and Deference stands beside every list. A caution that does not
// show is no promise that a place is safe.
//
// Lengths are metres, slopes horizontal over vertical. Distances are in plan,
// from the water's edge of the scheme's channels; water of drains that are there
// already is not held against the scheme.
package caution

import (
	"cmp"

	"github.com/paulmach/orb"
	"runnel/analysis/channel"
	"runnel/analysis/earthwork"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// Deference stands beside every list of cautions.
const Deference = "Cautions are guidance to look into. Local codes, and the practice of those licensed to design and build, govern."

// A Caution is one thing to look into, at all the places where it shows.
type Caution struct {
	// Rule is the name of what was checked; no two cautions of a list share it.
	Rule string
	// Features are those concerned.
	Features []plan.ID
	// Text says what to look into, Measured what was found, and Guidance what is
	// published about it and by whom.
	Text, Measured, Guidance string
	// At is where it shows first.
	At orb.Point
}

// Limits are the figures that cautions rest on. Nought in every field stands for
// UsualLimits; nought in one field alone turns that check off.
type Limits = plan.Limits

// UsualLimits are those of the guidance that the cautions quote.
func UsualLimits() Limits {
	const foot, inch = 0.3048, 0.0254
	return Limits{
		Well: 50 * foot, Building: 10 * foot, Boundary: 10 * foot, Septic: 35 * foot,
		Depth: 18 * inch, Side: 3,
		Drawdown: 48, Mosquitoes: 96,
		Service: 1, Unlocated: 5,
		Groundwater: 3 * foot,
		Cell:        0.5,
		Street:      100 * foot, Overflow: 10 * foot,
		Freeboard: 6 * inch, Mound: 0.3,
	}
}

// Water is where a scheme's water stands and what is dug for it.
type Water struct {
	// Features are what is laid out; no other channel, island or drain counts.
	Features []plan.Feature
	// Mouths are where channels are open to drains, Sills those that hold water.
	Mouths []channel.Mouth
	Sills  []channel.Sill
	// Lines are what package channel measured.
	Lines []channel.Line
	// Proposed is the ground with the scheme in it, on the frame of the site's.
	Proposed grid.Ground
	// Wet is the water that stands on it.
	Wet earthwork.Wet
	// Tables are where the beds lie lowest against the water table, as far as it is
	// known.
	Tables []earthwork.Watertable
}

// Check lists the cautions of a scheme. A scheme without channels has none.
func Check(s *plan.Site, scheme plan.SchemeID, w Water, l Limits) []Caution {
	c := checker{site: s, scheme: scheme, water: w, limits: InForce(s, l)}
	for _, line := range w.Lines {
		if line.Kind == plan.Channel {
			c.channels = append(c.channels, line)
		}
	}
	if len(c.channels) == 0 {
		return nil
	}
	c.setbacks()
	c.depths()
	c.slopes()
	c.standing()
	c.mouths()
	c.services()
	c.groundwater()
	c.tieIns()
	c.roots()
	c.cells()
	return c.found
}

// InForce returns the limits that are asked for, else those of the site, else the
// usual ones.
func InForce(s *plan.Site, l Limits) Limits {
	return cmp.Or(l, s.Setting.Limits, UsualLimits())
}

// A checker holds what the checks share.
type checker struct {
	site     *plan.Site
	scheme   plan.SchemeID
	water    Water
	limits   Limits
	channels []channel.Line
	found    []Caution
}

// laid lists what is laid out of one kind.
func (c *checker) laid(kind plan.Kind) []plan.Feature {
	var laid []plan.Feature
	for _, f := range c.water.Features {
		if f.Kind == kind {
			laid = append(laid, f)
		}
	}
	return laid
}

func (c *checker) of(kind plan.Kind) []plan.Feature { return c.site.Plan.Of(kind, c.scheme) }
