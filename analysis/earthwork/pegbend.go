package earthwork

import (
	"math"

	"github.com/paulmach/orb"
)

// A turning is where a line turns, by so much [°], to the left where positive; side is
// the longer of the two sides that meet there [m].
type turning struct{ chainage, turn, side float64 }

// faint is a turn that does not count [°], straight how long a line goes on without
// turning before a bend is over [m], nextTo how near a bend begins where another ends
// if the two are pegged as one [m]. Sides shorter than curved [m] that turn by less than
// sharp [°] stand for a curve.
const (
	faint    = 0.05
	straight = 5.0
	nextTo   = 1.5
	curved   = 1.5
	sharp    = 40.0
)

// corner reports whether a line turns enough to have a peg there.
func (t turning) corner(least float64) bool {
	turn := math.Abs(t.turn)
	return turn >= least && (turn >= sharp || t.side >= curved)
}

// bends lists the pegs of a line's bends, whatever it was drawn as. A point at which it
// turns by the least [°] or more is a corner and has a peg, but for those of the short
// sides that stand for a curve. Between corners, turns to
// one side that follow each other, as along a curve, are one bend: where that turns by
// the least or more in all, it has a peg where it begins, where half of it is turned,
// and where it ends. Where the next bend follows at once, the peg between them is half
// way from the one to the other.
func bends(line orb.LineString, least float64) []place {
	var places []place
	var spans [][3]float64
	var bend []turning
	end := func() {
		if s, ok := spanOf(bend, least); ok {
			spans = append(spans, s)
		}
		bend = nil
	}
	for _, t := range turnings(line) {
		switch {
		case t.corner(least):
			end()
			places = append(places, place{chainage: t.chainage, what: []Reason{{Why: PegCorner}}})
			continue
		case math.Abs(t.turn) < faint:
			continue
		case len(bend) > 0 && (bend[0].turn > 0) != (t.turn > 0), len(bend) > 0 && t.chainage-bend[len(bend)-1].chainage > straight:
			end()
		}
		bend = append(bend, t)
	}
	end()
	return append(places, pegged(spans)...)
}

// corners lists the corners alone.
func corners(line orb.LineString, least float64) []place {
	var places []place
	for _, t := range turnings(line) {
		if t.corner(least) {
			places = append(places, place{chainage: t.chainage, what: []Reason{{Why: PegCorner}}})
		}
	}
	return places
}

// spanOf returns where a bend begins, is half turned, and ends; ok is false where it
// turns by less than the least.
func spanOf(bend []turning, least float64) (s [3]float64, ok bool) {
	sum := 0.0
	for _, t := range bend {
		sum += math.Abs(t.turn)
	}
	if sum < least {
		return s, false
	}
	turned, half := 0.0, 0
	for turned += math.Abs(bend[0].turn); turned < sum/2; turned += math.Abs(bend[half].turn) {
		half++
	}
	return [3]float64{bend[0].chainage, bend[half].chainage, bend[len(bend)-1].chainage}, true
}

func pegged(spans [][3]float64) []place {
	var places []place
	for i := range spans {
		if i > 0 && spans[i][0]-spans[i-1][2] < nextTo {
			middle := (spans[i][0] + spans[i-1][2]) / 2
			spans[i][0], spans[i-1][2] = middle, middle
		}
	}
	for _, s := range spans {
		for k, why := range []Why{PegBendBegins, PegBendMiddle, PegBendEnds} {
			places = append(places, place{chainage: s[k], what: []Reason{{Why: why}}})
		}
	}
	return places
}

// turnings lists the inner points of a line with the turns there. Points that repeat
// are left out.
func turnings(line orb.LineString) []turning {
	var all []turning
	var before orb.Point // direction of the last side
	chainage, last := 0.0, 0.0
	for i := 1; i < len(line); i++ {
		dx, dy := line[i][0]-line[i-1][0], line[i][1]-line[i-1][1]
		length := math.Hypot(dx, dy)
		if length == 0 {
			continue
		}
		if chainage > 0 {
			turn := math.Atan2(before[0]*dy-before[1]*dx, before[0]*dx+before[1]*dy)
			all = append(all, turning{chainage, turn * 180 / math.Pi, max(last, length)})
		}
		before, chainage, last = orb.Point{dx, dy}, chainage+length, length
	}
	return all
}
