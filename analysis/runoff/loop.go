package runoff

import (
	"context"
	"strings"

	"runnel/analysis/flow"
	"runnel/geo/grid"
)

// breakLoops leaves out culverts by which water would come back to where it was:
// out of one, over the ground and into the next, round to the first. Ground and
// culverts that fall make no loop; so there is one only where a culvert runs out
// no lower than it takes in, and only then is the ground routed to find out. Of
// the culverts of a loop the last drawn that is so is left out.
func (b *builder) breakLoops(ctx context.Context) error {
	level := func(l Link) bool { return l.To >= 0 && b.Ground.V[l.To] >= b.Ground.V[l.From] }
	for {
		found := false
		for _, l := range b.Links {
			found = found || level(l)
		}
		if !found {
			return nil
		}
		f, err := flow.Route(ctx, b.Ground, flow.Options{})
		if err != nil {
			return err
		}
		ring := b.ring(f.Fall)
		if len(ring) == 0 {
			return nil
		}
		out := -1
		for _, i := range ring {
			if level(b.Links[i]) {
				out = max(out, i)
			}
		}
		b.leaveOut(out, ring)
	}
}

// leaveOut takes link i out for the ring that it closes.
func (b *builder) leaveOut(i int, ring []int) {
	var names []string
	for _, k := range ring {
		f, _ := b.site.Plan.Find(b.Links[k].Feature)
		names = append(names, f.Title())
	}
	f, _ := b.site.Plan.Find(b.Links[i].Feature)
	b.problem(f, "%s closes a loop: water comes back to where it was by %s; turn one of them round, or give bed levels that fall. It is left out",
		strings.Join(names, ", "))
	b.Links = append(b.Links[:i:i], b.Links[i+1:]...)
}

// ring returns links that lead into each other in a ring, in its order; none
// where there is no ring. Water goes from a link to the first whose inlet lies on
// its way down from the outlet; what a link does not take goes on past it.
func (b *builder) ring(fall grid.Grid[grid.Dir]) []int {
	state := make([]int, len(b.Links)) // 1 on the way, 2 done
	var way, ring []int
	var visit func(i int) bool
	visit = func(i int) bool {
		if i < 0 || state[i] == 2 {
			return false
		}
		if way = append(way, i); state[i] == 1 {
			for k := range way {
				if way[k] == i {
					ring = way[k : len(way)-1]
					return true
				}
			}
		}
		state[i] = 1
		if visit(b.meets(fall, b.Links[i].To, -1)) || visit(b.meets(fall, b.Links[i].From, i)) {
			return true
		}
		state[i], way = 2, way[:len(way)-1]
		return false
	}
	for i := range b.Links {
		if way = way[:0]; visit(i) {
			return ring
		}
	}
	return nil
}

// meets returns the first link whose inlet lies on the way down from a cell, or
// -1. Of those at the cell itself only links after the one numbered last count.
func (b *builder) meets(fall grid.Grid[grid.Dir], from int32, last int) int {
	if from < 0 {
		return -1
	}
	for n, c := range flow.Trace(fall, int(from)%fall.W, int(from)/fall.W) {
		for i, l := range b.Links {
			if l.From == c && (n > 0 || i > last) {
				return i
			}
		}
	}
	return -1
}
