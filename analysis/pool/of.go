package pool

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/analysis/soil"
	"runnel/geo/plan"
)

// Soils tells of the soil of a site at a place from a depth below the ground down [m].
type Soils interface {
	At(p orb.Point, depth float64) soil.Soil
}

// A Set is the pools of a scheme.
type Set struct {
	// Pools are those of the channels, in the order in which they are drawn, then the drains.
	Pools []Pool
	// Withheld say which waters are not among Pools, and why: they hold nothing, stand dry, or
	// have groundwater in their bed. What rests on all water of the scheme is not known then.
	Withheld []channel.Problem
	// Problems say what was left out though its water is told of, such as a soil test that
	// cannot be read; Notes what was taken together, or is known no better.
	Problems []channel.Problem
	Notes    []string
}

// finestPool and coarsestPool are how far apart transects are [m], stepAcross how finely
// each is followed; a scheme has about mostTransects.
const (
	finestPool    = 0.25
	coarsestPool  = 1.0
	stepAcross    = 0.3
	mostTransects = 100
)

// Of takes the water of a network apart into pools.
//
// Curves are made of what channel.Measure integrates: transects cast once with every water
// at its brim, and read at all levels. They leave out holes that are less than a
// two-hundredth of the surface. Between stages they are off by a thousandth of the
// figures at the brim at most, or have mostStages stages. A pool's Running level is the one
// at which it touches as much soil as channel.Measure says of it in use.
//
// A sill, or the saddle between two cuts, below all other ways out of the lower water
// makes one pool of the two.
func Of(ctx context.Context, s *plan.Site, n *channel.Network, soils Soils) (Set, error) {
	w := worker{ctx: ctx, site: s, network: n, soils: soils}
	w.features = map[plan.ID]plan.Feature{}
	for _, f := range n.Features() {
		w.features[f.ID] = f
	}
	w.bodies, w.passes = n.Bodies()
	if err := w.cast(); err != nil {
		return Set{}, err
	}
	w.draughts()
	w.feed()
	w.channels()
	w.drains()
	w.tests()
	return w.set, nil
}

// channels adds the pools of channels, and leads each outlet to the pool that it passes
// to, if that is not withheld.
func (w *worker) channels() {
	number := map[int]int{}
	for i := range w.drafts {
		if p, ok := w.pool(&w.drafts[i]); ok {
			number[i] = len(w.set.Pools)
			w.set.Pools = append(w.set.Pools, p)
		}
	}
	for i := range w.set.Pools {
		for k := range w.set.Pools[i].Outlets {
			if o := &w.set.Pools[i].Outlets[k]; o.To >= 0 {
				to, ok := number[o.To]
				if !ok {
					to = -1
				}
				o.To = to
			}
		}
	}
}

// A worker takes one network apart.
type worker struct {
	ctx      context.Context
	site     *plan.Site
	network  *channel.Network
	soils    Soils
	features map[plan.ID]plan.Feature
	bodies   []channel.Body
	passes   []channel.Pass
	// stretches and strips are all, parts the strips of each body, ofDrain those of each drain; use is the
	// contact area of each body in use [m²].
	stretches []channel.Stretch
	parts     [][]channel.Strip
	ofDrain   map[plan.ID][]channel.Strip
	use       []float64
	drafts    []draft
	set       Set
}

func (w *worker) withhold(id plan.ID, place orb.Point, format string, args ...any) {
	w.set.Withheld = append(w.set.Withheld, channel.Problem{ID: id, At: place, Err: fmt.Errorf(format, args...)})
}

func (w *worker) problem(id plan.ID, place orb.Point, format string, args ...any) {
	w.set.Problems = append(w.set.Problems, channel.Problem{ID: id, At: place, Err: fmt.Errorf(format, args...)})
}

func (w *worker) note(format string, args ...any) {
	w.set.Notes = append(w.set.Notes, fmt.Sprintf(format, args...))
}

// cast takes the soil under the water of all bodies at their brims.
func (w *worker) cast() error {
	tops, length := make([]float64, len(w.bodies)), 0.0
	for i := range w.bodies {
		b := &w.bodies[i]
		tops[i] = topOf(b)
		for _, p := range b.Parts {
			length += p.To - p.From
		}
	}
	step := channel.Step{Along: max(finestPool, min(coarsestPool, length/mostTransects)), Across: stepAcross}
	stretches, strips, err := w.network.Strips(w.ctx, tops, step)
	if err != nil {
		return err
	}
	w.stretches, w.parts, w.ofDrain = stretches, make([][]channel.Strip, len(w.bodies)), map[plan.ID][]channel.Strip{}
	w.sort(strips)
	w.use = make([]float64, len(w.bodies))
	for i := range w.bodies {
		w.use[i] = at(w.parts[i], w.bodies[i].Level).Contact
	}
	return w.castRunning(step)
}

// sort shares strips out among bodies and drains: those of one stretch after another's
// lie together for the most part, and are not copied where they do.
func (w *worker) sort(strips []channel.Strip) {
	for from := 0; from < len(strips); {
		t := &w.stretches[strips[from].Of]
		to := from + 1
		for to < len(strips) && w.stretches[strips[to].Of].Body == t.Body && w.stretches[strips[to].Of].ID == t.ID {
			to++
		}
		switch run := strips[from:to:to]; {
		case t.Body >= 0:
			w.parts[t.Body] = together(w.parts[t.Body], run)
		case w.features[t.ID].Kind == plan.Drain:
			w.ofDrain[t.ID] = together(w.ofDrain[t.ID], run)
		}
		from = to
	}
}

// together returns a list with more behind it.
func together(list, more []channel.Strip) []channel.Strip {
	if len(list) == 0 {
		return more
	}
	return append(list, more...)
}

// castRunning measures the water that runs.
func (w *worker) castRunning(step channel.Step) error {
	runs := make([]bool, len(w.bodies))
	for i := range w.bodies {
		runs[i] = slices.ContainsFunc(w.bodies[i].Parts, func(p channel.Part) bool { return w.network.Runs(p.ID) })
	}
	if !slices.Contains(runs, true) {
		return nil
	}
	stretches, strips, err := w.network.Strips(w.ctx, nil, step)
	if err != nil {
		return err
	}
	for i := range w.use {
		if runs[i] {
			w.use[i] = 0
		}
	}
	for i := range strips {
		if k := stretches[strips[i].Of].Body; k >= 0 && runs[k] {
			w.use[k] += strips[i].Contact()
		}
	}
	return nil
}

// topOf returns the level up to which a body is followed [m]: its brim, or where that
// is not known the highest level that is known of it.
func topOf(b *channel.Body) float64 {
	if !math.IsInf(b.Brim.Level, 1) {
		return b.Brim.Level
	}
	top := b.Level
	for _, s := range b.Spillways {
		top = max(top, s.Crest)
	}
	return top
}
