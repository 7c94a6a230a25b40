package flow

import (
	"context"

	"runnel/analysis/internal/sortable"
	"runnel/geo/grid"
)

// growTree joins the trees of the strips to one, and works out the level to
// which each basin fills.
func (r *Router) growTree(ctx context.Context) error {
	if err := r.sortPasses(ctx); err != nil {
		return err
	}
	nodes := len(r.flow.Basins.Way) + 1 // the last is outside
	for _, err := range []error{
		fit(r.space, &r.tree.up, nodes), fit(r.space, &r.tree.size, nodes), fit(r.space, &r.tree.pass, nodes),
	} {
		if err != nil {
			return err
		}
	}
	r.tree.reset(nodes)
	if err := r.each(ctx, r.nameParents); err != nil {
		return err
	}
	if err := r.joinTrees(ctx); err != nil {
		return err
	}
	return r.each(ctx, func(s *strip, _ *desk) {
		for i := range s.pit {
			r.setLevel(s.base + int32(i))
		}
	})
}

// joinTrees takes the passes that are left, by Kruskal's algorithm.
func (r *Router) joinTrees(ctx context.Context) error {
	ways := r.flow.Basins.Way
	outside := int32(len(ways))
	node := func(b int32) int32 {
		if b == Outside {
			return outside
		}
		return b
	}
	for i, o := range r.order {
		if i%poll == 0 {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			r.space.Release()
		}
		p := &r.passes[uint32(o)]
		a, b := r.tree.root(node(p.fromU)), r.tree.root(node(p.atV))
		if a == b {
			continue
		}
		u, v, from, to := p.u, p.v, p.cell, int32(-1)
		if p.d < grid.Stay {
			to = p.cell + int32(r.offset[p.d])
		}
		if a == outside || b != outside && r.tree.size[a] > r.tree.size[b] {
			a, b, u, v, from, to = b, a, v, u, to, from
		}
		leave(ways, u, crossing{v, from, to, p.z})
		r.tree.link(a, b, p.z)
	}
	return nil
}

// sortPasses gathers the passes of all strips, the lowest first.
func (r *Router) sortPasses(ctx context.Context) error {
	count := 0
	for i := range r.strips {
		r.strips[i].firstPass = count
		count += len(r.strips[i].pass)
	}
	r.passes, r.order = resize(r.passes, count), resize(r.order, count)
	err := r.each(ctx, func(s *strip, _ *desk) {
		for i, p := range s.pass {
			p.u, p.v, p.fromU, p.atV = r.resolve(s, p.u), r.resolve(s, p.v), r.resolve(s, p.fromU), r.resolve(s, p.atV)
			at := s.firstPass + i
			r.passes[at], r.order[at] = p, uint64(sortable.Key(p.z))<<32|uint64(at)
		}
	})
	r.order, r.spare = sortHigh(r.order, r.spare)
	return err
}

// nameParents puts basins for names in the ways of a strip.
func (r *Router) nameParents(s *strip, _ *desk) {
	ways := r.flow.Basins.Way
	copy(r.flow.Basins.Pit[s.base:], s.pit)
	r.keepWays(s)
	for i := range s.pit {
		b := s.base + int32(i)
		if ways[b].Parent != noWay {
			ways[b].Parent = r.resolve(s, ways[b].Parent)
		}
		r.hang[b] = r.resolve(s, r.hang[b])
	}
}

// resolve returns the basin, or Outside, that a name in a strip stands for. Water
// can cross from strip to strip many times before it ends.
func (r *Router) resolve(s *strip, name int32) int32 {
	for name < Outside {
		c := int(-2 - name)
		y, x := c/r.flow.Fall.W, c%r.flow.Fall.W
		s = r.stripAt(y)
		if y == s.lo {
			name = s.first[x]
		} else {
			name = s.last[x]
		}
	}
	if name >= 0 {
		name += s.base
	}
	return name
}

// setLevel sets the level of basin b: the higher of the pass to where it hangs
// and of the last pass on the way from there.
func (r *Router) setLevel(b int32) {
	way := &r.flow.Basins.Way[b]
	outside := int32(len(r.flow.Basins.Way))
	i, level := r.hang[b], way.Level
	if i != Outside {
		for r.tree.up[i] != outside {
			i = r.tree.up[i]
		}
		level = max(level, r.tree.pass[i])
	}
	way.Level = level
}
