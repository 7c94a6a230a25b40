package flow

import (
	"context"
	"slices"

	"runnel/geo/grid"
)

// crossFlats points the level cells of each strip, and then those of the flats
// that lie in several, and lists the pits.
func (r *Router) crossFlats(ctx context.Context) error {
	if err := r.eachDue(ctx, r.crossStrip); err != nil {
		return err
	}
	var first []int32 // of each flat, with others of its cells
	for _, i := range r.due {
		first = append(first, r.strips[i].cross...)
	}
	for _, o := range r.opened {
		first = append(first, o.cell)
	}
	slices.Sort(first)
	var grown []*strip
	for i, c := range first {
		if i%1024 == 0 {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			r.space.Release()
		}
		if r.flow.Fall.V[c] != unsettled {
			continue
		}
		if err := r.acrossStrips(c, func() bool { return r.crossFlat(&r.lake, c) }); err != nil {
			return err
		}
		if s := r.stripAt(int(c) / r.flow.Fall.W); r.flow.Fall.V[c] == grid.Stay {
			s.pit = append(s.pit, c)
			grown = append(grown, s)
		}
	}
	for _, s := range slices.Compact(grown) {
		slices.Sort(s.pit)
	}
	return nil
}

func (r *Router) crossStrip(s *strip, d *desk) {
	from, to := r.cells(s)
	d.flat.over(from, to)
	dir := r.flow.Fall.V
	single := len(s.pit)
	s.cross = s.cross[:0]
	for _, c := range s.level {
		if dir[c] != unsettled || d.flat.place[int(c)-from] != 0 {
			continue
		}
		if !r.crossFlat(&d.flat, c) {
			s.cross = append(s.cross, c)
		} else if dir[c] == grid.Stay {
			s.pit = append(s.pit, c)
		}
	}
	d.flat.forget()
	if len(s.pit) > single {
		slices.Sort(s.pit)
	}
}

// crossFlat points the cells of the flat that holds the level cell first, and
// notes in r.plane how its cells lie to each other. A flat with no way out is a
// pit: its water makes for first. It reports false, and leaves the flat aside,
// where f does not cover all of it.
func (r *Router) crossFlat(f *flat, first int32) bool {
	f.floor = 0
	if !r.gather(f, first) {
		for _, c := range f.cells {
			f.place[int(c)-f.base] = -1
		}
		f.aside = append(f.aside, f.cells...)
		return false
	}
	switch {
	case len(f.cells) == 1: // as every other flat is; all around it are ways out
		r.flow.Fall.V[first], f.near[0] = r.nearest[f.exit[0]], f.exit[0]
	case len(f.gate) > 0:
		r.spread(f, f.gate, &f.toward)
		r.superpose(f)
		r.follow(f, r.flow.Fall.V)
	default:
		f.gate = append(f.gate, 0)
		r.spread(f, f.gate, &f.toward)
		for i := range f.toward {
			f.toward[i]--
		}
		r.follow(f, r.flow.Fall.V)
		r.flow.Fall.V[first] = grid.Stay
	}
	r.orderFlat(f)
	f.clear()
	return true
}
