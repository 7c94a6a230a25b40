package storm

import (
	"slices"

	"runnel/analysis/hollow"
)

// A pond is a hollow that is not full, or the part of one between the levels at
// which links take from it: what is between its children or the pond below, and
// its brim. It has cells of its own, from lo to hi in store.cells, and under it
// those of all the ponds in it.
type pond struct {
	floor, brim float64 // [m]
	under       float64 // cells
	lo, hi      int32
	// beside is the pond that it goes on with once both are full, or -1; up is where
	// water goes then, over where it goes until then. With beside -1 it always goes up.
	beside, up, over int32
	// within is the pond above, part of which it is by then, or -1.
	within int32
}

// A store is all that can hold water. Each pond comes after those within it and
// after those that spill into it for good.
type store struct {
	ponds []pond
	// The ponds of node i of the tree are lowest[i] to topmost[i], from the floor up.
	lowest, topmost []int32
	cells           []int32
	height          []float32 // of cells [m]
	room            []float64 // what each pond takes before it is full [m³]
	taps            []int32   // the link that takes from each full pond, or -1
	area            float64   // of a cell [m²]
}

// newStore cuts the nodes of a tree into ponds.
func newStore(t *hollow.Tree, cuts []cut) store {
	n := len(t.Nodes)
	s := store{
		ponds: make([]pond, 0, n+len(cuts)), room: make([]float64, 0, n+len(cuts)), taps: make([]int32, 0, n+len(cuts)),
		lowest: make([]int32, n), topmost: make([]int32, n), area: t.Ground().CellArea(),
	}
	var first []int32
	s.cells, first = t.Owned()
	s.height = make([]float32, len(s.cells))
	for i, c := range s.cells {
		s.height[i] = t.Ground().V[c]
	}
	cutsOf := map[int32][]cut{}
	for _, c := range cuts {
		cutsOf[c.node] = append(cutsOf[c.node], c)
	}
	for _, i := range inward(t) {
		node := t.Nodes[i]
		p := pond{floor: float64(t.Ground().V[node.Pit]), lo: first[i], hi: first[i], beside: -1, within: -1}
		if child := node.Child[0]; child != hollow.None {
			p.floor = t.Nodes[child].Level
			p.under = float64(node.Cells - int(first[i+1]-first[i]))
		}
		s.lowest[i] = int32(len(s.ponds))
		for _, c := range cutsOf[i] {
			p = s.add(p, c.level, c.link, first[i+1])
		}
		s.add(p, node.Level, -1, first[i+1])
		s.topmost[i] = int32(len(s.ponds)) - 1
	}
	return s
}

// inward returns the nodes of a tree in an order in which all that lie in a node
// come right before it, and what spills into a node comes before it too.
func inward(t *hollow.Tree) []int32 {
	size := make([]int32, len(t.Nodes))
	for i, node := range t.Nodes {
		size[i]++
		if node.Parent != hollow.None {
			size[node.Parent] += size[i]
		}
	}
	place, free := make([]int32, len(t.Nodes)), int32(len(t.Nodes))
	for _, root := range t.Roots {
		place[root] = free - 1
		free -= size[root]
	}
	order := make([]int32, len(t.Nodes))
	for i, node := range slices.Backward(t.Nodes) {
		order[place[i]] = int32(i)
		if a, b := node.Child[0], node.Child[1]; a != hollow.None {
			place[b] = place[i] - 1
			place[a] = place[b] - size[b]
		}
	}
	return order
}

// add puts in a pond up to brim, of cells up to end at most, that a link taps; it
// returns the start of the next.
func (s *store) add(p pond, brim float64, tap, end int32) pond {
	p.brim = brim
	slab := p.under * (brim - p.floor)
	for p.hi < end && float64(s.height[p.hi]) < brim {
		slab += brim - float64(s.height[p.hi])
		p.hi++
	}
	s.ponds = append(s.ponds, p)
	s.room = append(s.room, slab*s.area)
	s.taps = append(s.taps, tap)
	return pond{floor: brim, under: p.under + float64(p.hi-p.lo), lo: p.hi, hi: p.hi, beside: -1, within: -1}
}

// level returns the height at which a volume stands in pond i, which it does not
// overfill, and how much of it the ground takes in on the way [m³]. soak is what
// each of store.cells can take in [m], nil for nothing.
func (s *store) level(i int, volume float64, soak []float64) (level, soaked float64) {
	p := &s.ponds[i]
	level = p.floor
	n, left := p.under, volume/s.area
	for k := p.lo; k < p.hi; k++ {
		z := float64(s.height[k])
		rise := n * (z - level)
		if rise > left {
			break
		}
		left -= rise
		level = z
		n++
		if soak != nil {
			into := min(left, soak[k])
			left -= into
			soaked += into
		}
	}
	if left > 0 && n > 0 {
		level += left / n
	}
	return min(level, p.brim), soaked * s.area
}
