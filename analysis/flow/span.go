package flow

import (
	"math"

	"runnel/analysis/internal/sortable"
	"runnel/geo/grid"
)

// An edge joins two places of a strip at a saddle: the water of the cell ends in
// one, that of its neighbour in direction d in the other. Direction grid.Stay
// stands for off the ground.
type edge struct {
	cell int32
	d    grid.Dir
	u, v int32
}

// noteEdges names where the strip's first and last rows drain, and lists the
// saddles between different places.
func (r *Router) noteEdges(s *strip, k *ways) {
	s.first, s.last = resize(s.first, k.w), resize(s.last, k.w)
	for x := range k.w {
		s.first[x] = k.code[k.placeOf(k.at[2*x].own)]
		s.last[x] = k.code[k.placeOf(k.at[2*x+1].own)]
	}
	ends, apart := k.at[2*k.w:], 0
	for i, at := range ends {
		ends[apart], k.saddles[apart] = at, k.saddles[i]
		if at.own != at.other {
			apart++
		}
	}
	k.edges, k.order = resize(k.edges, apart), resize(k.order, apart)
	z, n := r.flow.Ground.V, 0
	for i, at := range ends[:apart] {
		e := k.saddles[i]
		u, v := k.placeOf(at.own), k.placeOf(at.other)
		k.edges[n] = edge{e.cell, e.d, u, v}
		k.order[n] = uint64(sortable.Key(z[e.cell]))<<32 | uint64(n)
		if u != v {
			n++
		}
	}
	k.edges = k.edges[:n]
	k.order, k.spare = sortHigh(k.order[:n], k.spare)
}

// A pass is an edge that joins two trees of a strip, each of which hangs from a
// place that other strips know too.
type pass struct {
	z          float32
	cell       int32
	d          grid.Dir
	u, v       int32 // the places on either side
	fromU, atV int32 // the places that their trees hang from
}

// A forest is a set of trees, each with one root; the lowest edges first make one
// tree of two. Trees are linked by size, so no path is long.
type forest struct {
	up   []int32   // the node that this one was linked to, itself for a root
	size []int32   // of the tree of a root
	pass []float32 // the height of the pass by which a node was linked
}

func (f *forest) reset(n int) {
	f.up, f.size, f.pass = resize(f.up, n), resize(f.size, n), resize(f.pass, n)
	for i := range f.up {
		f.up[i], f.size[i] = int32(i), 1
	}
}

func (f *forest) root(i int32) int32 {
	for f.up[i] != i {
		i = f.up[i]
	}
	return i
}

func (f *forest) link(a, to int32, z float32) {
	f.up[a], f.pass[a] = to, z
	f.size[to] += f.size[a]
}

// A span grows the trees of one strip.
type span struct {
	forest
	known []bool  // whether the tree of a root has a place that other strips know
	hang  []int32 // the known place that a node's tree was hung from, -1 for none yet
}

// noWay marks a basin whose way out is not found yet.
const noWay = math.MinInt32

// growStrip finds, by Kruskal's algorithm, the passes of a strip that belong to
// the minimum spanning tree of the whole ground whatever lies in other strips:
// the lowest out of any set of basins that no other strip knows. They lead each
// such basin to a place that others know. What else Kruskal takes is kept as
// passes for the whole ground: no other edge of the strip can be in the tree.
func (r *Router) growStrip(s *strip, d *desk) {
	k, t := &d.ways, &d.span
	r.startSpan(s, k, t)
	s.pass, s.grown = s.pass[:0], true
	ways := r.flow.Basins.Way[s.base:]
	for _, o := range k.order {
		e := &k.edges[uint32(o)]
		a, b := t.root(e.u), t.root(e.v)
		if a == b {
			continue
		}
		z := sortable.Height(uint32(o >> 32))
		n := int32(-1)
		if e.d < grid.Stay {
			n = e.cell + int32(r.offset[e.d])
		}
		if t.known[a] && t.known[b] {
			s.pass = append(s.pass, pass{z, e.cell, e.d, k.code[e.u], k.code[e.v], k.code[t.hangs(e.u)], k.code[t.hangs(e.v)]})
			if t.size[a] > t.size[b] {
				a, b = b, a
			}
			t.link(a, b, z)
			continue
		}
		u, v, from, to := e.u, e.v, e.cell, n
		if t.known[a] || !t.known[b] && t.size[a] > t.size[b] {
			a, b, u, v, from, to = b, a, v, u, to, from
		}
		if t.known[b] {
			t.hang[a] = t.hangs(v)
		}
		leave(ways, k.code[u], crossing{k.code[v], from, to, z})
		t.link(a, b, z)
	}
	r.hangStrip(s, d)
}

// hangStrip notes the place that other strips know from which each basin's tree
// hangs, and the height of the highest pass on the way there.
func (r *Router) hangStrip(s *strip, d *desk) {
	k, t := &d.ways, &d.span
	ways, hang := r.flow.Basins.Way[s.base:], r.hang[s.base:]
	for i := range s.pit {
		node := k.pits + int32(i)
		if t.known[node] {
			hang[i] = int32(i)
			continue
		}
		for t.hang[node] < 0 {
			node = t.up[node]
		}
		hang[i], ways[i].Level = k.code[t.hang[node]], t.pass[node]
	}
}

// hangs returns the known place that the tree of node i hangs from.
func (t *span) hangs(i int32) int32 {
	for t.hang[i] < 0 {
		i = t.up[i]
	}
	return t.hang[i]
}

// startSpan makes each place of a strip a tree of its own. Places in the next
// rows, and the pits to which water of the next rows may come, are known.
func (r *Router) startSpan(s *strip, k *ways, t *span) {
	n := len(k.code)
	t.reset(n)
	t.known, t.hang = resize(t.known, n), resize(t.hang, n)
	for i := range t.known {
		t.known[i] = k.code[i] < 0
	}
	know := func(ends []int32) {
		for _, b := range ends {
			if b >= 0 {
				t.known[k.pits+b] = true
			}
		}
	}
	if s.lo > 0 {
		know(s.first)
	}
	if s.hi < r.flow.Fall.H {
		know(s.last)
	}
	for i, known := range t.known {
		t.hang[i] = -1
		if known {
			t.hang[i] = int32(i)
		}
	}
	for i := range s.pit {
		r.flow.Basins.Way[int(s.base)+i] = Way{Parent: noWay, Level: float32(math.Inf(-1))}
	}
}

// A crossing is a Way without its level.
type crossing struct {
	parent, from, to int32
	pass             float32
}

// leave gives the basin u a way out, and turns the ways from it to the root of
// its tree about.
func leave(ways []Way, u int32, out crossing) {
	for {
		way := &ways[u]
		old := crossing{way.Parent, way.From, way.To, way.Pass}
		way.Parent, way.From, way.To, way.Pass = out.parent, out.from, out.to, out.pass
		if old.parent == noWay {
			return
		}
		out = crossing{u, old.to, old.from, old.pass}
		u = old.parent
	}
}

// sortHigh sorts by the upper 32 bits, and keeps the order of equals, by counting
// digits from the least. It returns the sorted slice and the one it used besides.
func sortHigh(list, spare []uint64) (sorted, other []uint64) {
	const digit = 11
	spare = resize(spare, len(list))
	least, most := ^uint64(0), uint64(0)
	for _, v := range list {
		least, most = min(least, v>>32), max(most, v>>32)
	}
	for shift := 0; len(list) > 0 && (most-least)>>shift > 0; shift += digit {
		var count [1 << digit]int32
		for _, v := range list {
			count[(v>>32-least)>>shift&(1<<digit-1)]++
		}
		at := int32(0)
		for i, n := range count {
			count[i] = at
			at += n
		}
		for _, v := range list {
			p := &count[(v>>32-least)>>shift&(1<<digit-1)]
			spare[*p] = v
			*p++
		}
		list, spare = spare, list
	}
	return list, spare
}
