package channel

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/geo/plan"
)

// A Graph is the network's channels and moats as water flows through them: Links
// that meet at Nodes. Drains are no part of it; where channels open on them a node
// says so.
type Graph struct {
	Nodes []GraphNode
	// Links are in the order of their channels' numbers and up the chainage.
	Links []GraphLink
}

// A GraphNode is a place where links end or meet, or water comes in or goes out.
type GraphNode struct {
	// ID is the channel on which it was found first, Chainage where on it [m].
	ID       plan.ID
	Chainage float64
	At       orb.Point
	// Openings are the drains that a channel opens on there, Spillways the
	// spillways that stand there.
	Openings  []Opening
	Spillways []Overflow
	// Open is set where a channel's end runs out onto ground no higher than its bed.
	Open bool
}

// An Opening is where a channel is open to a drain.
type Opening struct {
	Channel plan.ID
	// At is the place, Chainage how far along the channel it is [m].
	At       orb.Point
	Chainage float64
	// Drain is the drain as drawn, Section and Slope [m/m] its own: the slope is the
	// mean of its whole line.
	Drain   plan.Feature
	Section Section
	Slope   float64
	// Bed and Water are the drain's levels there when it runs, Full that of its
	// banks [m].
	Bed, Water, Full float64
	// OwnBed and FarBed are the channel's beds there and at its other end [m].
	OwnBed, FarBed float64
	// Held is the level to which a sill holds the drain's water there when the drain
	// stops [m], -Inf where none does.
	Held float64
	// Across is set where a channel's line crosses the drain, clear where it ends
	// in it.
	Across bool
}

// Rest is the level to which the channel's water runs out there when the drain stops [m].
func (o *Opening) Rest() float64 { return max(o.OwnBed, o.Bed, o.Held) }

// An Overflow is a spillway's crest: its level and width [m].
type Overflow struct {
	ID           plan.ID
	Title        string
	At           orb.Point
	Crest, Width float64
}

// A LinkKind says what a link is.
type LinkKind uint8

// The kinds: a stretch of a channel, an arm of the moat round an island, and a sill,
// which has no length.
const (
	RunLink LinkKind = iota
	ArmLink
	SillLink
)

// A GraphLink leads from one node to another. Stations go from From to To.
type GraphLink struct {
	Kind LinkKind
	// ID is the channel's, and of an arm the channel's that its water counts toward.
	ID       plan.ID
	From, To int
	// Island is that of an arm; Left is set where the arm passes on the left of it,
	// seen from From to To.
	Island plan.ID
	Left   bool
	// Sill, Crest and Width are those of a sill: the width is that of the channel's
	// section at the height of the crest [m].
	Sill         plan.ID
	Crest, Width float64
	Stations     []LinkStation
}

// Length returns the length of a link [m].
func (l *GraphLink) Length() float64 {
	if len(l.Stations) == 0 {
		return 0
	}
	return l.Stations[len(l.Stations)-1].Along
}

// A LinkStation is a place along a link. Where the bed drops two of them have one
// chainage.
type LinkStation struct {
	// Along is how far it is from From [m], Chainage from the channel's start; of an
	// arm it is that of the nearest place of the channel's line.
	Along, Chainage float64
	At              orb.Point
	// Bed is the bed's level, Water that of the standing water [m].
	Bed, Water float64
	// Section is as seen from From to To.
	Section Section
	// Left and Right are the tops of the banks, seen so, at an end of a channel no
	// higher than the bank round it; NaN where there is none, as on an island's side
	// of an arm, or where the ground is not known [m].
	Left, Right float64
}

// mostStations is how many stations a graph's links have all together, by and large.
const mostStations = 2000

// Graph returns the network as links with stations no further apart than a step [m],
// or wider on a network so long that there would be too many. Its water is at rest.
func (n *Network) Graph(step float64) Graph {
	n = n.Standing()
	total := 0.0
	for i := range n.reaches {
		if r := &n.reaches[i]; r.form != drain {
			last := n.segs[r.end-1]
			total += last.start + last.length
		}
	}
	g := grapher{Network: n, step: max(step, total/mostStations), events: make([][]event, len(n.lines))}
	g.ends()
	g.junctions()
	g.waysOut()
	g.moats()
	g.weirs()
	for i := range g.events {
		g.line(i)
	}
	for _, m := range g.rounds {
		g.round(m)
	}
	return g.finish()
}

// A grapher gathers a graph.
type grapher struct {
	*Network
	step  float64
	nodes []GraphNode
	// same leads from a node to one that is the same place, from the last to itself.
	same   []int
	links  []GraphLink
	events [][]event
	rounds []ringed
}

// An event is a node on a line: at a sill there is one before it and one after.
type event struct {
	chainage      float64
	before, after int
	sill          int
}

// noSill marks an event that is no sill.
const noSill = -1

// node adds a node on a line.
func (g *grapher) node(line int, chainage float64) int {
	f := &g.lines[line]
	r := &g.reaches[f.reach]
	s, along := segmentAt(g.segs[r.first:r.end], chainage)
	g.nodes = append(g.nodes, GraphNode{ID: f.ID, Chainage: chainage, At: s.place(along)})
	g.same = append(g.same, len(g.same))
	return len(g.nodes) - 1
}

// mark adds an event on a line, or where an island stands on it at the nearer end
// of that, and returns its node.
func (g *grapher) mark(line int, chainage float64) int {
	chainage = g.clear(line, chainage)
	k := g.node(line, chainage)
	g.events[line] = append(g.events[line], event{chainage, k, k, noSill})
	return k
}

// clear returns the chainage outside the islands with moats that is nearest to one.
func (g *grapher) clear(line int, chainage float64) float64 {
	f := g.lines[line]
	end := g.length(line)
	for _, s := range g.moatsOn(f.Feature) {
		atStart, atEnd := s.From <= shortest, s.To >= end-shortest
		switch {
		case atStart && atEnd, chainage <= s.From && !atStart, chainage >= s.To && !atEnd:
		case atEnd, !atStart && chainage-s.From < s.To-chainage:
			chainage = s.From
		default:
			chainage = s.To
		}
	}
	return chainage
}

// moatsOn lists the stretches of a line inside islands with moats.
func (g *grapher) moatsOn(f plan.Feature) []Span {
	return slices.DeleteFunc(g.islandsOn(f.Line()), func(s Span) bool { return g.moatOf(s.ID) == nil })
}

// moatOf returns the reach of an island that has a moat, or nil.
func (g *grapher) moatOf(id plan.ID) *reach {
	for i, f := range g.islands {
		if f.ID == id && g.reaches[i].form == moat {
			return &g.reaches[i]
		}
	}
	return nil
}

func (n *Network) length(line int) float64 {
	r := &n.reaches[n.lines[line].reach]
	last := &n.segs[r.end-1]
	return last.start + last.length
}

// join makes two nodes one.
func (g *grapher) join(a, b int) {
	a, b = g.find(a), g.find(b)
	g.same[max(a, b)] = min(a, b)
}

func (g *grapher) find(k int) int {
	for g.same[k] != k {
		k = g.same[k]
	}
	return k
}

// finish puts nodes that are one together and numbers them anew.
func (g *grapher) finish() Graph {
	var out Graph
	number := map[int]int{}
	for k := range g.nodes {
		root := g.find(k)
		i, ok := number[root]
		if !ok {
			i = len(out.Nodes)
			number[root] = i
			out.Nodes = append(out.Nodes, GraphNode{ID: g.nodes[root].ID, Chainage: g.nodes[root].Chainage, At: g.nodes[root].At})
		}
		n := &out.Nodes[i]
		n.Openings, n.Spillways = append(n.Openings, g.nodes[k].Openings...), append(n.Spillways, g.nodes[k].Spillways...)
		n.Open = n.Open || g.nodes[k].Open
	}
	slices.SortStableFunc(g.links, func(a, b GraphLink) int {
		return cmp.Or(cmp.Compare(a.ID, b.ID), cmp.Compare(g.nodes[a.From].Chainage, g.nodes[b.From].Chainage), cmp.Compare(a.Kind, b.Kind))
	})
	for _, l := range g.links {
		l.From, l.To = number[g.find(l.From)], number[g.find(l.To)]
		out.Links = append(out.Links, l)
	}
	out.shut()
	return out
}

// shut takes back that an end is open where another link meets it.
func (g *Graph) shut() {
	at := make([]int, len(g.Nodes))
	for _, l := range g.Links {
		at[l.From]++
		at[l.To]++
	}
	for i := range g.Nodes {
		g.Nodes[i].Open = g.Nodes[i].Open && at[i] == 1
	}
}

// inMoat reports whether a place of a line lies inside an island with a moat.
func (g *grapher) inMoat(p orb.Point) bool {
	for i, f := range g.islands {
		if g.reaches[i].form == moat && planar.RingContains(f.Area()[0], p) {
			return true
		}
	}
	return false
}

// sorted lists the events of a line up its chainage, those that are no sills first.
func (g *grapher) sorted(line int) []event {
	events := slices.Clone(g.events[line])
	slices.SortStableFunc(events, func(a, b event) int {
		return cmp.Or(cmp.Compare(a.chainage, b.chainage), cmp.Compare(a.sill, b.sill))
	})
	return events
}
