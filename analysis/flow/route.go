package flow

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"runnel/geo/grid"
	"runnel/geo/scratch"
)

// poll is how many cells a serial pass takes between looks at its context.
const poll = 1 << 16

// unsettled marks, while directions are being found, a level cell.
const unsettled grid.Dir = 254

// stripRows is how many rows a worker takes at a time. What is worked on then
// stays near the processor, and few streams cross from strip to strip.
const stripRows = 128

// Route finds where the water of a ground goes.
func Route(ctx context.Context, ground grid.Ground, o Options) (*Flow, error) {
	return new(Router).Route(ctx, ground, o)
}

// A Router routes one ground after another in the same memory. The zero Router
// is ready. A Router must not be used by two goroutines at a time.
type Router struct {
	flow     Flow
	inlet    []int32 // in ascending order
	offset   [8]int  // to a neighbour's index
	perMetre [8]float64
	strips   []strip
	bands    []band
	desks    []desk // one a worker
	holed    []bool // whether a row has cells of no data
	plane    []lower
	words    int // how many of plane make a row
	hang     []int32
	tree     forest
	passes   []pass
	order    []uint64
	spare    []uint64
	lake     flat // flats that cross strips

	due    []int32             // the strips that are to be worked on
	last   Options             // of the last Route
	ready  bool                // whether the answer is whole
	before grid.Grid[grid.Dir] // Dir before the last Update
	marked []uint64            // cells that Update counts again, a bit each; none between times

	space         *scratch.Space
	waiting       []uint8 // see carryOnWide
	wide          bool
	rows, workers int // 0 for the usual
}

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
	seed        []seed // lakes that reach in from next door

	// What Update needs of the last answer: the ways and what the basins hang from,
	// as growStrip leaves them, and the cells that drain another way than before.
	way     []Way
	hang    []int32
	grown   bool // whether growStrip has set the ways since they were kept
	changed []int32
	fault   int32 // a cell of infinite height, -1 for none
}

// A desk is what one worker works on.
type desk struct {
	keys  keys
	flat  flat
	ways  ways
	span  span
	lake  []stretch
	count count
}

// Route routes a ground. The Flow it returns holds until the next call.
func (r *Router) Route(ctx context.Context, ground grid.Ground, o Options) (*Flow, error) {
	if err := r.prepare(ground, o); err != nil {
		return nil, fmt.Errorf("find the ways of the water: %w", err)
	}
	r.due = r.due[:0]
	for i := range r.strips {
		r.due = append(r.due, int32(i))
	}
	r.last = o
	r.last.Inlets = slices.Clone(o.Inlets)
	return r.run(ctx, []stage{
		{"fall", 0.3, r.fall}, {"flats", 0.4, r.crossFlats}, {"passes", 0.6, r.findPasses}, {"tree", 0.65, r.growTree},
		{"fill", 0.75, r.fill}, {"carve", 0.8, r.carve}, {"count", 1, r.count},
	})
}

// A stage is a part of the work, with the share of it all that is done after it.
type stage struct {
	name  string
	share float64
	run   func(ctx context.Context) error
}

// run does the stages of the work one after another.
func (r *Router) run(ctx context.Context, stages []stage) (*Flow, error) {
	o := &r.last
	r.ready = false
	for _, stage := range stages {
		start := time.Now()
		if err := stage.run(ctx); err != nil {
			return nil, err
		}
		r.space.Release()
		if o.Stage != nil {
			o.Stage(stage.name, time.Since(start).Seconds())
		}
		if o.Progress != nil {
			o.Progress(stage.share)
		}
	}
	r.ready = true
	return &r.flow, nil
}

// prepare checks what is given and makes room for the answer.
func (r *Router) prepare(ground grid.Ground, o Options) error {
	if err := check(ground, o.Space); err != nil {
		return err
	}
	for _, c := range o.Inlets {
		if c < 0 || int(c) >= ground.Len() {
			return fmt.Errorf("inlet %d is no cell of the ground; give the index of a cell on it", c)
		}
	}
	r.setInlets(ground, o.Inlets)
	if old := r.flow.Ground.Frame; old != ground.Frame || r.space != o.Space {
		if err := r.makeRoom(ground.Frame, o.Space); err != nil {
			return err
		}
		r.offset = ground.StepOffsets()
		for d, length := range ground.StepLengths() {
			r.perMetre[d] = 1 / length
		}
		r.holed = make([]bool, ground.H)
		r.cut()
	}
	if n := r.staff(o.Workers); n != len(r.desks) {
		r.desks = make([]desk, n)
	}
	r.flow.Ground = ground
	return nil
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
		rows = stripRows
	}
	h := r.flow.Fall.H
	if r.rows == 0 && r.space != nil {
		rows = min(bandRows, max(1, largeStrip/r.flow.Fall.W))
	}
	r.strips = make([]strip, (h+rows-1)/rows)
	for i := range r.strips {
		r.strips[i] = strip{lo: i * rows, hi: min((i+1)*rows, h)}
	}
	tall := r.rows
	if tall == 0 {
		tall = min(bandRows, max(1, h/4))
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

// check reports a ground that water cannot be routed over.
func check(ground grid.Ground, s *scratch.Space) error {
	fits := ground.Check
	if s != nil {
		fits = ground.CheckLarge
	}
	if err := fits(); err != nil {
		return err
	}
	if len(ground.V) != ground.Len() {
		return fmt.Errorf("the grid of %d by %d cells holds %d heights; it needs one a cell", ground.W, ground.H, len(ground.V))
	}
	for _, z := range ground.V {
		if !grid.IsNoData(z) {
			return nil
		}
	}
	return errors.New("no cell of the ground has a height; choose a ground that covers the site")
}
