package hollow

import (
	"cmp"
	"slices"
)

// A Threshold is the least that a hollow must have to be worth showing. The zero
// Threshold leaves out only what has no depth.
type Threshold struct {
	Depth  float64 // [m]
	Area   float64 // [m²]
	Volume float64 // [m³]
}

// Worth returns the hollows that reach a threshold and lie in no other that does,
// the one of biggest volume first. A pit that the survey's error makes in the
// floor of a pond is part of the pond, and one on a slope falls short.
//
// A hollow is nowhere deeper, wider or more than the one it lies in; so those that
// lie in no other are all there is to look at.
func (t *Tree) Worth(least Threshold) []int32 {
	var worth []int32
	for at, i := range t.Roots {
		if at%farPoll == 0 {
			t.space.Release()
		}
		if t.Nodes[i].reaches(least) {
			worth = append(worth, i)
		}
	}
	slices.SortFunc(worth, func(a, b int32) int {
		return cmp.Or(cmp.Compare(t.Nodes[b].Volume, t.Nodes[a].Volume), cmp.Compare(a, b))
	})
	return worth
}

// reaches reports whether a hollow holds water and has the least of all measures.
func (n *Node) reaches(least Threshold) bool {
	return n.Cells > 0 && n.Depth >= least.Depth && n.Area >= least.Area && n.Volume >= least.Volume
}

// Neighbours returns the hollows that a node shares a pass with, in ascending
// order: for each pass of the spanning tree that leads out of it or into it, the
// biggest on the other side that it is not in itself. Those without depth are left
// out.
func (t *Tree) Neighbours(node int32) []int32 {
	inside := make([]bool, len(t.Nodes))
	t.walk(node, func(k int32) { inside[k] = true })
	var found []int32
	for i, w := range t.ways {
		here, there := int32(i), w.Parent
		if there == None || inside[here] == inside[there] {
			continue
		}
		if inside[there] {
			there = here
		}
		if n := t.beside(there, node); t.Nodes[n].Cells > 0 {
			found = append(found, n)
		}
	}
	slices.Sort(found)
	return slices.Compact(found)
}

// beside returns the biggest hollow that leaf is part of and the node is not.
func (t *Tree) beside(leaf, node int32) int32 {
	for {
		p := t.Nodes[leaf].Parent
		if p == None || t.holds(p, node) {
			return leaf
		}
		leaf = p
	}
}

// holds reports whether a node is k or one that k lies in.
func (t *Tree) holds(node, k int32) bool {
	for k != None && k < node {
		k = t.Nodes[k].Parent
	}
	return k == node
}
