package hollow

import (
	"slices"

	"runnel/geo/scratch"
)

// A Nested is a hollow worth showing, and which of those shown it lies in.
type Nested struct {
	Node int32
	// Outlet is the cell that the water leaves from when the hollow is full.
	Outlet int32
	// Within and Into are positions in the list. Within is the hollow it lies in,
	// None for none. Into is the next hollow of the list that its spill comes to,
	// None where that gets off the ground first; where it lands among others in the
	// hollow it lies in, that one.
	Within, Into int32
	// Neighbours are the positions of those that spill into it or that it spills
	// into, but for what it lies in, in ascending order.
	Neighbours []int32
}

// Nest returns the hollows worth showing, those of Worth in its order and after
// each the parts that it falls into as its water sinks, where both parts at a pass
// are worth showing themselves. Hollows that only meet where both are full are
// parts of none, as nothing of what they would make up is under water.
func (t *Tree) Nest(least Threshold) ([]Nested, error) {
	n := nest{Tree: t, least: least, part: map[int32]int32{}}
	for _, root := range t.Worth(least) {
		n.add(root, None)
	}
	if err := n.findHolders(); err != nil {
		return nil, err
	}
	for i := range n.list {
		if i%farPoll == 0 {
			n.space.Release()
		}
		at, s := int32(i), &n.list[i]
		if s.Within == None {
			s.Outlet, s.Into = n.leave(at)
		} else {
			s.Outlet, s.Into = n.Nodes[s.Node].From, n.landing(s)
		}
		if s.Into != None && s.Into != s.Within {
			s.Neighbours = append(s.Neighbours, s.Into)
			n.list[s.Into].Neighbours = append(n.list[s.Into].Neighbours, at)
		}
	}
	for i := range n.list {
		slices.Sort(n.list[i].Neighbours)
		n.list[i].Neighbours = slices.Compact(n.list[i].Neighbours)
	}
	return n.list, nil
}

// A nest is a list in the making.
type nest struct {
	*Tree
	least Threshold
	list  []Nested
	part  map[int32]int32 // the position of a node that lies in another
	// holder is, of each node, the position of the hollow listed that it is or lies
	// in, and that lies in no other; None for none.
	holder []int32
}

// add lists a node and its parts.
func (n *nest) add(node, within int32) {
	type part struct{ node, within int32 }
	for left := []part{{node, within}}; len(left) > 0; {
		p := left[len(left)-1]
		left = left[:len(left)-1]
		if !n.Nodes[p.node].reaches(n.least) {
			continue
		}
		child := n.Nodes[p.node].Child
		if !n.tied(p.node) {
			p.within = n.put(p.node, p.within)
			child = n.split(p.node)
		}
		if child[0] != None {
			left = append(left, part{child[1], p.within}, part{child[0], p.within})
		}
	}
}

// tied reports whether a node's water stands no higher than where its parts meet.
func (n *nest) tied(node int32) bool {
	child := n.Nodes[node].Child[0]
	return child != None && n.Nodes[child].Level == n.Nodes[node].Level
}

// put appends a node to the list.
func (n *nest) put(node, within int32) int32 {
	at := int32(len(n.list))
	n.list = append(n.list, Nested{Node: node, Within: within, Into: None})
	if within != None {
		n.part[node] = at
	}
	return at
}

// split returns the first two parts on the way down that are both worth showing.
func (n *nest) split(node int32) [2]int32 {
	for {
		child := n.Nodes[node].Child
		if child[0] == None {
			return child
		}
		a, b := n.Nodes[child[0]].reaches(n.least), n.Nodes[child[1]].reaches(n.least)
		switch {
		case a && b:
			return child
		case a:
			node = child[0]
		case b:
			node = child[1]
		default:
			return [2]int32{None, None}
		}
	}
}

// findHolders fills in holder, parents before children.
func (n *nest) findHolders() (err error) {
	if n.holder, err = scratch.Make[int32](n.space, len(n.Nodes)); err != nil {
		return err
	}
	for i := range n.holder {
		n.holder[i] = None
	}
	for i, s := range n.list {
		if s.Within == None {
			n.holder[s.Node] = int32(i)
		}
	}
	for k := len(n.Nodes) - 1; k >= 0; k-- {
		if k%poll == 0 {
			n.space.Release()
		}
		if parent := n.Nodes[k].Parent; n.holder[k] == None && parent != None {
			n.holder[k] = n.holder[parent]
		}
	}
	return nil
}

// leave follows the water of a full hollow that lies in no other by the ways
// between basins: it returns the cell where the water leaves and the next hollow
// of the list that it comes to.
func (n *nest) leave(at int32) (outlet, into int32) {
	leaf := n.list[at].Node
	for pit := n.Nodes[leaf].Pit; n.Nodes[leaf].Child[0] != None; {
		child := n.Nodes[leaf].Child
		leaf = child[0]
		if n.Nodes[leaf].Pit != pit {
			leaf = child[1]
		}
	}
	for leaf != None && n.holder[leaf] == at {
		outlet, leaf = n.ways[leaf].From, n.ways[leaf].Parent
	}
	for leaf != None && n.holder[leaf] == None {
		leaf = n.ways[leaf].Parent
	}
	if leaf == None {
		return outlet, None
	}
	return outlet, n.holder[leaf]
}

// landing returns where in the hollow that it lies in a part spills: another part,
// or the hollow itself.
func (n *nest) landing(s *Nested) int32 {
	k := n.Nodes[s.Node].Into
	for parent := n.Nodes[s.Node].Parent; n.Nodes[k].Parent != parent; {
		k = n.Nodes[k].Parent
	}
	if at, listed := n.part[k]; listed {
		return at
	}
	return s.Within
}
