package flow

import (
	"runnel/geo/grid"
	"runnel/geo/scratch"
)

// On a ground larger than memory everything that has an entry a cell or a basin
// lies in a space on disk. The work is the same; whoever is done with a strip lets
// go of what memory holds, so that memory holds a strip a worker at most.

// largeStrip is about how many cells a strip then has: more than else, so that
// fewer passes are left to join the strips by.
const largeStrip = 1 << 22

// makeRoom makes room for the answer on a ground.
func (r *Router) makeRoom(f grid.Frame, s *scratch.Space) error {
	r.space = s
	r.flow = Flow{Space: s}
	r.words = (f.W + 63) / 64
	r.plane, r.waiting, r.hang, r.tree, r.lake = nil, nil, nil, forest{}, flat{} // of another space
	for _, err := range []error{
		room(s, f, &r.flow.Filled), room(s, f, &r.flow.Fall), room(s, f, &r.flow.Dir), room(s, f, &r.flow.Cells),
		fit(s, &r.plane, r.words*f.H),
	} {
		if err != nil {
			return err
		}
	}
	if r.wide = r.wide || f.Len() > countMask; r.wide {
		return fit(s, &r.waiting, f.Len())
	}
	return nil
}

// room makes g a grid on f.
func room[T any](s *scratch.Space, f grid.Frame, g *grid.Grid[T]) (err error) {
	g.Frame = f
	g.V, err = scratch.Make[T](s, f.Len())
	return err
}

// fit makes list n elements long, of any value.
func fit[T any](s *scratch.Space, list *[]T, n int) (err error) {
	if s == nil || cap(*list) >= n {
		*list = resize(*list, n)
		return nil
	}
	*list, err = scratch.Make[T](s, n)
	return err
}

// acrossStrips makes r.lake ready for more and more rows around cell c, until it
// is enough for what is done with it.
func (r *Router) acrossStrips(c int32, done func() bool) error {
	w, h := r.flow.Fall.W, r.flow.Fall.H
	for y, rows := int(c)/w, r.strips[0].hi; ; rows *= 2 {
		if r.space != nil {
			rows = h // once and for all, as a space gives nothing back
		}
		from, to := max(y-rows, 0)*w, min(y+rows+1, h)*w
		if err := fit(r.space, &r.lake.place, to-from); err != nil {
			return err
		}
		r.lake.over(from, to)
		if done() {
			return nil
		}
		r.lake.forget()
	}
}
