package channel

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A Source is what a level comes from that no one has set.
type Source string

// The sources.
const (
	FromDrain  Source = "drain"
	FromGround Source = "ground"
	FromBank   Source = "bank"
	FromWater  Source = "water"
)

// A Usual is the level in use [m] in place of a field that is not set, and what it
// comes from. The level is NaN where it differs from place to place.
type Usual struct {
	ID    plan.ID
	Field string
	Level float64
	From  Source
}

// Usuals lists the levels in use in place of the fields that are not set.
func (n *Network) Usuals() []Usual {
	n = n.Standing()
	var all []Usual
	unset := func(f plan.Feature, field string, level float64, from Source) {
		if math.IsNaN(f.Num(field)) {
			all = append(all, Usual{f.ID, field, level, from})
		}
	}
	for _, f := range n.lines {
		if f.Kind != plan.Channel {
			continue
		}
		line, segs := f.Line(), n.segs[n.reaches[f.reach].first:n.reaches[f.reach].end]
		first, last := segs[0], segs[len(segs)-1]
		unset(f.Feature, "bed_start", first.bedA, n.bedSource(f, first.bedA, line[0]))
		if bed := f.Text("bed"); bed != bedLevel && bed != bedAtGrade {
			unset(f.Feature, "bed_end", last.bedB, n.bedSource(f, last.bedB, line[len(line)-1]))
		}
		if wet(segs) {
			unset(f.Feature, "water_level", f.level, n.waterSource(f))
		}
		for _, m := range n.spillwayMarks(f) {
			s, along := segmentAt(segs, m.Chainage)
			_, from := usualSpill(s, along)
			unset(n.spillway(m.ID), "crest", m.Level, from)
		}
	}
	for _, f := range n.islands {
		unset(f, "top", math.NaN(), FromGround)
	}
	for _, sill := range n.sills {
		if sill.Unset {
			all = append(all, Usual{sill.ID, "crest", sill.Crest, FromBank})
		}
	}
	return all
}

// bedSource tells what the bed at an end of a channel comes from: the drain that it,
// or its other end, ties in to, or the ground.
func (n *Network) bedSource(f feature, bed float64, end orb.Point) Source {
	if _, ok := n.tiedTo(f, end); ok {
		return FromDrain
	}
	for _, m := range n.tieMarks(f) {
		if m.Kind == plan.Drain && m.Level == bed {
			return FromDrain
		}
	}
	return FromGround
}

// waterSource tells what the water of a channel comes from.
func (n *Network) waterSource(f feature) Source {
	for _, m := range n.spillwayMarks(f) {
		if !math.IsNaN(n.spillway(m.ID).Num("crest")) && m.Level == f.level {
			return FromWater
		}
	}
	if f.level >= f.lip.level-Freeboard+shortest {
		return FromBank
	}
	for _, other := range n.joinedWith(f) {
		if other.Num("water_level") == f.level {
			return FromWater
		}
	}
	for _, other := range n.joinedWith(f) {
		for _, m := range n.tieMarks(other) {
			if m.Kind == plan.Drain {
				return FromDrain
			}
		}
	}
	return FromBank
}

// usualSpill is the crest of a spillway that has none set [m]: the freeboard above
// the water there, but no higher than the lowest bank, over which the water would
// else run out. So such a spillway moves no water.
func usualSpill(s *segment, along float64) (crest float64, from Source) {
	if crest = s.level(along) + Freeboard; crest < s.brim {
		return crest, FromWater
	}
	return s.brim, FromBank
}

func (n *Network) spillway(id plan.ID) plan.Feature {
	for _, f := range n.spillways {
		if f.ID == id {
			return f
		}
	}
	return plan.Feature{Kind: plan.Spillway}
}
