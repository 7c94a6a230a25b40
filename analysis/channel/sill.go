package channel

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// dam lets a sill hold a drain's water back: upstream of it the water stands at
// the crest where it would run lower, but no higher than the drain's own banks.
// A sill with no crest set is as high as that allows, less the freeboard.
func (b *builder) dam(l *laid, c crossed) {
	f := b.drawn[plan.Sill][c.sill]
	crest, low := f.Num("crest"), b.lowestPoolBank(l, c.at, f.Num("crest"))
	if math.IsNaN(crest) {
		if crest = low.level - Freeboard; math.IsInf(crest, 0) {
			return // the ground is not known there
		}
	}
	b.crestAt(c.sill, l.feature.ID, crest)
	if crest > low.level+spillFilm {
		b.problemAt(f, low.at, sillSpills(f, l.feature, crest, low))
	}
	level := min(crest, low.level)
	for _, s := range l.above(c.at, level) {
		s.levelA, s.levelB = max(s.levelA, level), max(s.levelB, level)
		s.held = max(s.held, level)
		deep := max(s.levelA-s.bedA, s.levelB-s.bedB)
		l.water = max(l.water, l.section.Bed/2+deep*max(l.section.Left, l.section.Right, steepest))
	}
}

// above lists the segments of a drain in which water held to a level at a
// chainage [m] stands, from there up.
func (l *laid) above(at, level float64) []*segment {
	last := len(l.segs) - 1
	downhill := l.segs[0].bedA >= l.segs[last].bedB
	var pool []*segment
	for k := range l.segs {
		s := &l.segs[k]
		if downhill {
			s = &l.segs[last-k]
		}
		if downhill == (s.start > at-shortest) {
			continue // downstream of the sill
		}
		if min(s.bedA, s.bedB) > level {
			break
		}
		pool = append(pool, s)
	}
	return pool
}

// lowestPoolBank returns the lowest of a drain's banks along the water that a sill
// at a chainage would hold to a level [m]; of the whole bank next to the sill where
// the level is NaN.
func (b *builder) lowestPoolBank(l *laid, at, level float64) lip {
	low := lip{level: math.Inf(1)}
	look := func(s *segment, along float64) {
		for _, side := range []float64{1, -1} {
			if bank := b.drainBank(&l.reach, s, along, side); bank < low.level {
				low = lip{level: bank, chainage: s.start + along, side: side, at: s.place(along), of: l.feature.ID}
			}
		}
	}
	for _, s := range l.above(at, ifSet(level, math.Inf(1))) {
		if math.IsNaN(level) && min(s.bedA, s.bedB) > low.level {
			break
		}
		look(s, 0)
		look(s, s.length)
	}
	return low
}

// drainBank returns how high a drain's bank is on one side [m]: the highest ground
// from the edge that is drawn to a metre beyond.
func (n *Network) drainBank(r *reach, s *segment, along, side float64) float64 {
	from, high := s.place(along), math.Inf(-1)
	for off := r.edge; off <= r.edge+1; off += bankStep {
		if z := grid.Sample(n.ground, orb.Point{from[0] - side*s.uy*off, from[1] + side*s.ux*off}); z > high {
			high = z
		}
	}
	if math.IsInf(high, -1) {
		return math.Inf(1)
	}
	return high
}

// idleSills lists the sills that stand across nothing that is laid out.
func (b *builder) idleSills() {
	across := map[int]bool{}
	for _, l := range append(append([]laid(nil), b.runs...), b.drains...) {
		for _, c := range b.sillsAcross(l.line) {
			across[c.sill] = true
		}
	}
	for i, f := range b.drawn[plan.Sill] {
		if !across[i] {
			b.problem(f, fmt.Errorf("%s crosses no channel and no drain; draw it across one", f.Title()))
		}
	}
}

// A Mouth is where a channel that no sill parts is open to a drain.
type Mouth struct {
	// Channel and Drain name the two.
	Channel, Drain plan.Feature
	At             orb.Point
	// Level is the channel's while the drain runs [m], Rest the level to which its
	// water runs out when the drain stops [m], no higher.
	Level, Rest float64
}

// A mouth is an end of a channel that ties in to a drain.
type mouth struct {
	tie
	start bool
}

// mouths lists where a run is open to drains.
func (b *builder) mouths(l *laid) []mouth {
	if l.form != run || len(b.sillsAcross(l.line)) > 0 {
		return nil
	}
	var open []mouth
	for _, start := range []bool{true, false} {
		at := l.line[len(l.line)-1]
		if start {
			at = l.line[0]
		}
		if t, ok := b.tie(l.feature, at); ok {
			open = append(open, mouth{t, start})
		}
	}
	return open
}

// Mouths lists where channels are open to drains.
func (n *Network) Mouths() []Mouth {
	var mouths []Mouth
	for i := range n.lines {
		f := &n.lines[i]
		r := &n.reaches[f.reach]
		for _, m := range f.mouths {
			s, along := &n.segs[r.end-1], n.segs[r.end-1].length
			if m.start {
				s, along = &n.segs[r.first], 0
			}
			level := s.level(along)
			rest := min(level, max(s.bed(along), m.bed, m.held))
			mouths = append(mouths, Mouth{f.Feature, n.feature(m.id), s.place(along), level, rest})
		}
	}
	return mouths
}

// feature returns a channel or drain that is laid out by its number.
func (n *Network) feature(id plan.ID) plan.Feature {
	for _, f := range n.lines {
		if f.ID == id {
			return f.Feature
		}
	}
	return plan.Feature{}
}

// Dammed reports whether a sill across the drains would stand in a drain's section
// at p.
func (n *Network) Dammed(p orb.Point) bool {
	for i := range n.reaches {
		r := &n.reaches[i]
		for k := r.first; k < r.end && r.form == drain; k++ {
			if _, square := n.segs[k].near(p); square <= r.edge*r.edge {
				return true
			}
		}
	}
	return false
}
