package storm

import (
	"cmp"
	"fmt"
	"slices"

	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/geo/grid"
)

func checkLinks(links []Link, ground grid.Ground) error {
	known := func(c int32) bool { return c >= 0 && int(c) < len(ground.V) && !grid.IsNoData(ground.V[c]) }
	for i, l := range links {
		switch {
		case !known(l.From):
			return fmt.Errorf("link %d takes in off the ground; move its inlet to a cell that has a height", i)
		case l.To != -1 && !known(l.To):
			return fmt.Errorf("link %d runs out off the ground; move its outlet to a cell that has a height, or let it leave the site", i)
		case !(l.Capacity >= 0):
			return fmt.Errorf("link %d at column %d, row %d has a capacity of %g m³; give 0 or more", i, int(l.From)%ground.W, int(l.From)/ground.W, l.Capacity)
		}
	}
	return nil
}

// A cut is the level at which a link takes from the water standing in a node.
type cut struct {
	node  int32
	level float64
	link  int32
}

// cuts returns, by node and level, where links take from standing water. A link
// in ground that sheds its water off the edge, or higher than its hollow spills,
// takes none.
func (m *Model) cuts(f *flow.Flow, t *hollow.Tree) []cut {
	var cuts []cut
	for i, l := range m.links {
		level := float64(f.Ground.V[l.From])
		if l.raised(f.Ground) {
			level = l.Level
		}
		node := leafOf(f, l.From)
		for node != hollow.None && t.Nodes[node].Level < level {
			node = t.Nodes[node].Parent
		}
		if node != hollow.None {
			cuts = append(cuts, cut{node, level, int32(i)})
		}
	}
	slices.SortFunc(cuts, func(a, b cut) int {
		return cmp.Or(cmp.Compare(a.node, b.node), cmp.Compare(a.level, b.level), cmp.Compare(a.link, b.link))
	})
	return cuts
}

// leafOf returns the basin that cell c falls to, or None.
func leafOf(f *flow.Flow, c int32) int32 {
	for ok := true; ok; {
		var n int32
		if n, ok = flow.Next(f.Fall, c); ok {
			c = n
		}
	}
	if leaf, ok := slices.BinarySearch(f.Basins.Pit, c); ok {
		return int32(leaf)
	}
	return hollow.None
}

// checkLoops reports a link whose water runs back to it over the ground.
func (m *Model) checkLoops() error {
	const seen, done = 1, 2
	mark := make([]uint8, len(m.links))
	var visit func(s int32) error
	visit = func(s int32) error {
		k := s - m.runs
		if s < m.runs || s >= m.gates || mark[k] == done {
			return nil
		}
		if mark[k] == seen {
			c := int(m.links[k].From)
			return fmt.Errorf("links run in a loop through column %d, row %d; move their outlets below their inlets", c%m.frame.W, c/m.frame.W)
		}
		mark[k] = seen
		err := cmp.Or(visit(m.below[k]), visit(m.outfall[k]))
		mark[k] = done
		return err
	}
	for k := range m.links {
		if err := visit(m.runs + int32(k)); err != nil {
			return err
		}
	}
	return nil
}
