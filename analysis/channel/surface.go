package channel

import (
	"math"

	"github.com/paulmach/orb"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A rule is what the design makes of one place.
type rule struct {
	// reach and seg say whose surface rules there; reach is -1 where none does.
	reach, seg int
	// z is the design level [m], +Inf where nothing is dug.
	z float64
	// berm is the level up to which the ground is raised as a channel's bank before
	// it is dug [m], -Inf where it is not.
	berm float64
	// fill is the level up to which the ground is raised [m], -Inf where it is not.
	fill float64
	// moat is how far off the island is in whose moat the place lies [m], +Inf
	// where it lies in none.
	moat float64
	// kept is set inside an island.
	kept bool
}

// at works out the rule at p.
func (n *Network) at(p orb.Point, who scope) rule {
	r := rule{reach: -1, seg: -1, z: math.Inf(1), berm: math.Inf(-1), fill: math.Inf(-1), moat: math.Inf(1)}
	list := n.index.at(p)
	for i := 0; len(list) > 0; i++ {
		reach := &n.reaches[i]
		if int(list[0]) >= reach.end {
			continue
		}
		if reach.form == drain && who == designed && math.IsInf(r.berm, -1) {
			break // drains come last
		}
		var h hit
		h, list = n.nearest(p, list, reach.end)
		switch {
		case reach.form == drain && h.off <= reach.edge:
			r.berm = math.Inf(-1)
			if who == designed {
				continue
			}
			r.cross(reach, &n.segs[h.seg], h, i)
		case reach.form == drain && who == designed:
		case !reach.island():
			r.cross(reach, &n.segs[h.seg], h, i)
		case inside(h):
			return rule{reach: i, seg: h.seg, z: math.Inf(1), berm: math.Inf(-1), fill: ifSet(reach.top, math.Inf(-1)), kept: true}
		default:
			r.pass(reach, &n.segs[h.seg], h, i)
		}
	}
	return r
}

// cross takes in a run or drain, whose number is i. In a moat it does not count.
func (r *rule) cross(reach *reach, s *segment, h hit, i int) {
	if !math.IsInf(r.moat, 1) {
		return
	}
	if z, ok := reach.floor(s, h); ok && z < r.z {
		r.reach, r.seg, r.z = i, h.seg, z
	}
	if reach.berm.width > 0 {
		r.berm = max(r.berm, reach.raised(s, h))
	}
}

// pass takes in an island that the place lies outside of, whose number is i.
func (r *rule) pass(reach *reach, s *segment, h hit, i int) {
	if !math.IsNaN(reach.top) {
		r.fill = max(r.fill, reach.top-h.off/max(reach.side, steepest))
	}
	if reach.form != moat {
		return
	}
	z, own := reach.moatFloor(s, h)
	if !own && reach.berm.width > 0 {
		r.berm = max(r.berm, reach.raised(s, h))
	}
	switch {
	case own && h.off < r.moat:
		r.reach, r.seg, r.z, r.moat = i, h.seg, z, h.off
	case !own && math.IsInf(r.moat, 1) && z < r.z:
		r.reach, r.seg, r.z = i, h.seg, z
	}
}

// A scope says what is asked about: what is designed, or all that holds water.
type scope uint8

const (
	designed scope = iota
	allWater
)

// nearest returns the place nearest to p on the segments of one reach, with
// which the list starts, and the rest of the list.
func (n *Network) nearest(p orb.Point, list []int32, end int) (hit, []int32) {
	best, least := hit{seg: -1}, math.Inf(1)
	for len(list) > 0 && int(list[0]) < end {
		i := int(list[0])
		list = list[1:]
		if along, square := n.segs[i].near(p); square < least {
			best, least = hit{seg: i, along: along}, square
		}
	}
	best.off = math.Sqrt(least)
	best.left, best.end = n.segs[best.seg].side(p, best.along)
	return best, list
}

// Surface returns the design level at p [m] before it meets the ground; ok is
// false where nothing is dug.
func (n *Network) Surface(p orb.Point) (z float64, ok bool) {
	r := n.at(p, designed)
	return r.z, !math.IsInf(r.z, 1)
}

// Proposed returns the level of the proposed ground at p [m], between the cells
// of the ground; NaN where the ground is not known. Sills are left out.
func (n *Network) Proposed(p orb.Point) float64 {
	return n.Shape(p, grid.Sample(n.ground, p))
}

// Shape returns what the design makes of ground at level z at p [m].
func (n *Network) Shape(p orb.Point, z float64) float64 {
	r := n.at(p, designed)
	return r.shape(z)
}

// shape returns what a rule makes of ground at z [m].
func (r *rule) shape(z float64) float64 { return max(min(max(z, r.berm), r.z), r.fill) }

// Bound is the rectangle outside which the design changes nothing.
func (n *Network) Bound() orb.Bound {
	x := &n.index
	return orb.Bound{
		Min: orb.Point{x.west, x.south},
		Max: orb.Point{x.west + float64(x.w)*x.size, x.south + float64(x.h)*x.size},
	}
}

// Designed calls visit with the stretches of the line at a northing, from west to east,
// outside which the design changes nothing.
func (n *Network) Designed(north float64, visit func(west, east float64)) {
	end := 0
	for i := range n.reaches {
		if n.reaches[i].form != drain {
			end = n.reaches[i].end
		}
	}
	n.index.along(north, end, visit)
}

// A Bed is a place in the middle of a bed, with the water that stands there.
type Bed struct {
	At orb.Point
	// Level is the bed's, Water the water's [m].
	Level, Water float64
	// Reach is how far to the sides its water goes [m]: in a drain to the water's
	// edge, in a channel or moat to a metre past the top of its banks.
	Reach float64
	// Runs is set where the water is taken as it runs, and keeps to what is dug.
	Runs bool
	// Line is the channel's or drain's, Body the number of its Body, -1 in a drain.
	Line plan.ID
	Body int
	// Held is the level to which a sill holds a drain's water there when the drain stops
	// [m], -Inf where none does.
	Held float64
}

// Beds lists places along the beds of channels, moats and drains on the site,
// no further apart than spacing [m].
func (n *Network) Beds(spacing float64) []Bed {
	var beds []Bed
	of, _ := n.Standing().bodyOf()
	for i := range n.reaches {
		r := &n.reaches[i]
		for k := r.first; k < r.end && r.form != kept; k++ {
			s := &n.segs[k]
			count := max(1, math.Ceil(s.length/spacing))
			for j := 0.0; j < count; j++ {
				along := (j + 0.5) * s.length / count
				for _, bed := range n.bedsAt(r, s, along) {
					if n.at(bed.At, allWater).reach == i && (r.form != drain || n.onSite(bed.At)) {
						bed.Line, bed.Body, bed.Held = n.lines[s.line].ID, -1, s.held
						if r.form != drain {
							bed.Body = of[s.pool]
						}
						beds = append(beds, bed)
					}
				}
			}
		}
	}
	return beds
}

// bedsAt returns the lowest place across a reach, and of a surveyed section all that
// are lower than their neighbours.
func (n *Network) bedsAt(r *reach, s *segment, along float64) []Bed {
	at := s.place(along)
	bed := Bed{At: at, Level: s.bed(along), Water: s.level(along), Reach: r.influence, Runs: s.runs}
	switch {
	case r.form == moat: // the island is on the left
		off := r.bank(s, along) + r.arm/2
		bed.At = orb.Point{at[0] + s.uy*off, at[1] - s.ux*off}
	case r.form == drain:
		bed.Reach = r.section.Bed/2 + max(0, bed.Water-bed.Level)*max(r.section.Left, r.section.Right, steepest)
	case s.over != nil && !s.over.alike:
		var beds []Bed
		for _, p := range r.sectionOn(s, along).troughs() {
			b := bed
			b.At, b.Level = orb.Point{at[0] + s.uy*p.Off, at[1] - s.ux*p.Off}, bed.Level+p.Height
			beds = append(beds, b)
		}
		return beds
	}
	return []Bed{bed}
}
