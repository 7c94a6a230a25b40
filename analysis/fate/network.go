package fate

import (
	"context"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/analysis/runoff"
	"runnel/geo/grid"
)

// A station is where water that runs down the ground comes to first. The sides of
// the edge come first, clockwise from north; then the courses, the links and the
// hollows, in this order.
type station struct {
	end End
	// next is the station that water comes to which goes on; -1 for ends. A link is
	// passed through, a hollow once it is full.
	next int32
	// at is the cell that stands for it: a link's inlet, a hollow's pit.
	at int32
	// keeps is the share of the water that comes here that ends here.
	keeps float64
}

// A network is the stations of a ground and how they lead on.
type network struct {
	flow    *flow.Flow
	tree    *hollow.Tree
	surface *runoff.Surface
	all     []station
	// courses, links and hollows are the numbers of the first of each.
	courses, links, hollows int32
	// swallows is the station of each cell that is a course or an inlet.
	swallows map[int32]int32
	// entry is the station that water on each cell comes to; -1 at no data.
	entry []int32
}

const nowhere = int32(-1)

// newNetwork routes the ground with courses and links as inlets and finds where
// its water comes to.
func newNetwork(ctx context.Context, in Input, courses []course) (*network, error) {
	n := &network{surface: in.Surface}
	for side := grid.Dir(0); side < 8; side += 2 {
		n.all = append(n.all, station{end: End{Edge, 0, nowhere, side}, next: nowhere, at: nowhere, keeps: 1})
	}
	n.swallows = make(map[int32]int32)
	n.courses = int32(len(n.all))
	n.addCourses(in, courses)
	n.addLinks()
	inlets := make([]int32, 0, len(n.swallows))
	for c := range n.swallows {
		inlets = append(inlets, c)
	}
	slices.Sort(inlets)
	var err error
	if n.flow, err = flow.Route(ctx, in.Surface.Ground, flow.Options{Inlets: inlets}); err != nil {
		return nil, err
	}
	if n.tree, err = hollow.NewTree(ctx, n.flow); err != nil {
		return nil, err
	}
	n.addHollows(in.Least)
	if err := n.enter(ctx); err != nil {
		return nil, err
	}
	n.join()
	n.fill(in.Site.Setting.Storm * millimetre)
	return n, nil
}

// addLinks makes stations of the links. An inlet ends its water, a culvert lets
// it out. In a cell that a course has, or another link, they take none.
func (n *network) addLinks() {
	n.links = int32(len(n.all))
	for _, l := range n.surface.Links {
		s := station{next: nowhere, at: l.From}
		if l.To < 0 {
			s.end, s.keeps = End{Inlet, l.Feature, nowhere, 0}, 1
		}
		if _, taken := n.swallows[l.From]; !taken {
			n.swallows[l.From] = int32(len(n.all))
		}
		n.all = append(n.all, s)
	}
	n.hollows = int32(len(n.all))
}

// addHollows makes a station of every node of the tree; only those that lie in no
// other are come to.
func (n *network) addHollows(least float64) {
	for _, node := range n.tree.Nodes {
		end := End{Hollow, 0, node.Pit, 0}
		if node.Depth < least {
			end = End{SmallHollows, 0, nowhere, 0}
		}
		n.all = append(n.all, station{end: end, next: nowhere, at: node.Pit})
	}
}

// enter finds the station of every cell, by walking down to one that is known.
func (n *network) enter(ctx context.Context) error {
	fall := n.flow.Fall
	n.entry = slices.Repeat([]int32{unseen}, len(fall.V))
	for c, s := range n.swallows {
		n.entry[c] = s
	}
	for leaf, pit := range n.flow.Basins.Pit {
		if n.entry[pit] == unseen {
			n.entry[pit] = n.hollows + n.outermost(int32(leaf))
		}
	}
	var way []int32
	for c := range int32(len(fall.V)) {
		if c%poll == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		at, to := c, n.entry[c]
		for way = way[:0]; to == unseen; {
			way = append(way, at)
			next, ok := flow.Next(fall, at)
			switch {
			case fall.V[at] == grid.NoDir:
				to = nowhere
			case !ok:
				to = side(fall.V[at])
			default:
				at, to = next, n.entry[next]
			}
		}
		for _, w := range way {
			n.entry[w] = to
		}
	}
	return nil
}

const (
	unseen = int32(-2)
	poll   = 1 << 16 // cells between looks at the context
)

// side returns the station of the edge that water leaves over in some direction; one
// to a corner counts to the side before it, clockwise.
func side(d grid.Dir) int32 { return int32(d / 2) }

// outermost returns the node that lies in no other and that a leaf is part of.
func (n *network) outermost(leaf int32) int32 {
	for n.tree.Nodes[leaf].Parent != hollow.None {
		leaf = n.tree.Nodes[leaf].Parent
	}
	return leaf
}

// join leads culverts to where they let water out, and hollows over their pass.
func (n *network) join() {
	for i, l := range n.surface.Links {
		if l.To >= 0 {
			n.all[n.links+int32(i)].next = n.entry[l.To]
		}
	}
	for i, node := range n.tree.Nodes {
		s := &n.all[n.hollows+int32(i)]
		switch {
		case node.Parent != hollow.None:
		case node.To != hollow.None:
			s.next = n.entry[node.To]
		default:
			s.next = side(n.flow.Dir.V[node.From])
		}
	}
}

// fill finds what share each hollow keeps of the water that comes to it when so
// much rain falls [m]. Stations are taken in the order in which water comes to
// them. Where it comes round to the same hollow again, through a culvert, there
// is one water on both sides of it, which then rises: that hollow keeps all.
func (n *network) fill(rain float64) {
	comes, feeders := n.runoffTo(rain), make([]int32, len(n.all))
	for _, s := range n.all {
		if s.next >= 0 {
			feeders[s.next]++
		}
	}
	var ready []int32
	fed := func(i int32) {
		if feeders[i]--; feeders[i] == 0 {
			ready = append(ready, i)
		}
	}
	run := func() {
		for len(ready) > 0 {
			i := ready[len(ready)-1]
			ready = ready[:len(ready)-1]
			if next := n.settle(i, comes); next >= 0 {
				fed(next)
			}
		}
	}
	for i, count := range feeders {
		if count == 0 {
			ready = append(ready, int32(i))
		}
	}
	run()
	for i := int32(len(n.all)) - 1; i >= 0; i-- { // what is left runs in rings; hollows stand last
		if next := n.all[i].next; feeders[i] > 0 && next >= 0 {
			n.stop(i)
			fed(next)
			run()
		}
	}
}

// stop lets station i keep all the water that comes to it.
func (n *network) stop(i int32) {
	s := &n.all[i]
	s.next, s.keeps = nowhere, 1
	if i < n.hollows {
		s.end = End{Hollow, 0, s.at, 0}
	}
}

// settle lets station i keep its share of what comes to it, passes on the rest,
// and returns where to.
func (n *network) settle(i int32, comes []float64) int32 {
	s := &n.all[i]
	if s.next < 0 {
		return nowhere
	}
	if i >= n.hollows {
		room := n.tree.Nodes[i-n.hollows].Volume
		switch {
		case room >= comes[i] && room > 0:
			s.keeps = 1
		case comes[i] > 0:
			s.keeps = room / comes[i]
		}
	}
	comes[s.next] += comes[i] * (1 - s.keeps)
	return s.next
}

// runoffTo returns what runs off to each station when so much rain falls [m³].
func (n *network) runoffTo(rain float64) []float64 {
	comes := make([]float64, len(n.all))
	cell := n.surface.Ground.CellArea()
	for c, w := range n.surface.Weight {
		if s := n.entry[c]; s >= 0 {
			comes[s] += w * rain * cell
		}
	}
	return comes
}

// pass parts a share of water that comes to a station among the stations where it
// ends.
func (n *network) pass(at int32, share float64, ends func(station int32, share float64)) {
	for at >= 0 && share > 0 {
		s := n.all[at]
		if kept := share * s.keeps; kept > 0 {
			ends(at, kept)
		}
		share *= 1 - s.keeps
		at = s.next
	}
}

// off is how far a cell lies from the one that stands for a station [m]; nought
// where none does.
func (n *network) off(c, station int32) float64 {
	if station < 0 || n.all[station].at < 0 {
		return 0
	}
	return planar.Distance(n.centre(c), n.centre(n.all[station].at))
}

func (n *network) centre(c int32) orb.Point {
	f := n.surface.Ground.Frame
	return f.Centre(int(c)%f.W, int(c)/f.W)
}
