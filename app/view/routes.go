package view

import (
	"context"
	"math"
	"slices"

	"runnel/analysis/flow"
	"runnel/geo/grid"
)

// Routes remembers how the last ground was routed, so that one that differs from it
// in a few rows, as while a channel is dragged, is routed in a third of the time. The
// zero Routes is ready. It is used by one goroutine at a time.
type Routes struct {
	router flow.Router
	last   grid.Ground
	inlets []int32
}

// mostRemembered is how many cells a ground may have for its routing to be
// remembered: that takes some 25 bytes a cell.
const mostRemembered = 32 << 20

// route is flow.Route. A nil Routes remembers nothing.
func (r *Routes) route(ctx context.Context, ground grid.Ground, inlets []int32) (*flow.Flow, error) {
	if r == nil || ground.Len() > mostRemembered {
		f, err := flow.Route(ctx, ground, flow.Options{Inlets: inlets})
		if err != nil {
			return nil, err
		}
		own := *f // a copy lets go of what the routing worked with
		return &own, nil
	}
	f, err := r.next(ctx, ground, inlets)
	if err != nil {
		r.last = grid.Ground{}
		return nil, err
	}
	r.last, r.inlets = ground, inlets
	// The router goes on working in the memory of its answer.
	own := *f
	own.Filled, own.Fall, own.Dir, own.Cells = f.Filled.Clone(), f.Fall.Clone(), f.Dir.Clone(), f.Cells.Clone()
	own.Basins.Pit, own.Basins.Way = slices.Clone(f.Basins.Pit), slices.Clone(f.Basins.Way)
	return &own, nil
}

func (r *Routes) next(ctx context.Context, ground grid.Ground, inlets []int32) (*flow.Flow, error) {
	if slices.Equal(r.inlets, inlets) {
		if changed, ok := changedRows(r.last, ground); ok {
			return r.router.Update(ctx, ground, changed.lo, changed.hi)
		}
	}
	return r.router.Route(ctx, ground, flow.Options{Inlets: inlets})
}

// A band is rows of a grid, from lo up to before hi.
type band struct{ lo, hi int }

// changedRows returns the rows in which two grounds differ, from the first to the
// last; ok is false where they lie on different cells or differ over more than half
// of them.
func changedRows(was, is grid.Ground) (changed band, ok bool) {
	if was.Frame != is.Frame || len(was.V) != len(is.V) || len(is.V) == 0 {
		return band{}, false
	}
	differs := make([]bool, is.H)
	eachRow(is.H, func(y int) {
		row := is.Row(y)
		for x, z := range was.Row(y) {
			if math.Float32bits(z) != math.Float32bits(row[x]) {
				differs[y] = true
				return
			}
		}
	})
	changed.lo = max(slices.Index(differs, true), 0)
	for y, d := range differs {
		if d {
			changed.hi = y + 1
		}
	}
	return changed, changed.hi-changed.lo <= is.H/2
}

// sameHeights reports whether two grounds are one.
func sameHeights(a, b grid.Ground) bool {
	if a.Frame != b.Frame || len(a.V) != len(b.V) {
		return false
	}
	if len(a.V) == 0 || &a.V[0] == &b.V[0] {
		return true
	}
	for i, z := range a.V {
		if math.Float32bits(z) != math.Float32bits(b.V[i]) {
			return false
		}
	}
	return true
}
