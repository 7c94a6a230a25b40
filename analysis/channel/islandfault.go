package channel

import (
	"fmt"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// islandsOverlap says which islands drawn before one by number overlap it: two outlines
// rule the same ground there, and one of them would be dug into.
func (n *Network) islandsOverlap(i int) {
	said := places{what: "overlaps another island"}
	for k := range i {
		at, ok := n.islandsMeet(i, k)
		if !ok {
			continue
		}
		said.add(at, fmt.Errorf("%s overlaps %s: their outlines cross, or one lies in the other; draw them apart, with room for the water of both between them, or as one island", n.islands[i].Title(), n.islands[k].Title()))
	}
	n.tell(n.islands[i], said)
}

// islandsMeet returns a place in which two islands overlap, if they do.
func (n *Network) islandsMeet(i, k int) (orb.Point, bool) {
	of, with := n.islands[i].Area()[0], n.islands[k].Area()[0]
	if !of.Bound().Intersects(with.Bound()) {
		return orb.Point{}, false
	}
	a, b := &n.reaches[i], &n.reaches[k]
	for s, t := range pairs(n.segs[a.first:a.end], n.segs[b.first:b.end]) {
		if along, _, ok := s.meet(t); ok {
			return s.place(along), true
		}
	}
	switch {
	case planar.RingContains(with, of[0]):
		return of[0], true
	case planar.RingContains(of, with[0]):
		return with[0], true
	}
	return orb.Point{}, false
}
