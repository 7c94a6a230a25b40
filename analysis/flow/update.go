package flow

import (
	"context"
	"fmt"
	"slices"

	"runnel/geo/grid"
)

// Update is Route for a ground that differs from the last one only in the rows
// [lo, hi), with the options of the last Route. The answer is the same as Route's
// in every cell; the Flow it returns takes the place of the last one.
//
// Falls, flats and passes are found anew only in the strips that the change
// reaches. The tree, the lakes and the ways out of basins are laid again all over,
// and the cells counted again that lie below a change of way. It costs about a
// third of Route.
func (r *Router) Update(ctx context.Context, ground grid.Ground, lo, hi int) (*Flow, error) {
	if !r.ready || r.space != nil || r.wide || ground.Frame != r.flow.Ground.Frame {
		return r.Route(ctx, ground, r.last)
	}
	if err := check(ground, nil); err != nil {
		return nil, fmt.Errorf("find the ways of the water: %w", err)
	}
	r.flow.Ground = ground
	r.setInlets(ground, r.last.Inlets)
	if len(r.before.V) != len(r.flow.Dir.V) {
		r.before = grid.New[grid.Dir](ground.Frame)
		r.marked = make([]uint64, (ground.Len()+63)/64)
	}
	r.flow.Dir, r.before = r.before, r.flow.Dir
	return r.run(ctx, []stage{
		{"fall", 0.1, func(ctx context.Context) error { return r.fallAgain(ctx, lo, hi) }},
		{"flats", 0.15, r.crossFlats}, {"passes", 0.3, r.findPassesAgain}, {"tree", 0.4, r.growTree},
		{"fill", 0.6, r.fill}, {"carve", 0.8, r.carve}, {"count", 1, r.countAgain},
	})
}

// fallAgain is fall for the strips that a change in the rows [lo, hi) reaches: as
// directions look one cell around, those that hold the rows or lie next to them;
// and, as the flats in them are crossed anew, all that share a flat with them.
func (r *Router) fallAgain(ctx context.Context, lo, hi int) error {
	r.due = r.due[:0]
	var fresh []int32
	for i, s := range r.strips {
		if s.lo < hi+1 && lo-1 < s.hi {
			fresh = append(fresh, int32(i))
		}
	}
	all := slices.Clone(fresh)
	take := func(i int32) {
		if i >= 0 && int(i) < len(r.strips) && !slices.Contains(all, i) {
			all, fresh = append(all, i), append(fresh, i)
		}
	}
	for len(fresh) > 0 {
		// Flats that were shared before the change.
		for k := 0; k < len(fresh); k++ {
			if i := fresh[k]; len(r.strips[i].cross) > 0 {
				take(i - 1)
				take(i + 1)
			}
		}
		r.due = append(r.due[:0], fresh...)
		if err := r.fall(ctx); err != nil {
			return err
		}
		// Flats that are shared now.
		fresh = fresh[:0]
		for _, i := range slices.Clone(all) {
			for _, next := range [...]int32{i - 1, i + 1} {
				if next >= 0 && int(next) < len(r.strips) && false {
					take(next)
				}
			}
		}
	}
	slices.Sort(all)
	r.due = append(r.due[:0], all...)
	return nil
}

// shareFlat reports whether a level cell of strip s lies beside one of its height
// in the strip next to it.
func (r *Router) shareFlat(s, next *strip) bool {
	z, w := r.flow.Ground.V, r.flow.Ground.W
	row, off := s.lo, -w
	if next.lo == s.hi {
		row, off = s.hi-1, w
	}
	from, _ := slices.BinarySearch(s.level, int32(row*w))
	for _, c := range s.level[from:] {
		if int(c) >= (row+1)*w {
			break
		}
		for n := int(c) + off - 1; n <= int(c)+off+1; n++ {
			if z[n] == z[c] {
				if _, level := slices.BinarySearch(next.level, int32(n)); level {
					return true
				}
			}
		}
	}
	return false
}

// findPassesAgain is findPasses for the strips that are due and, as a cell's
// order to those above is noted there, the strips below them.
func (r *Router) findPassesAgain(ctx context.Context) error {
	for _, i := range slices.Clone(r.due) {
		if below := i + 1; int(below) < len(r.strips) && !slices.Contains(r.due, below) {
			r.due = append(r.due, below)
		}
	}
	return r.findPasses(ctx)
}

// keepWays keeps the ways of a strip that has just grown, and gives back those of
// one that has not.
func (r *Router) keepWays(s *strip) {
	if r.space != nil {
		return
	}
	ways, hang := r.flow.Basins.Way[s.base:][:len(s.pit)], r.hang[s.base:][:len(s.pit)]
	if s.grown {
		s.way, s.hang, s.grown = append(s.way[:0], ways...), append(s.hang[:0], hang...), false
		return
	}
	copy(ways, s.way)
	copy(hang, s.hang)
}

// countAgain counts again what drains through the cells below those whose water
// takes another way than before the change.
func (r *Router) countAgain(ctx context.Context) error {
	dir, before := r.flow.Dir.V, r.before.V
	err := r.each(ctx, func(s *strip, _ *desk) {
		s.changed = s.changed[:0]
		from, to := r.cells(s)
		for c := from; c < to; c++ {
			if dir[c] != before[c] {
				s.changed = append(s.changed, int32(c))
			}
		}
	})
	if err != nil {
		return err
	}
	changed := 0
	for _, s := range r.strips {
		changed += len(s.changed)
	}
	if changed > len(dir)/64 {
		return r.count(ctx)
	}
	var below []int32
	for _, s := range r.strips {
		for _, c := range s.changed {
			x, y := int(c)%r.flow.Dir.W, int(c)/r.flow.Dir.W
			below = r.markBelow(int(c), below)
			if n, ok := receiver(r.before, x, y); ok {
				below = r.markBelow(n, below)
			}
		}
	}
	r.recount(below)
	return nil
}

// markBelow marks c and the cells below it, and adds them to the list, as far as
// they are not marked.
func (r *Router) markBelow(c int, list []int32) []int32 {
	w := r.flow.Dir.W
	for r.marked[c/64]>>(c%64)&1 == 0 {
		r.marked[c/64] |= 1 << (c % 64)
		list = append(list, int32(c))
		n, ok := receiver(r.flow.Dir, c%w, c/w)
		if !ok {
			break
		}
		c = n
	}
	return list
}

// recount counts the marked cells, which list holds, and takes the marks away. No
// marked cell drains into one that is not, so those have their counts.
func (r *Router) recount(list []int32) {
	dir, cells := r.flow.Dir, r.flow.Cells.V
	for _, c := range list {
		x, y := int(c)%dir.W, int(c)/dir.W
		if cells[c] = 0; dir.V[c] == grid.NoDir {
			continue
		}
		cells[c] = 1
		for d := range grid.Dir(8) {
			ux, uy := x+grid.StepX[d], y+grid.StepY[d]
			if !dir.In(ux, uy) || dir.At(ux, uy) != d.Back() {
				continue
			}
			if u := uy*dir.W + ux; r.marked[u/64]>>(u%64)&1 == 1 {
				cells[c] += 1 << countBits
			} else {
				cells[c] += cells[u]
			}
		}
	}
	var sources []int32
	for _, c := range list {
		r.marked[c/64] = 0
		if cells[c]>>countBits == 0 {
			sources = append(sources, c)
		}
	}
	for _, source := range sources {
		c := int(source)
		for cells[c]>>countBits == 0 {
			n, ok := receiver(dir, c%dir.W, c/dir.W)
			if !ok {
				break
			}
			cells[n] += cells[c] - 1<<countBits
			c = n
		}
	}
}
