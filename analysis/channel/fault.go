package channel

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/plan"
)

// somewhere returns a place on a feature that is wrong as a whole: halfway along a
// line, in the middle of an area; nowhere where it has no place.
func somewhere(f plan.Feature) orb.Point {
	var at orb.Point
	switch g := f.Geometry.(type) {
	case orb.Point:
		at = g
	case orb.LineString:
		at = halfway(g)
	case orb.Polygon:
		at = g.Bound().Center()
	}
	if math.IsNaN(at[0]+at[1]) || math.IsInf(at[0], 0) || math.IsInf(at[1], 0) {
		return orb.Point{}
	}
	return at
}

func halfway(line orb.LineString) orb.Point {
	if len(line) == 0 {
		return orb.Point{}
	}
	left := planar.Length(line) / 2
	for i := 1; i < len(line); i++ {
		d := planar.Distance(line[i-1], line[i])
		if d > 0 && d >= left {
			return orb.Point{line[i-1][0] + (line[i][0]-line[i-1][0])*left/d, line[i-1][1] + (line[i][1]-line[i-1][1])*left/d}
		}
		left -= d
	}
	return line[0]
}

// leastLine is the least length of a channel's line that can be dug [m].
const leastLine = 0.1

// faults looks for what is wrong with a network as it is drawn, whatever the level
// of its water.
func (n *Network) faults() {
	for i := range n.lines {
		if f := &n.lines[i]; f.Kind == plan.Channel {
			n.beyondGround(f)
			if !n.doublesBack(f) {
				n.tightBends(f)
				n.overlaps(f, n.crossesItself(f))
			}
			n.bedAboveGround(f)
			n.slit(f)
			n.adverseGrades(f)
			n.risesFromWayIn(f)
		}
	}
	for i := range n.islands {
		n.keptInCut(i)
		n.islandsOverlap(i)
	}
	n.strayCrossings()
	n.sectionsInMoats()
	n.noWayIn()
}

func (n *Network) wrong(f plan.Feature, at orb.Point, err error) {
	n.unlaid = append(n.unlaid, Problem{ID: f.ID, At: at, Err: err})
}

// mostSaid is how many places of one feature with the same fault are said one by one.
const mostSaid = 5

// A places is where one fault of a feature is found, in order, and what its title and
// "at 3 more places" go about.
type places struct {
	what  string
	found []Problem
}

func (p *places) add(at orb.Point, err error) { p.found = append(p.found, Problem{At: at, Err: err}) }

// tell says the first places of a fault each by itself, and the others in one.
func (n *Network) tell(f plan.Feature, p places) {
	for i, x := range p.found {
		if more := len(p.found) - i; i == mostSaid && more > 1 {
			n.wrong(f, x.At, fmt.Errorf("%s %s at %d more places, %d in all; mend those that are listed first", f.Title(), p.what, more, len(p.found)))
			return
		}
		n.wrong(f, x.At, x.Err)
	}
}

// segsOf returns the segments of a line.
func (n *Network) segsOf(f *feature) []segment {
	r := &n.reaches[f.reach]
	return n.segs[r.first:r.end]
}

// check says what is wrong with a feature by itself.
func check(f plan.Feature) error {
	err := plan.Check(f)
	if err != nil || f.Kind != plan.Channel {
		return err
	}
	if length := planar.Length(f.Line()); length < leastLine {
		return fmt.Errorf("%s is only %.2f m long; draw it longer, or delete it", f.Title(), length)
	}
	return nil
}
