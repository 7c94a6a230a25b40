package flow

import (
	"context"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"runnel/geo/grid"
)

// stripRows is how many rows a worker takes at a time, fewer where that is more
// than stripCells: what is worked on then stays near the processor, and few
// streams cross from strip to strip.
const (
	stripRows  = 128
	stripCells = 1 << 20
)

// A strip is a band of whole rows, [lo, hi), that is worked by itself: what it
// needs of others is their heights, directions and orders in the rows next to it.
type strip struct {
	lo, hi int
	base   int32   // the number of its first basin
	pit    []int32 // its pits, ascending
	level  []int32 // its level cells, ascending
	cross  []int32 // first cells of flats that leave the strip
	floor  []int32 // basins whose floor leaves the strip
	// first and last tell where the water of each cell of the first and the last
	// row ends, as place does.
	first, last []int32
	pass        []pass // passes that only the whole ground can tell the use of
	firstPass   int    // the position of the first of them among all
	seed        []seed // lakes that reach in from next door

	// What Update needs of the last answer: the ways and what the basins hang from,
	// as growStrip leaves them, and the cells that drain another way than before.
	way     []Way
	hang    []int32
	grown   bool // whether growStrip has set the ways since they were kept
	changed []int32
	filled  []float32 // the level of each basin
	fault   int32     // a cell of infinite height, -1 for none
}

// A desk is what one worker works on.
type desk struct {
	vectors vectors
	keys    keys
	flat    flat
	ways    ways
	span    span
	lake    []stretch
	count   count
}

// staff returns how many desks there are to be.
func (r *Router) staff(workers int) int {
	if workers <= 0 {
		workers = r.workers
	}
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	return min(workers, len(r.strips))
}

// cut lays out the strips.
func (r *Router) cut() {
	rows := r.rows
	if rows == 0 {
		rows = min(stripRows, max(16, stripCells/r.flow.Fall.W))
	}
	h := r.flow.Fall.H
	if r.rows == 0 && r.space != nil {
		rows = min(2*stripRows, max(1, largeStrip/r.flow.Fall.W))
	}
	r.strips = make([]strip, (h+rows-1)/rows)
	for i := range r.strips {
		r.strips[i] = strip{lo: i * rows, hi: min((i+1)*rows, h)}
	}
	tall := 3 * r.rows
	if tall == 0 {
		tall = (h + bands - 1) / bands
	}
	if r.space != nil {
		tall = rows
	}
	r.bands = make([]band, (h+tall-1)/tall)
	for i := range r.bands {
		r.bands[i] = band{lo: i * tall, hi: min((i+1)*tall, h)}
	}
}

// each calls f once with each strip, on every desk at a time, and returns the
// context's error if it ended first.
func (r *Router) each(ctx context.Context, f func(s *strip, d *desk)) error {
	return each(ctx, r.strips, r.desks, func(s *strip, d *desk) {
		f(s, d)
		r.space.Release()
	})
}

// eachDue is each for the strips that are due.
func (r *Router) eachDue(ctx context.Context, f func(s *strip, d *desk)) error {
	return each(ctx, r.due, r.desks, func(i *int32, d *desk) {
		f(&r.strips[*i], d)
		r.space.Release()
	})
}

// each calls f once with each part of a work, from one worker a desk, and returns
// the context's error if it ended first.
func each[P, D any](ctx context.Context, parts []P, desks []D, f func(part *P, d *D)) error {
	var next atomic.Int64
	work := func(d *D) {
		for ctx.Err() == nil {
			i := int(next.Add(1)) - 1
			if i >= len(parts) {
				return
			}
			f(&parts[i], d)
		}
	}
	var others sync.WaitGroup
	for i := range desks[1:] {
		others.Go(func() { work(&desks[i+1]) })
	}
	work(&desks[0])
	others.Wait()
	return ctx.Err()
}

// stripAt returns the strip that holds row y, nil for none.
func (r *Router) stripAt(y int) *strip {
	if y < 0 || y >= r.flow.Fall.H {
		return nil
	}
	return &r.strips[y/(r.strips[0].hi-r.strips[0].lo)]
}

// cells returns the indexes [from, to) of the strip's cells.
func (r *Router) cells(s *strip) (from, to int) { return s.lo * r.flow.Fall.W, s.hi * r.flow.Fall.W }

// setInlets sorts the inlets, and leaves out those at no data.
func (r *Router) setInlets(ground grid.Ground, cells []int32) {
	r.inlet = append(r.inlet[:0], cells...)
	slices.Sort(r.inlet)
	r.inlet = slices.DeleteFunc(r.inlet, func(c int32) bool { return grid.IsNoData(ground.V[c]) })
}

// isInlet reports whether c is an inlet.
func (r *Router) isInlet(c int32) bool {
	if len(r.inlet) == 0 {
		return false
	}
	_, found := slices.BinarySearch(r.inlet, c)
	return found
}

// inlets returns the inlets among cells [from, to).
func (r *Router) inlets(from, to int) []int32 {
	lo, _ := slices.BinarySearch(r.inlet, int32(from))
	hi, _ := slices.BinarySearch(r.inlet, int32(min(to, math.MaxInt32)))
	return r.inlet[lo:hi]
}
