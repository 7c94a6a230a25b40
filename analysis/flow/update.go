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
// reaches, and flats beyond that have a share in them. The tree and the ways out of
// basins are laid again all over, lakes filled again where their level has changed,
// and the cells counted again that lie below a change of way. It costs about a
// sixth of Route.
func (r *Router) Update(ctx context.Context, ground grid.Ground, lo, hi int) (*Flow, error) {
	if !r.ready || r.space != nil || r.wide || ground.Frame != r.flow.Ground.Frame {
		return r.Route(ctx, ground, r.last)
	}
	if err := check(ground, nil); err != nil {
		return nil, fmt.Errorf("find the ways of the water: %w", err)
	}
	r.flow.Ground, r.opened = ground, r.opened[:0]
	r.setInlets(ground, r.last.Inlets)
	if r.before.Frame != ground.Frame {
		r.before = grid.New[grid.Dir](ground.Frame)
		r.marked = make([]uint64, (ground.Len()+63)/64)
	}
	r.flow.Dir, r.before = r.before, r.flow.Dir
	return r.run(ctx, []stage{
		{"fall", 0.1, func(ctx context.Context) error { return r.fallAgain(ctx, lo, hi) }},
		{"flats", 0.15, r.crossFlats}, {"passes", 0.3, r.findPassesAgain}, {"tree", 0.4, r.growTree},
		{"fill", 0.6, r.fillAgain}, {"carve", 0.8, r.carve}, {"count", 1, r.countAgain},
	})
}

// fallAgain is fall for the strips that a change in the rows [lo, hi) reaches: as
// directions look one cell around, those that hold the rows or lie next to them.
// Flats that reach over to the strips beyond are opened there too.
func (r *Router) fallAgain(ctx context.Context, lo, hi int) error {
	r.due = r.due[:0]
	for i, s := range r.strips {
		if s.lo < hi+1 && lo-1 < s.hi {
			r.due = append(r.due, int32(i))
		}
	}
	if err := r.fall(ctx); err != nil || len(r.due) == 0 {
		return err
	}
	if above := r.stripAt(r.strips[r.due[0]].lo - 1); above != nil {
		r.openRow(above, above.hi-1)
	}
	if below := r.stripAt(r.strips[r.due[len(r.due)-1]].hi); below != nil {
		r.openRow(below, below.lo)
	}
	return nil
}

// An opened cell is a level one in a strip that has not changed, whose flat may
// have; with how it fell and which neighbours came before it.
type opened struct {
	cell int32
	fall grid.Dir
	ring lower
}

// openRow opens the flats of a strip that have cells in row y.
func (r *Router) openRow(s *strip, y int) {
	from, _ := slices.BinarySearch(s.level, int32(y*r.flow.Fall.W))
	to, _ := slices.BinarySearch(s.level, int32((y+1)*r.flow.Fall.W))
	for _, c := range s.level[from:to] {
		head := len(r.opened)
		r.open(c)
		for ; head < len(r.opened); head++ {
			c := int(r.opened[head].cell)
			for _, off := range r.offset {
				if r.flow.Ground.V[c+off] == r.flow.Ground.V[c] {
					r.open(int32(c + off))
				}
			}
		}
	}
}

// open takes away what crossFlat has found for cell c, if it is level.
func (r *Router) open(c int32) {
	s := r.stripAt(int(c) / r.flow.Fall.W)
	if _, level := slices.BinarySearch(s.level, c); !level || r.flow.Fall.V[c] == unsettled || r.isInlet(c) {
		return
	}
	if i, pit := slices.BinarySearch(s.pit, c); pit {
		s.pit = slices.Delete(s.pit, i, i+1)
	}
	r.opened = append(r.opened, opened{c, r.flow.Fall.V[c], r.ringOf(c)})
	r.flow.Fall.V[c] = unsettled
	r.flow.Dir.V[c] = grid.Dir(higherAround(r.flow.Ground.V, int(c), r.flow.Ground.W))
	l, bit := r.planeOf(c)
	l.e, l.se, l.s, l.sw = l.e&^bit, l.se&^bit, l.s&^bit, l.sw&^bit
}

// planeOf returns the place in r.plane of what is noted of cell c, and its bit.
func (r *Router) planeOf(c int32) (*lower, uint64) {
	y := int(c) / r.flow.Fall.W
	x := int(c) - y*r.flow.Fall.W
	return &r.plane[y*r.words+x/64], 1 << (x % 64)
}

// ringOf returns what is noted of cell c.
func (r *Router) ringOf(c int32) lower {
	l, bit := r.planeOf(c)
	return lower{l.e & bit, l.se & bit, l.s & bit, l.sw & bit}
}

// findPassesAgain is findPasses for the strips that are due, those where an opened
// flat has changed and, as a cell's order to those above is noted there, the
// strips below them.
func (r *Router) findPassesAgain(ctx context.Context) error {
	take := func(i int32) {
		if int(i) < len(r.strips) && !slices.Contains(r.due, i) {
			r.due = append(r.due, i)
		}
	}
	for _, o := range r.opened {
		if r.flow.Fall.V[o.cell] != o.fall || r.ringOf(o.cell) != o.ring {
			take(int32(int(o.cell) / r.flow.Fall.W / r.strips[0].hi))
		}
	}
	for _, i := range slices.Clone(r.due) {
		take(i + 1)
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
		s.way, s.hang, s.grown = resize(s.way, len(ways)), resize(s.hang, len(ways)), false
		copy(s.way, ways)
		copy(s.hang, hang)
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
			for c+64 <= to && *(*[64]grid.Dir)(dir[c:]) == *(*[64]grid.Dir)(before[c:]) {
				c += 64
			}
			if c < to && dir[c] != before[c] {
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
	if changed > 64+len(dir)/64 {
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
