package hollow

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"runnel/analysis/flow"
	"runnel/analysis/internal/sortable"
	"runnel/geo/grid"
	"runnel/geo/scratch"
)

// None stands for no node and no cell.
const None int32 = -1

// A Tree is the hollows of a ground and how they lie in each other: leaf i of
// Nodes is what basin i of the flow holds before it spills, and two hollows that
// fill to the pass between them are the children of the one that both make up.
// Children come before their parents. What has no parent spills off the ground
// for good, over others at most that lie lower.
type Tree struct {
	Nodes []Node

	// Roots are the nodes without parent, in an order in which each spills off the
	// ground or into one before it.
	Roots []int32

	ground grid.Ground
	space  *scratch.Space // where all of this is kept, nil for memory
	ways   []flow.Way
	// cells[first[i]:first[i+1]] are the cells that node i is the first to cover,
	// the lowest first: below its own level, and not below a child's.
	cells, first []int32
}

// A Node is one hollow, brim-full.
type Node struct {
	// Pit is its lowest cell.
	Pit int32
	// From is the cell it spills from and To the cell beyond that the water drops
	// to; None where it drops off the ground.
	From, To int32
	// Level is the height of the spill [m].
	Level float64
	// Parent is the hollow that it makes up together with the one across the spill,
	// and Child the two that it is made up of, or None.
	Parent int32
	Child  [2]int32
	// Into is the leaf in which what spills lands first; None is off the ground.
	Into int32
	// Cells counts the cells below the spill. None lie below a hollow whose floor is
	// its spill: a flat, or a tie between passes.
	Cells int
	// Area is their plan area [m²], Depth the depth over the pit [m], Volume what
	// stands in them [m³].
	Area, Depth, Volume float64
}

// NewTree makes the tree of the hollows of a ground that has been routed: the
// depression hierarchy of [Barnes2020], from the passes of the spanning tree that
// the routing found. Those are taken from the lowest on, as Kruskal's algorithm
// does. The tree holds on to the ground, which must not change, and is kept in the
// space of the flow, if that has one.
func NewTree(ctx context.Context, f *flow.Flow) (*Tree, error) {
	n := len(f.Basins.Pit)
	if len(f.Basins.Way) != n || len(f.Fall.V) != len(f.Ground.V) || len(f.Filled.V) != len(f.Ground.V) {
		return nil, errors.New("make the tree of hollows: the flow is not whole; route the ground and give what comes out")
	}
	t := &Tree{ground: f.Ground, space: f.Space}
	var err error
	if t.ways, err = scratch.Make[flow.Way](t.space, n); err != nil {
		return nil, err
	}
	copy(t.ways, f.Basins.Way)
	if t.Nodes, err = scratch.Make[Node](t.space, max(2*n-1, 0)); err != nil {
		return nil, err
	}
	t.Nodes = t.Nodes[:n]
	for i, pit := range f.Basins.Pit {
		if i%poll == 0 {
			t.space.Release()
		}
		t.Nodes[i] = Node{Pit: pit, From: None, To: None, Parent: None, Child: [2]int32{None, None}, Into: None}
	}
	if err := t.join(ctx); err != nil {
		return nil, err
	}
	if err := t.cover(ctx, f); err != nil {
		return nil, err
	}
	t.measure()
	return t, nil
}

// byPass returns the basins, in the lower 32 bits, in the order of their passes,
// the lowest first; equal passes in the order of the basins.
func (t *Tree) byPass() ([]uint64, error) {
	keys, err := scratch.Make[uint64](t.space, len(t.ways))
	if err != nil {
		return nil, err
	}
	for i, w := range t.ways {
		keys[i] = uint64(sortable.Key(w.Pass))<<32 | uint64(i)
	}
	slices.Sort(keys)
	return keys, nil
}

// A union leads each node up to the hollow that has taken it in.
type union []int32

func (u union) find(i int32) int32 {
	for u[i] != i {
		u[i] = u[u[i]]
		i = u[i]
	}
	return i
}

// join puts the hollows on the two sides of each pass together. What reaches
// Outside is closed: nothing that it would be part of could hold water.
func (t *Tree) join(ctx context.Context) error {
	order, err := t.byPass()
	if err != nil {
		return err
	}
	beyond := int32(2 * len(order))
	var top union
	if top, err = scratch.Make[int32](t.space, len(t.Nodes)*2+1); err != nil {
		return err
	}
	for i := range top {
		top[i] = int32(i)
	}
	for done, key := range order {
		if done%farPoll == 0 {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			t.space.Release()
		}
		i := int32(uint32(key))
		w := t.ways[i]
		a, b := top.find(i), beyond
		if w.Parent != flow.Outside {
			b = top.find(w.Parent)
		}
		t.spill(a, w.From, w.To, w)
		t.Nodes[a].Into = w.Parent
		if b == beyond {
			top[a] = beyond
			t.Roots = append(t.Roots, a)
			continue
		}
		t.spill(b, w.To, w.From, w)
		t.Nodes[b].Into = i
		p := t.merge(a, b)
		top[a], top[b] = p, p
	}
	return nil
}

// merge adds the hollow that two make up, and returns it.
func (t *Tree) merge(a, b int32) int32 {
	p := int32(len(t.Nodes))
	t.Nodes = append(t.Nodes, Node{
		Pit:  t.lower(t.Nodes[a].Pit, t.Nodes[b].Pit),
		From: None, To: None, Parent: None, Child: [2]int32{a, b}, Into: None,
	})
	t.Nodes[a].Parent, t.Nodes[b].Parent = p, p
	return p
}

func (t *Tree) spill(node, from, to int32, w flow.Way) {
	n := &t.Nodes[node]
	n.From, n.To, n.Level = from, to, float64(w.Pass)
}

// lower returns the lower of two cells, the first of two level ones.
func (t *Tree) lower(a, b int32) int32 {
	if cmp.Or(cmp.Compare(t.ground.V[a], t.ground.V[b]), cmp.Compare(a, b)) < 0 {
		return a
	}
	return b
}

// measure sums up what the hollows hold, children before parents. A child stands
// full at the pass where its parent begins, so the parent holds what the children
// do, the slab over their cells, and what stands in the cells that are its own.
func (t *Tree) measure() {
	area := t.ground.CellArea()
	for i := range t.Nodes {
		if i%farPoll == 0 {
			t.space.Release()
		}
		n := &t.Nodes[i]
		own := t.Own(int32(i))
		n.Cells = len(own)
		depths := 0.0
		for _, c := range own {
			depths += n.Level - float64(t.ground.V[c])
		}
		for _, child := range n.Child {
			if child != None {
				k := &t.Nodes[child]
				n.Cells += k.Cells
				n.Volume += k.Volume
				depths += float64(k.Cells) * (n.Level - k.Level)
			}
		}
		n.Area = float64(n.Cells) * area
		n.Volume += depths * area
		n.Depth = n.Level - float64(t.ground.V[n.Pit])
	}
}

// Own returns the cells that a node is the first to cover, the lowest first: those
// below its level that are not below a child's. Do not change it.
func (t *Tree) Own(node int32) []int32 { return t.cells[t.first[node]:t.first[node+1]] }

// Owned returns the cells that Own returns, of all nodes one after another: those
// of node i are cells[first[i]:first[i+1]]. Do not change them.
func (t *Tree) Owned() (cells, first []int32) { return t.cells, t.first }
