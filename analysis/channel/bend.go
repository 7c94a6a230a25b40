package channel

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// Bends are looked at where the cut on their inner side closes up. One that turns
// less than slightBend is not worth a word; on a line with straight sides one that
// turns less than hairpin is a corner, whose cuts meet in a mitre, if its legs are
// long enough for that [rad].
const (
	slightBend = math.Pi / 6
	hairpin    = 150 * math.Pi / 180
)

// turnOf returns the angle that a tangent of half a turn stands for [rad].
func turnOf(t float64) float64 { return 2 * math.Atan(t) }

// tightBends says where a channel bends more tightly than it is dug wide to the
// inner side. Segments whose own ground ends before the top of the bank, because
// those beside them close up, make such a bend where they follow on each other.
func (n *Network) tightBends(f *feature) {
	segs := n.segsOf(f)
	var bends []bend
	for _, side := range []float64{1, -1} {
		for i := 0; i < len(segs); i++ {
			b := bend{segs: segs, first: i, next: i, side: side}
			for i < len(segs) && n.closes(f, &segs[i], side, &b.half) {
				i++
				b.next = i
				if side*segs[i-1].turnB <= 0 {
					break // the line turns away there
				}
			}
			if b.next > b.first {
				bends = append(bends, b)
				i--
			}
		}
	}
	slices.SortStableFunc(bends, func(a, b bend) int { return cmp.Compare(a.middle().start, b.middle().start) })
	said := places{what: "bends too tightly"}
	for _, b := range bends {
		if at, err := b.judge(f); err != nil {
			said.add(at, err)
		}
	}
	n.tell(f.Feature, said)
}

// closes reports whether a segment's own ground on one side ends before the top of
// its bank. It makes half the widest that any such is dug [m].
func (n *Network) closes(f *feature, s *segment, side float64, half *float64) bool {
	r := &n.reaches[f.reach]
	turn := max(0, side*s.turnA) + max(0, side*s.turnB)
	if turn*r.influence <= s.length {
		return false
	}
	off := n.rim(r, s, s.length/2, side).off
	if turn*off <= s.length {
		return false
	}
	*half = max(*half, off)
	return true
}

// A bend is some segments of a line, from one to before another, that close up on
// one side, where they are dug half as wide at most [m].
type bend struct {
	segs        []segment
	first, next int
	side, half  float64
}

// middle returns the segment in the middle of a bend.
func (b bend) middle() *segment { return &b.segs[(b.first+b.next)/2] }

// turn returns how far a bend turns in all [rad], and its least radius [m]: that of
// the circle whose chords such segments are.
func (b bend) turn() (angle, radius float64) {
	radius = math.Inf(1)
	for i := b.first; i < b.next; i++ {
		s := &b.segs[i]
		if i == b.first {
			angle += turnOf(max(0, b.side*s.turnA))
		}
		angle += turnOf(max(0, b.side*s.turnB))
		radius = min(radius, s.length/(max(0, b.side*s.turnA)+max(0, b.side*s.turnB)))
	}
	return angle, radius
}

// mitred reports whether the cuts of the legs before and behind a bend meet in a
// mitre, as at a corner that turns as far as the bend.
func (b bend) mitred(angle float64) bool {
	if b.first == 0 || b.next == len(b.segs) || angle >= hairpin {
		return false
	}
	s, t := &b.segs[b.first-1], &b.segs[b.next]
	if math.Abs(b.side*s.turnTo(t)-angle) > shortest {
		return false // those legs are of other bends
	}
	across := s.ux*t.uy - s.uy*t.ux
	if across == 0 {
		return true
	}
	dx, dy := t.a[0]-s.a[0], t.a[1]-s.a[1]
	before, behind := (dx*t.uy-dy*t.ux)/across, (dx*s.uy-dy*s.ux)/across
	tangent := math.Tan(angle / 2)
	return b.half*(tangent+max(0, b.side*s.turnA)) <= before && b.half*(tangent+max(0, b.side*t.turnB)) <= t.length-behind
}

// turnTo returns how far the way turns from one segment to another, to the left [rad].
func (s *segment) turnTo(t *segment) float64 {
	return math.Atan2(s.ux*t.uy-s.uy*t.ux, s.ux*t.ux+s.uy*t.uy)
}

// judge says what is wrong with a bend of a channel, and where, if anything is.
func (b bend) judge(f *feature) (orb.Point, error) {
	angle, radius := b.turn()
	if angle < slightBend || !f.Curved() && b.mitred(angle) {
		return orb.Point{}, nil
	}
	s := b.middle()
	if f.Curved() || b.next-b.first > 1 {
		return s.a, fmt.Errorf("%s bends too tightly %.1f m along it: its radius there is %.2f m, and it is dug %.2f m out to the inner side; widen the bend, or make the channel narrower or its banks steeper", f.Title(), s.start, radius, b.half)
	}
	return s.place(s.length / 2), fmt.Errorf("%s bends too tightly %.1f m along it: its side there is %.2f m long, too short for the corner of a channel that is dug %.2f m out to the inner side; move or delete a point of the bend, or make the channel narrower", f.Title(), s.start, s.length, b.half)
}
