package channel

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// A selfCrossing is where a line crosses itself, and how far along it that is the
// first and the second time [m].
type selfCrossing struct {
	at            orb.Point
	first, second float64
}

// crossingApart is how far apart two crossings are told apart [m].
const crossingApart = 0.1

// A line that crosses itself at more places than tangled is no channel: it is not laid
// out. Of more than manyCrossings it is not known how many they are.
const (
	tangled       = 20
	manyCrossings = 2000
)

// tangle says of a line that crosses itself at too many places to be a channel at how
// many it does.
func tangle(segs []segment) error {
	found, all := selfCrossings(segs)
	switch {
	case len(found) <= tangled:
		return nil
	case !all:
		return fmt.Errorf("crosses itself at more than %d places, first %.1f m along it, and is left out: such a tangle is no channel; draw it again, as one line that does not cross itself", manyCrossings, found[0].first)
	}
	return fmt.Errorf("crosses itself at %d places, first %.1f m along it, and is left out: such a tangle is no channel; draw it again, as one line that does not cross itself", len(found), found[0].first)
}

// selfCrossings lists where the segments of a line cross each other, in the order
// in which it comes to them first, but for those that follow on each other. It gives
// up at manyCrossings, which all says.
func selfCrossings(segs []segment) (found []selfCrossing, all bool) {
	last := &segs[len(segs)-1]
	all = true
	for s, t := range pairs(segs, segs) {
		closing := s.start == 0 && t == last && t.b == s.a
		if t.start <= s.start+s.length || closing {
			continue
		}
		if along, on, ok := s.meet(t); ok {
			found = append(found, selfCrossing{s.place(along), s.start + along, t.start + on})
		}
		if all = len(found) < 2*manyCrossings; !all {
			break
		}
	}
	slices.SortFunc(found, func(a, b selfCrossing) int { return cmp.Compare(a.first, b.first) })
	return apart(found), all
}

// apart leaves out of a list of crossings, in order, those that are another again: at
// a point of the line two of its segments meet the same third.
func apart(found []selfCrossing) []selfCrossing {
	kept := found[:0]
	for _, x := range found {
		again := false
		for i := len(kept) - 1; i >= 0 && x.first-kept[i].first <= crossingApart && !again; i-- {
			again = planar.Distance(kept[i].at, x.at) <= crossingApart
		}
		if !again {
			kept = append(kept, x)
		}
	}
	return kept
}

// crossesItself says where a channel's line crosses itself; it reports whether it does.
func (n *Network) crossesItself(f *feature) bool {
	segs := n.segsOf(f)
	crossings, _ := selfCrossings(segs)
	said := places{what: "crosses itself"}
	for _, x := range crossings {
		s, along := segmentAt(segs, x.first)
		t, on := segmentAt(segs, x.second)
		apart := math.Abs(s.bed(along) - t.bed(on))
		err := fmt.Errorf("%s crosses itself %.1f m and %.1f m along it: its water takes the shorter way and the loop may stand still; move a bend off it, or draw an island to divide the water round", f.Title(), x.first, x.second)
		if apart > oneBed {
			n.withhold(f)
			err = fmt.Errorf("%s crosses itself %.1f m and %.1f m along it, where its beds lie %.2f m apart in height; move a bend off it, or make the bed level. Its water is not measured", f.Title(), x.first, x.second, apart)
		}
		said.add(x.at, err)
	}
	n.tell(f.Feature, said)
	return len(crossings) > 0
}

// doublesBack says where a channel's line turns right back and lies on itself; it
// reports whether it does. No ground is left between two such stretches to share.
func (n *Network) doublesBack(f *feature) bool {
	segs := n.segsOf(f)
	i := slices.IndexFunc(segs, func(s segment) bool { return math.Abs(s.turnB) >= sharpest })
	if i < 0 {
		return false
	}
	s := &segs[i]
	n.withhold(f)
	n.wrong(f.Feature, s.b, fmt.Errorf("%s turns right back on itself %.1f m along it, and lies on its own line there; move or delete a point of it. Its water is not measured", f.Title(), s.start+s.length))
	return true
}

// oneBed is how far apart two beds of one channel may lie in height, where their
// cuts meet, to be measured [m]: where they are further apart it would have two beds
// at one place.
const oneBed = 0.01

// withhold takes the water out of a channel, whatever level is asked of it.
func (n *Network) withhold(f *feature) {
	f.withheld = true
	line := n.segs[n.reaches[f.reach].first].line
	for i := range n.segs {
		if s := &n.segs[i]; s.line == line {
			s.brim = min(s.bedA, s.bedB)
			s.hold(s.brim)
		}
	}
	f.level = lowestLevel(n.segsOf(f))
}
