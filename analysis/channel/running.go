package channel

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A RunningLevel is how high running water stands at one place [m]: along a channel up
// its chainage, or in an arm of the moat round an island.
type RunningLevel struct {
	// ID is the channel's, Island that of an arm, nought on the line itself.
	ID, Island plan.ID
	Chainage   float64
	At         orb.Point
	Level      float64
}

// Running returns the network with the water of some channels as it runs, where that
// stands higher than it does at rest. Levels come in the order of their chainages; at
// a sill or a drop two have one chainage. Running water keeps to what is dug: what
// would run out over a bank is left out.
func (n *Network) Running(levels []RunningLevel) *Network {
	m := *n
	m.still, m.reaches, m.segs, m.lines = n.Standing(), slices.Clone(n.reaches), nil, slices.Clone(n.lines)
	runs := map[plan.ID]bool{}
	for _, l := range levels {
		runs[l.ID] = true
	}
	for i := range m.reaches {
		r := &m.reaches[i]
		segs := slices.Clone(n.segs[r.first:r.end])
		if f := &m.lines[segs[0].line]; runs[f.ID] && !f.withheld {
			if r.island() {
				raiseNear(segs, levels)
			} else {
				segs = raiseAlong(segs, profileOf(levels, f.ID))
				f.level = lowestLevel(segs)
			}
			f.runs = f.runs || slices.ContainsFunc(segs, func(s segment) bool { return s.runs })
		}
		r.first, r.end = len(m.segs), len(m.segs)+len(segs)
		m.segs = append(m.segs, segs...)
	}
	m.spreadAll()
	return &m
}

// Standing returns the network with its water at rest: itself where none runs.
func (n *Network) Standing() *Network {
	if n.still != nil {
		return n.still
	}
	return n
}

// StandsAt returns the level of the water of a channel or drain [m], of several pools
// that of the lowest; NaN where there is no such line.
func (n *Network) StandsAt(id plan.ID) float64 {
	for _, f := range n.lines {
		if f.ID == id {
			return f.level
		}
	}
	return math.NaN()
}

// Runs reports whether the water of a channel is taken as it runs.
func (n *Network) Runs(id plan.ID) bool {
	return slices.ContainsFunc(n.lines, func(f feature) bool { return f.ID == id && f.runs })
}

// Wet reports whether water stands anywhere along a channel or drain.
func (n *Network) Wet(id plan.ID) bool {
	return slices.ContainsFunc(n.lines, func(f feature) bool { return f.ID == id && wet(n.segsOf(&f)) })
}

// profileOf lists the levels along a channel's line, without those that a straight
// line between the rest gives within runSlack.
func profileOf(levels []RunningLevel, id plan.ID) []RunningLevel {
	along := slices.DeleteFunc(slices.Clone(levels), func(l RunningLevel) bool { return l.ID != id || l.Island != 0 })
	if len(along) < 3 {
		return along
	}
	kept := thin(along)
	return append(kept, along[len(along)-1])
}

// runSlack is how far the water's level may be off between the places at which it is
// kept [m].
const runSlack = 0.0005

// thin returns what it keeps of a profile, but for its last place.
func thin(profile []RunningLevel) []RunningLevel {
	last := len(profile) - 1
	a, b := profile[0], profile[last]
	worst, off := 0, runSlack
	for i := 1; i < last; i++ {
		p := profile[i]
		if e := math.Abs(p.Level - between(a, b, p.Chainage)); e > off {
			worst, off = i, e
		}
	}
	if worst == 0 {
		return []RunningLevel{a}
	}
	return append(thin(profile[:worst+1]), thin(profile[worst:])...)
}

// between returns the level at a chainage on the line through two places.
func between(a, b RunningLevel, chainage float64) float64 {
	if b.Chainage == a.Chainage {
		return a.Level
	}
	return a.Level + (b.Level-a.Level)*(chainage-a.Chainage)/(b.Chainage-a.Chainage)
}

// raiseAlong cuts the segments of a line at the places of a profile and brings its
// water to them.
func raiseAlong(segs []segment, profile []RunningLevel) []segment {
	if len(profile) < 2 {
		return segs
	}
	var cuts []float64
	for _, p := range profile {
		cuts = append(cuts, p.Chainage)
	}
	var all []segment
	for i := range segs {
		all = append(all, segs[i].parted(cuts)...)
	}
	for i := range all {
		s := &all[i]
		middle := s.start + s.length/2
		k, _ := slices.BinarySearchFunc(profile, middle, func(p RunningLevel, c float64) int {
			if p.Chainage <= c {
				return -1
			}
			return 1
		})
		if k == 0 || k == len(profile) {
			continue
		}
		s.run(between(profile[k-1], profile[k], s.start), between(profile[k-1], profile[k], s.start+s.length))
	}
	return all
}

// run brings running water to a segment, where it stands higher than what is there.
func (s *segment) run(a, b float64) {
	if max(a, b) > min(s.levelA, s.levelB) || math.IsNaN(s.levelA) {
		s.levelA, s.levelB = higher(s.levelA, a), higher(s.levelB, b)
		s.runs = true
	}
}

// higher returns the higher of two levels, of which either may be not known.
func higher(a, b float64) float64 {
	if !(a > b) && !math.IsNaN(b) {
		return b
	}
	return a
}

// parted cuts a segment that is laid out at some chainages [m], in order.
func (s segment) parted(cuts []float64) []segment {
	parts := s.cut(cuts)
	for i := range parts {
		p := &parts[i]
		from := p.start - s.start
		to := from + p.length
		p.bedA, p.bedB = s.bed(from), s.bed(to)
		p.crestA, p.crestB = s.crest(from), s.crest(to)
		p.levelA, p.levelB = s.level(from), s.level(to)
		if i > 0 {
			p.turnA = 0
		}
		if i < len(parts)-1 {
			p.turnB = 0
		}
	}
	return parts
}

// raiseNear brings running water to the outline of an island, from the place of those
// known that is nearest.
func raiseNear(segs []segment, levels []RunningLevel) {
	at := func(p orb.Point) float64 {
		level, least := math.NaN(), math.Inf(1)
		for i := range levels {
			dx, dy := levels[i].At[0]-p[0], levels[i].At[1]-p[1]
			if square := dx*dx + dy*dy; square < least {
				level, least = levels[i].Level, square
			}
		}
		return level
	}
	for i := range segs {
		segs[i].run(at(segs[i].a), at(segs[i].b))
	}
}
