package caution

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// Soak is what a scheme's water does in the design storm and below the ground, for the
// cautions that rest on it. Lengths are metres, times hours, areas m².
type Soak struct {
	Pools     []StormPool
	Streets   []StreetWater
	Overflows []Overflow
	Mounds    []Mound
}

// A StormPool is how the storm goes through one pool.
type StormPool struct {
	Title string
	Lines []plan.ID
	At    orb.Point
	// Depth is the greatest; Freeboard lies between the highest water and the brim, NaN
	// where none is known. Empty is how long after the storm's last water it stands empty, +Inf
	// where it was not within as long as was looked at; Usual is the same as is likely. The others are on wet
	// ground over the slowest bed that the soil may have.
	Depth, Freeboard, Empty, Usual float64
	// Looked is as long as was looked at.
	Looked float64
}

// StreetWater is a street's runoff that ends in a pool, and a well near that.
type StreetWater struct {
	Title string
	Lines []plan.ID
	At    orb.Point
	// Area is that of the street, Well the nearest well and Away how far the water's edge is from it.
	Area float64
	Well plan.Feature
	Away float64
}

// An Overflow is water that leaves over a brim or a spillway, and a building by its way.
type Overflow struct {
	Title    string
	Lines    []plan.ID
	At       orb.Point
	Building plan.Feature
	Away     float64
}

// A Mound is how high the water table comes to stand at a place.
type Mound struct {
	Place plan.Feature
	At    orb.Point
	// Rise is of the water table, Below how far it stays below the floor that it must not reach, NaN where that is not known.
	Rise, Below float64
}

// CheckSoak lists the cautions that rest on storms, seasons and the water table.
func CheckSoak(s *plan.Site, scheme plan.SchemeID, k Soak, l Limits) []Caution {
	c := checker{site: s, scheme: scheme, limits: InForce(s, l)}
	c.stormDepth(k.Pools)
	c.freeboard(k.Pools)
	c.emptying(k.Pools)
	c.streets(k.Streets)
	c.overflows(k.Overflows)
	c.mounds(k.Mounds)
	return c.found
}

// stormDepth checks how deep the design storm's water stands.
func (c *checker) stormDepth(pools []StormPool) {
	var found findings
	for _, p := range pools {
		if c.limits.Depth > 0 && p.Depth > c.limits.Depth {
			found = append(found, finding{p.Title, p.Lines, fmt.Sprintf("%s is %.2f m deep", p.Title, p.Depth), p.At})
		}
	}
	c.report("deep storm water", found, Caution{
		Text:     "The design storm fills %s deep. Where children play, give the water a shelf at its edge, a lower spillway, or a fence.",
		Measured: "At its highest %s.",
		Guidance: fmt.Sprintf("Pond no more than %.2f m (%s).", c.limits.Depth, shapeSource),
	})
}

// freeboard checks how far below the brim the design storm's water stays.
func (c *checker) freeboard(pools []StormPool) {
	var found findings
	for _, p := range pools {
		if c.limits.Freeboard <= 0 || !(p.Freeboard < c.limits.Freeboard) {
			continue
		}
		measured := fmt.Sprintf("%.2f m at %s", p.Freeboard, p.Title)
		if p.Freeboard <= 0 {
			measured = fmt.Sprintf("none (the water runs over) at %s", p.Title)
		}
		found = append(found, finding{p.Title, p.Lines, measured, p.At})
	}
	c.report("storm freeboard", found, Caution{
		Text:     "The design storm brings the water of %s near the top of its banks, or over. Lower or widen a spillway, or raise the banks.",
		Measured: "Between the highest water and the lowest bank, on wet ground over a bed as slow as the soil may be: %s.",
		Guidance: fmt.Sprintf("Keep %.2f m above the highest water of the design storm (half a foot, as guides to swales ask, from memory; raised banks want 0.30 m by NRCS practice standard 378, from memory).", c.limits.Freeboard),
	})
}

// emptying checks how long the storm's water stands.
func (c *checker) emptying(pools []StormPool) {
	var slow, mosquitoes findings
	for _, p := range pools {
		if math.IsNaN(p.Empty) {
			continue
		}
		measured := fmt.Sprintf("%s (%s as is likely) at %s", hours(p.Empty, p.Looked), hours(p.Usual, p.Looked), p.Title)
		f := finding{p.Title, p.Lines, measured, p.At}
		if c.limits.Drawdown > 0 && p.Empty > c.limits.Drawdown {
			slow = append(slow, f)
		}
		if c.limits.Mosquitoes > 0 && p.Empty > c.limits.Mosquitoes {
			mosquitoes = append(mosquitoes, f)
		}
	}
	c.report("slow after the storm", slow, Caution{
		Text:     "After the design storm water stands long in %s. Where it drowns roots or keeps soil sour, make it shallower, or let it out lower.",
		Measured: "From the storm's last water until it stands empty, on wet ground over a bed as slow as the soil may be: %s.",
		Guidance: fmt.Sprintf("Drain within %.0f h (Minnesota Stormwater Manual, drawdown time).", c.limits.Drawdown),
	})
	c.report("mosquitoes after the storm", mosquitoes, Caution{
		Text:     "Mosquitoes can breed in what stands in %s after the design storm. Look weekly in the warm season, or drain it sooner.",
		Measured: "From the storm's last water until it stands empty, on wet ground over a bed as slow as the soil may be: %s.",
		Guidance: fmt.Sprintf("Leave no water standing longer than %.0f h (California Department of Public Health, vector control practices, 2010).", c.limits.Mosquitoes),
	})
}

// hours writes a time that may be longer than was looked at [h].
func hours(h, looked float64) string {
	if math.IsInf(h, 1) {
		return fmt.Sprintf("more than %.0f h", looked)
	}
	return fmt.Sprintf("%.0f h", h)
}

// streets checks where the runoff of streets soaks in near a well.
func (c *checker) streets(waters []StreetWater) {
	var found findings
	for _, w := range waters {
		if c.limits.Street > 0 && w.Area > 0 && w.Away < c.limits.Street {
			found = append(found, finding{w.Title, append([]plan.ID{w.Well.ID}, w.Lines...),
				fmt.Sprintf("%s takes the water of %.0f m² of street, %.1f m from %s", w.Title, w.Area, w.Away, w.Well.Title()), w.At})
		}
	}
	c.report("street runoff near a well", found, Caution{
		Text:     "Street runoff soaks in near a well from %s. Streets bring salt, oil and metals: lead that water off elsewhere, filter it first, or have the well's water tested.",
		Measured: "%s.",
		Guidance: fmt.Sprintf("Keep street runoff %.1f m from a well (100 ft, as US EPA and state manuals ask, from memory).", c.limits.Street),
	})
}

// overflows checks whether what runs over runs toward a building.
func (c *checker) overflows(flows []Overflow) {
	var found findings
	for _, o := range flows {
		if c.limits.Overflow > 0 && o.Away < c.limits.Overflow {
			found = append(found, finding{fmt.Sprintf("%s toward %s", o.Title, o.Building.Title()), append([]plan.ID{o.Building.ID}, o.Lines...),
				fmt.Sprintf("%.1f m from %s", o.Away, o.Building.Title()), o.At})
		}
	}
	c.report("overflow toward a building", found, Caution{
		Text:     "Water that runs over flows from %s. Move the spillway, or lead its water away.",
		Measured: "At the nearest it passes %s.",
		Guidance: fmt.Sprintf("Lead overflow past no building nearer than %.1f m, on ground that slopes away from it (Minnesota Stormwater Manual, setback distances for infiltration).", c.limits.Overflow),
	})
}

// mounds checks how high the water table comes under basements and septic fields.
func (c *checker) mounds(mounds []Mound) {
	var found findings
	for _, m := range mounds {
		reaches := m.Below < 0
		if c.limits.Mound <= 0 || !(m.Rise > c.limits.Mound) && !reaches {
			continue
		}
		measured := fmt.Sprintf("%.2f m at %s", m.Rise, m.Place.Title())
		if reaches {
			measured = fmt.Sprintf("%.2f m (%.2f m above the floor) at %s", m.Rise, -m.Below, m.Place.Title())
		}
		found = append(found, finding{m.Place.Title(), []plan.ID{m.Place.ID}, measured, m.At})
	}
	c.report("rising groundwater", found, Caution{
		Text:     "What soaks in raises the groundwater at %s. A cellar may grow damp and a septic field may fail: move the channels away, or have it looked at.",
		Measured: "The water table rises by %s.",
		Guidance: fmt.Sprintf("Let it rise by no more than %.2f m there (common practice, no source; found by Hantush 1967).", c.limits.Mound),
	})
}
