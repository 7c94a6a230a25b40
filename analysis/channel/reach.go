package channel

import (
	"math"

	"github.com/paulmach/orb"
)

// form says what a reach is, which is how it shapes the ground.
type form uint8

const (
	// run is a channel: the ground is cut down to its section.
	run form = iota
	// moat is an island that a channel divides round.
	moat
	// kept is an island in a ring: ground that is not cut.
	kept
	// drain is there already: it holds water and cuts nothing.
	drain
)

// A reach is a line or an outline with one rule for the surface beside it: the
// segments first to end of its network.
type reach struct {
	form       form
	first, end int
	ring       bool
	section    Section
	// influence is how far from the line the reach may matter [m].
	influence float64
	// arm is the bed's width round an island; side and outer are the slopes of
	// its bank and of the bank across the water [H:V]; top its level or NaN.
	arm, side, outer, top float64
	berm                  berm
	// water is how far from a drain's line its water reaches at most, edge how far
	// the tops of its banks are as drawn [m].
	water, edge float64
}

func (r *reach) island() bool { return r.form == moat || r.form == kept }

// drainMargin is how far past its water's edge a drain still rules [m], so that
// a transect can cross the edge.
const drainMargin = 0.1

// floor returns the design level of a run or drain at a hit; ok is false where
// it does not reach.
func (r *reach) floor(s *segment, h hit) (z float64, ok bool) {
	atEnd := r.atEnd(h)
	if r.form == drain && (atEnd || h.off > r.water+drainMargin) {
		return 0, false
	}
	if s.over != nil {
		f := r.flank(s, h.along, r.toward(h))
		return s.bed(h.along) + f.height(h.off), true
	}
	out := h.off - r.section.Bed/2
	if out <= 0 {
		return s.bed(h.along), true
	}
	side := r.section.Right
	if h.left > 0 {
		side = r.section.Left
	}
	if atEnd && r.section.Left != r.section.Right {
		side = r.section.half(h.round()).side
	}
	return s.bed(h.along) + out/max(side, steepest), true
}

// atEnd reports whether a hit is round an end of the line.
func (r *reach) atEnd(h hit) bool {
	return !r.ring && (h.end < 0 && h.seg == r.first || h.end > 0 && h.seg == r.end-1)
}

// toward returns the side that a hit is on: 0 for the left, 1 for the right, and
// round an end of the line between them.
func (r *reach) toward(h hit) float64 {
	switch {
	case r.atEnd(h):
		return h.round()
	case h.left > 0:
		return 0
	}
	return 1
}

// round returns how far from the left to the right a hit round an end of a line
// lies, from 0 to 1, as the angle goes.
func (h hit) round() float64 {
	if h.off == 0 {
		return 0
	}
	return math.Acos(max(-1, min(1, h.left/h.off))) / math.Pi
}

// bank returns the width of an island's bank [m], from its crest to the bed.
func (r *reach) bank(s *segment, along float64) float64 {
	return max(0, s.crest(along)-s.bed(along)) * max(r.side, steepest)
}

// moatFloor returns the design level beside a moated island, and whether that is
// within the moat's own width.
func (r *reach) moatFloor(s *segment, h hit) (z float64, own bool) {
	bank := r.bank(s, h.along)
	switch bed := s.bed(h.along); {
	case h.off <= bank:
		return s.crest(h.along) - h.off/max(r.side, steepest), true
	case h.off <= bank+r.arm:
		return bed, true
	default:
		return bed + (h.off-bank-r.arm)/max(r.outer, steepest), false
	}
}

// inside reports whether a hit on an island's outline, which goes round with
// the island on its left, was made from inside.
func inside(h hit) bool { return h.left > 0 }

// outward returns an outline as a ring that goes round with its inside on the
// left, with points no further apart than outlineStep.
func outward(ring orb.Ring) orb.LineString {
	line := orb.LineString(ring.Clone())
	if ring.Orientation() == orb.CW {
		line.Reverse()
	}
	return line
}

// outlineStep is how far apart the levels along an outline are taken [m].
const outlineStep = 1.0

// every lists chainages along a line, step metres apart and less.
func every(line orb.LineString, step float64) []float64 {
	var at []float64
	total := 0.0
	for i := 1; i < len(line); i++ {
		length := math.Hypot(line[i][0]-line[i-1][0], line[i][1]-line[i-1][1])
		n := math.Ceil(length / step)
		for k := 0.0; k < n; k++ {
			at = append(at, total+k*length/n)
		}
		total += length
	}
	return append(at, total)
}

// influence limits and steps [m].
const (
	farthest   = 100.0
	bankStep   = 0.25
	reachSpare = 1.0
)
