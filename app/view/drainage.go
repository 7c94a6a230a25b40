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

// drainageBy works out where the water of a scene's site goes on its ground, which is
// the site's own or the one that a scheme proposes. A nil Routes remembers nothing;
// before is what the rain meets on a ground before, nil for none.
func drainageBy(ctx context.Context, r *Routes, s *Scene, before *runoff.Surface) (*Drainage, error) {
	surface, err := before.Next(ctx, s.Site, s.Ground)
	if err != nil {
		return nil, err
	}
	d := &Drainage{Ground: s.Ground, Surface: surface}
	if d.Flow, err = r.route(ctx, surface.Ground, surface.Inlets()); err != nil {
		return nil, err
	}
	surface.Carry(d.Flow)
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

// Catchment marks the cells that drain through cell (x, y), itself included, over
// the ground and through culverts.
func (d *Drainage) Catchment(x, y int) grid.Grid[bool] {
	all := flow.Catchment(d.Flow.Dir, x, y)
	for grown := true; grown; {
		grown = false
		for k, l := range d.Surface.Links {
			if l.To < 0 || !all.V[l.To] || all.V[l.From] || !d.Surface.Takes(k) {
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

// Runoff returns what runs off the marked cells for each metre of rain [m³].
func (d *Drainage) Runoff(region grid.Grid[bool]) float64 {
	sum := 0.0
	for c, in := range region.V {
		if in {
			sum += d.Surface.Weight[c]
		}
	}
	return sum * region.CellArea()
}
