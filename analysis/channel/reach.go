package channel

import (
	"math"

	"github.com/paulmach/orb"
	"runnel/geo/grid"
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
	atEnd := !r.ring && (h.end < 0 && h.seg == r.first || h.end > 0 && h.seg == r.end-1)
	if r.form == drain && (atEnd || h.off > r.water+drainMargin) {
		return 0, false
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
		side = r.round(h)
	}
	return s.bed(h.along) + out/max(side, steepest), true
}

// round returns the side slope at a line's end [H:V], which goes evenly with the
// angle from that of the left bank to that of the right.
func (r *reach) round(h hit) float64 {
	share := math.Acos(max(-1, min(1, h.left/h.off))) / math.Pi
	return r.section.Left + (r.section.Right-r.section.Left)*share
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

// spread returns how far from a reach's line its surface lies below the ground
// or below the water, and a little more [m].
func (n *Network) spread(r *reach) float64 {
	far := 0.0
	for i := r.first; i < r.end; i++ {
		s := &n.segs[i]
		for along := 0.0; along < s.length; along += outlineStep {
			far = max(far, n.bankTop(r, s, along, 1).off, n.bankTop(r, s, along, -1).off)
		}
		far = max(far, n.bankTop(r, s, s.length, 1).off, n.bankTop(r, s, s.length, -1).off)
	}
	if !r.ring {
		last := &n.segs[r.end-1]
		start, end := n.segs[r.first].facing(0, -1), last.facing(last.length, 1)
		far = max(far, n.bankTop(r, &start, 0, 1).off, n.bankTop(r, &end, 0, 1).off)
	}
	return far + reachSpare
}

// A top is where a bank meets the ground or leaves the water: how far out [m],
// where, and the ground's height there, NaN where the ground ends first.
type top struct {
	off    float64
	at     orb.Point
	ground float64
}

// bankTop goes outward from a reach, to the left for side 1 and to the right for
// -1, until its design surface lies above the ground and the water.
func (n *Network) bankTop(r *reach, s *segment, along, side float64) top {
	from := s.place(along)
	h := hit{along: along, left: side}
	step := min(bankStep, max(n.ground.DX, n.ground.DY))
	off := r.section.Bed / 2
	if r.form == moat {
		off = r.bank(s, along) + r.arm
	}
	for ; ; off += step {
		p := orb.Point{from[0] - side*s.uy*off, from[1] + side*s.ux*off}
		ground := grid.Sample(n.ground, p)
		z := 0.0
		h.off = off
		if r.form == moat {
			z, _ = r.moatFloor(s, h)
		} else {
			// A drain's limit does not hold here: its banks are looked for.
			bare := reach{section: r.section, ring: true}
			z, _ = bare.floor(s, h)
		}
		dry := math.IsNaN(s.levelA) || z >= s.level(along)
		if math.IsNaN(ground) || z >= ground && dry || off > farthest {
			return top{off, p, ground}
		}
	}
}
