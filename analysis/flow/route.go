package flow

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"runnel/geo/grid"
	"runnel/geo/scratch"
)

// poll is how many cells a serial pass takes between looks at its context.
const poll = 1 << 16

// unsettled marks, while directions are being found, a level cell.
const unsettled grid.Dir = 254

// Route finds where the water of a ground goes.
func Route(ctx context.Context, ground grid.Ground, o Options) (*Flow, error) {
	f, err := new(Router).Route(ctx, ground, o)
	if err != nil {
		return nil, err
	}
	own := *f // not held in the Router, which can go
	return &own, nil
}

// A Router routes one ground after another in the same memory. The zero Router
// is ready. A Router must not be used by two goroutines at a time.
type Router struct {
	flow     Flow
	inlet    []int32 // in ascending order
	offset   [8]int  // to a neighbour's index
	perMetre [8]float64
	nearest  [256]grid.Dir // the nearest, the first of equals, of a set of directions
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
	opened []opened            // cells of flats that Update has opened
	ready  bool                // whether the answer is whole
	before grid.Grid[grid.Dir] // Dir before the last Update
	marked []uint64            // cells that Update counts again, a bit each; none between times

	space         *scratch.Space
	waiting       []uint8 // see carryOnWide
	wide          bool
	rows, workers int // 0 for the usual
}

// Route routes a ground. The Flow it returns holds until the next call.
func (r *Router) Route(ctx context.Context, ground grid.Ground, o Options) (*Flow, error) {
	if err := r.prepare(ground, o); err != nil {
		return nil, fmt.Errorf("find the ways of the water: %w", err)
	}
	r.due, r.opened = r.due[:0], r.opened[:0]
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
		r.findNearest()
		r.holed = make([]bool, ground.H)
		r.cut()
	}
	if n := r.staff(o.Workers); n != len(r.desks) {
		r.desks = make([]desk, n)
	}
	r.flow.Ground = ground
	return nil
}

// findNearest finds the nearest neighbour of each set of them.
func (r *Router) findNearest() {
	for set := range r.nearest {
		best, nearest := grid.NoDir, 0.0
		for d, perMetre := range &r.perMetre {
			if set>>d&1 == 1 && perMetre > nearest {
				best, nearest = grid.Dir(d), perMetre
			}
		}
		r.nearest[set] = best
	}
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
