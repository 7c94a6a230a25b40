package hydraulics

import "math"

// A branch is a link of the network, or a way out of it, whose other end is outside.
type branch struct {
	from, to int
	way      way
	// crest is the level below which no water passes, width that of a sill, which has
	// no stations [m].
	crest, width float64
	// out is the head that a way out needs for a flow [m³/s] to leave [m]; nil in a
	// link. oneWay is set where no water comes in by it.
	out    func(flow float64) float64
	oneWay bool

	// climbed counts the stations that were climbed.
	climbed                      int
	lastFlow, lastTail, lastHead float64
	known                        bool
}

// head returns the head at the upper end of a branch for a flow [m³/s], positive from
// from to to, and the head at its lower end [m].
func (b *branch) head(flow, tail float64) float64 {
	if b.known && b.lastFlow == flow && b.lastTail == tail {
		return b.lastHead
	}
	var h float64
	switch {
	case b.out != nil:
		h = b.out(flow)
	case flow == 0:
		h = max(b.crest, tail)
	case len(b.way.stations) > 0:
		h = b.way.climb(flow, tail, nil)
		b.climbed += len(b.way.stations)
	default:
		h = b.crest + DrownedWeirHead(b.width, math.Abs(flow), tail-b.crest)
	}
	b.lastFlow, b.lastTail, b.lastHead, b.known = flow, tail, h, true
	return h
}

// farBelow is a level that is lower than any bed [m].
const farBelow = -1e5

// tail returns the head at the lower end of a branch that gives one at its upper end
// [m]. Where even free outfall needs more above, it lies lower than that by what
// is missing.
func (b *branch) tail(flow, head float64) float64 {
	if flow == 0 {
		if head > b.crest {
			return head
		}
		return farBelow
	}
	low := b.crest
	if k := len(b.way.stations); k > 0 {
		foot := &b.way.stations[k-1]
		if flow < 0 {
			foot = &b.way.stations[0]
		}
		low = foot.Bed + SpecificEnergy(foot.Section, outfall(foot, math.Abs(flow), farBelow).depth, flow)
	}
	floor := b.head(flow, low)
	if head <= floor {
		return low - (floor - head)
	}
	high := max(head, low)
	for step := 0.1; b.head(flow, high) < head && step < deepest; step *= 2 {
		high += step
	}
	return root(func(tail float64) float64 { return b.head(flow, tail) - head }, low, high)
}

// A network is branches that meet at nodes; the last node is outside, where the
// water ends. Flow that leaves by branches of its tree follows from continuity; that
// of each other branch is free, and is found from equal heads at both its ends.
type network struct {
	branches []branch
	// inflow is what comes in at each node [m³/s].
	inflow []float64
	flow   []float64
	// order lists the nodes from outside in, up the branch of the tree by which each
	// leads out.
	order, up []int
	free      []int

	// heads are those of the nodes [m] where their epoch is now.
	heads []float64
	epoch []int
	now   int
}

// start readies a network of so many nodes: its tree leads out by the one way that
// needs the lowest level, and all other ways carry nothing yet.
func (w *network) start(nodes int) {
	w.flow = make([]float64, len(w.branches))
	w.heads, w.epoch, w.up = make([]float64, nodes), make([]int, nodes), make([]int, nodes)
	main, least := -1, math.Inf(1)
	for i := range w.branches {
		if b := &w.branches[i]; b.out != nil && b.out(0) < least {
			main, least = i, b.out(0)
		}
	}
	w.flow[main] = 1 // for the tree to take it first
	w.grow()
	w.flow[main] = 0
}

// grow lays the tree anew from outside in: always by the branch that brings the most
// to what is in the tree already, of those that bring nothing by the lowest. So a
// branch that carries nothing, across which heads need not agree, is left free where
// another way leads out.
func (w *network) grow() {
	out, least := len(w.up)-1, 0.0
	for _, q := range w.inflow {
		least += q * 1e-12
	}
	for i := range w.up {
		w.up[i] = none
	}
	w.order, w.up[out] = append(w.order[:0], out), outside
	for {
		best, next := w.next(least)
		if best == none {
			break
		}
		w.up[next] = best
		w.order = append(w.order, next)
	}
	w.free = w.free[:0]
	for i := range w.branches {
		b := &w.branches[i]
		if w.up[b.from] != i && w.up[b.to] != i {
			w.free = append(w.free, i)
		}
	}
}

// next returns the branch that the tree takes in next, and the node that it brings;
// less flow than the least counts for none [m³/s].
func (w *network) next(least float64) (best, node int) {
	best = none
	most := math.Inf(-1)
	for i := range w.branches {
		b := &w.branches[i]
		brings, from := w.flow[i], b.from
		if w.up[b.to] == none {
			brings, from = -brings, b.to
		}
		if math.Abs(brings) < least {
			brings = 0
		}
		if (w.up[b.to] == none) == (w.up[b.from] == none) {
			continue
		}
		if brings > most || brings == most && b.crest < w.branches[best].crest {
			best, node, most = i, from, brings
		}
	}
	return best, node
}

// Marks in the place of a branch that leads out of a node.
const (
	none    = -1
	outside = -2
)

// settle gives the branches of the tree their flow by continuity.
func (w *network) settle() {
	left := append([]float64(nil), w.inflow...)
	for _, i := range w.free {
		left[w.branches[i].from] -= w.flow[i]
		left[w.branches[i].to] += w.flow[i]
	}
	for k := len(w.order) - 1; k > 0; k-- {
		n := w.order[k]
		b := &w.branches[w.up[n]]
		w.flow[w.up[n]] = left[n]
		parent := b.to
		if b.to == n {
			parent, w.flow[w.up[n]] = b.from, -left[n]
		}
		left[parent] += left[n]
	}
	w.now++
}

// at returns the head at a node [m].
func (w *network) at(n int) float64 {
	if w.epoch[n] == w.now {
		return w.heads[n]
	}
	i := w.up[n]
	b := &w.branches[i]
	flow := w.flow[i]
	var head float64
	switch {
	case b.out != nil:
		head = b.head(flow, 0)
	case b.from == n && flow >= 0:
		head = b.head(flow, w.at(b.to))
	case b.to == n && flow <= 0:
		head = b.head(flow, w.at(b.from))
	case b.from == n:
		head = b.tail(flow, w.at(b.to))
	default:
		head = b.tail(flow, w.at(b.from))
	}
	w.heads[n], w.epoch[n] = head, w.now
	return head
}

// residual returns how much more head there would have to be above a free branch than
// there is, for it to carry a flow [m³/s]; it grows with the flow.
func (w *network) residual(i int, flow float64) float64 {
	w.flow[i] = flow
	w.settle()
	b := &w.branches[i]
	switch {
	case b.out != nil:
		return b.head(flow, 0) - w.at(b.from)
	case flow >= 0:
		return b.head(flow, w.at(b.to)) - w.at(b.from)
	}
	return w.at(b.to) - b.head(flow, w.at(b.from))
}
