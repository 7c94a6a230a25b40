package hollow

import (
	"cmp"
	"context"
	"slices"

	"runnel/analysis/flow"
	"runnel/analysis/internal/band"
	"runnel/analysis/internal/sortable"
	"runnel/geo/grid"
	"runnel/geo/scratch"
)

// cover finds for each cell that lies below the filled surface the node that is
// the first to cover it, and sorts the cells by node and height.
//
// Water in such a cell falls to a cell that stands no higher, in the same hollow;
// so its node is the first from that cell's node upwards whose level is above it,
// and each cell is visited once.
func (t *Tree) cover(ctx context.Context, f *flow.Flow) error {
	node, err := t.firstCover(ctx, f)
	if err != nil {
		return err
	}
	if t.first, err = scratch.Make[int32](t.space, len(t.Nodes)+1); err != nil {
		return err
	}
	for c, k := range node {
		if c%poll == 0 {
			t.space.Release()
		}
		if k != dry {
			t.first[k]++
		}
	}
	sum := int32(0)
	for k, count := range t.first {
		t.first[k] = sum
		sum += count
	}
	if t.cells, err = scratch.Make[int32](t.space, int(sum)); err != nil {
		return err
	}
	next, err := scratch.Make[int32](t.space, len(t.first))
	if err != nil {
		return err
	}
	copy(next, t.first)
	for c, k := range node {
		if c%poll == 0 {
			t.space.Release()
		}
		if k != dry {
			t.cells[next[k]] = int32(c)
			next[k]++
		}
	}
	return band.Rows(ctx, len(t.Nodes), t.sortCells)
}

// poll is how many cells a pass takes between looks at its context and its space.
const poll = 1 << 16

// farPoll is how many nodes a pass takes between looks at its space where what it
// touches lies far apart.
const farPoll = 1 << 12

// dry marks a cell that no hollow covers.
const dry = None

// firstCover returns for each cell the first node that covers it, or dry. Rows are
// shared among the processors; a walk that leaves its own rows goes on to the pit.
func (t *Tree) firstCover(ctx context.Context, f *flow.Flow) ([]int32, error) {
	w := walker{f: f}
	var errs [3]error
	w.node, errs[0] = scratch.Make[int32](t.space, len(f.Ground.V))
	w.level, errs[1] = scratch.Make[float32](t.space, len(t.Nodes))
	w.parent, errs[2] = scratch.Make[int32](t.space, len(t.Nodes))
	if err := cmp.Or(errs[:]...); err != nil {
		return nil, err
	}
	for i, n := range t.Nodes {
		if i%poll == 0 {
			t.space.Release()
		}
		w.level[i], w.parent[i] = float32(n.Level), n.Parent
	}
	for d, off := range f.Ground.StepOffsets() {
		w.offset[d] = int32(off)
	}
	return w.node, band.Rows(ctx, f.Ground.H, func(lo, hi int) {
		w.rows(lo, hi)
		t.space.Release()
	})
}

// A walker finds the nodes of cells by walking down from them.
type walker struct {
	f      *flow.Flow
	offset [8]int32
	node   []int32 // by cell
	level  []float32
	parent []int32
}

// rows finds the nodes of the cells of rows [lo, hi).
func (w *walker) rows(lo, hi int) {
	first, end := int32(lo*w.f.Ground.W), int32(hi*w.f.Ground.W)
	ground, filled := w.f.Ground.V, w.f.Filled.V
	const unknown = dry - 1
	for c := first; c < end; c++ {
		w.node[c] = dry
		if filled[c] > ground[c] {
			w.node[c] = unknown
		}
	}
	var path []int32
	for c := first; c < end; c++ {
		if w.node[c] != unknown {
			continue
		}
		path = path[:0]
		at := c
		for ; at < first || at >= end || w.node[at] == unknown; at += w.offset[w.f.Fall.V[at]] {
			path = append(path, at)
			if w.f.Fall.V[at] == grid.Stay {
				break
			}
		}
		k := w.start(at, path)
		for i := len(path) - 1; i >= 0; i-- {
			at, z := path[i], ground[path[i]]
			for w.level[k] <= z {
				k = w.parent[k]
			}
			if at >= first && at < end {
				w.node[at] = k
			}
		}
	}
}

// start returns the node of the cell where a path ends: the leaf of a pit, or what
// was found for it before.
func (w *walker) start(at int32, path []int32) int32 {
	if path[len(path)-1] != at {
		return w.node[at]
	}
	leaf, _ := slices.BinarySearch(w.f.Basins.Pit, at)
	return int32(leaf)
}

// sortCells puts the cells of nodes [lo, hi) in the order of their heights.
func (t *Tree) sortCells(lo, hi int) {
	if lo%farPoll == 0 {
		t.space.Release()
	}
	var keys []uint64
	for k := lo; k < hi; k++ {
		own := t.Own(int32(k))
		keys = keys[:0]
		for _, c := range own {
			keys = append(keys, uint64(sortable.Key(t.ground.V[c]))<<32|uint64(c))
		}
		slices.Sort(keys)
		for i, key := range keys {
			own[i] = int32(uint32(key))
		}
	}
}

// walk calls visit with a node and all that lie in it.
func (t *Tree) walk(node int32, visit func(k int32)) {
	for stack := []int32{node}; len(stack) > 0; {
		k := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		visit(k)
		if child := t.Nodes[k].Child; child[0] != None {
			stack = append(stack, child[0], child[1])
		}
	}
}

// Cells returns all cells that a node covers, from node to node the lowest first.
func (t *Tree) Cells(node int32) []int32 {
	cells := make([]int32, 0, t.Nodes[node].Cells)
	t.walk(node, func(k int32) { cells = append(cells, t.Own(k)...) })
	return cells
}

// Ground is the surface that the hollows lie in.
func (t *Tree) Ground() grid.Ground { return t.ground }
