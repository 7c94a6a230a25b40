package view

import (
	"context"
	"reflect"
	"slices"

	"runnel/analysis/flow"
	"runnel/analysis/runoff"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Drainage is where the water of a ground goes. It is not changed once made.
type Drainage struct {
	// Ground is that which is shown; Surface is what the rain meets, with what stops
	// water on it and carries it.
	Ground  grid.Ground
	Surface *runoff.Surface
	Flow    *flow.Flow

	// reaches are its paths as they are drawn.
	reaches []reach
}

// NewDrainage works out where the water of a site goes on a ground, which is the
// site's own or the one that a scheme proposes.
func NewDrainage(ctx context.Context, s *plan.Site, ground grid.Ground) (*Drainage, error) {
	return drainageBy(ctx, nil, s, ground)
}

func drainageBy(ctx context.Context, r *Routes, s *plan.Site, ground grid.Ground) (*Drainage, error) {
	surface, err := runoff.Of(ctx, s, ground)
	if err != nil {
		return nil, err
	}
	d := &Drainage{Ground: ground, Surface: surface}
	if d.Flow, err = r.route(ctx, surface.Ground, surface.Inlets()); err != nil {
		return nil, err
	}
	d.carry()
	d.reaches, err = reaches(ctx, d.Flow.Cells, d.Flow.Dir)
	return d, err
}

// waterKinds are what the water of a site meets besides its ground.
var waterKinds = []plan.Kind{
	plan.Roof, plan.Downpipe, plan.Paving, plan.Cover, plan.Drain, plan.Inlet, plan.Kerb, plan.Wall, plan.Culvert,
}

// sameWater reports whether all that water meets, but the ground that is shown, is
// the same on two sites.
func sameWater(a, b *plan.Site) bool {
	if a.Setting.Cover != b.Setting.Cover || !sameHeights(a.Ground, b.Ground) {
		return false
	}
	met := func(s *plan.Site) (all []plan.Feature) {
		for _, f := range s.Plan.Features {
			if slices.Contains(waterKinds, f.Kind) {
				all = append(all, f)
			}
		}
		return all
	}
	return reflect.DeepEqual(met(a), met(b))
}

// carry counts what culverts carry to their outlets in the cells below: water
// that leaves one cell for another without running over those between.
func (d *Drainage) carry() {
	cells := d.Flow.Cells.V
	brought := make([]uint32, len(d.Surface.Links))
	for i, l := range d.Surface.Links {
		brought[i] = cells[l.From]
	}
	for i := range d.Surface.Links {
		for _, leg := range d.onward(i) {
			for _, c := range leg {
				cells[c] += brought[i]
			}
		}
	}
}

// onward returns the cells that water runs through once it has left the inlet of a
// link: a leg for each culvert on its way. Culverts that lead in a ring are passed
// once.
func (d *Drainage) onward(link int) (legs [][]int32) {
	for passed := map[int]bool{}; link >= 0 && !passed[link]; {
		passed[link] = true
		to := d.Surface.Links[link].To
		if to < 0 {
			break
		}
		leg := flow.Trace(d.Flow.Dir, int(to)%d.Flow.Dir.W, int(to)/d.Flow.Dir.W)
		if len(leg) == 0 {
			break
		}
		legs = append(legs, leg)
		link = d.linkAt(leg[len(leg)-1])
	}
	return legs
}

// linkAt returns the link that takes the water of a cell, or -1. Where several
// begin it is the first.
func (d *Drainage) linkAt(cell int32) int {
	for i, l := range d.Surface.Links {
		if l.From == cell {
			return i
		}
	}
	return -1
}

// Catchment marks the cells that drain through cell (x, y), itself included, over
// the ground and through culverts.
func (d *Drainage) Catchment(x, y int) grid.Grid[bool] {
	all := flow.Catchment(d.Flow.Dir, x, y)
	for grown := true; grown; {
		grown = false
		for _, l := range d.Surface.Links {
			if l.To < 0 || !all.V[l.To] || all.V[l.From] {
				continue
			}
			grown = true
			for i, in := range flow.Catchment(d.Flow.Dir, int(l.From)%all.W, int(l.From)/all.W).V {
				all.V[i] = all.V[i] || in
			}
		}
	}
	return all
}
