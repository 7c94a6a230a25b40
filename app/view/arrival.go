package view

import (
	"context"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// Arrivals are shapes that may come into the site, laid over its map so that a person
// sees where they lie: features as their kinds look, with a bright edge, and in thin
// outline what is left out as yet. They are never changed once made.
type Arrivals struct {
	painted  [][]drawn
	outlines []arrival
}

// An arrival is a shape and the ground that it covers.
type arrival struct {
	shape orb.Geometry
	bound orb.Bound
	taken bool
}

// NewArrivals takes what is to come in and what is left out.
func NewArrivals(features []plan.Feature, left []orb.Geometry) *Arrivals {
	a := &Arrivals{painted: make([][]drawn, len(painters))}
	of := map[plan.Kind][]int{}
	for i, p := range painters {
		for _, kind := range p.kinds {
			of[kind] = append(of[kind], i)
		}
	}
	for _, f := range features {
		if !drawable(f) {
			continue
		}
		d := drawn{Feature: f, bound: f.Geometry.Bound(), beyond: min(f.Width(), widest)}
		for _, i := range of[f.Kind] {
			a.painted[i] = append(a.painted[i], d)
		}
		a.outlines = append(a.outlines, arrival{f.Geometry, d.bound, true})
	}
	for _, shape := range left {
		a.outlines = append(a.outlines, arrival{shape, shape.Bound(), false})
	}
	return a
}

// drawArrivals draws them from the ground up, then their edges; nil is none.
func (k *canvas) drawArrivals(ctx context.Context, a *Arrivals) error {
	if a == nil {
		return nil
	}
	for turn := covers; turn <= marks; turn++ {
		if err := k.drawStage(ctx, &plate{painted: a.painted}, turn); err != nil {
			return err
		}
	}
	for _, taken := range []bool{false, true} {
		if err := k.outlineArrivals(ctx, a, taken); err != nil {
			return err
		}
	}
	return nil
}

// arrivalPens draw the edges of what comes in, or of what does not, each over a wider
// light one that lifts it off what is dark.
func (k *canvas) arrivalPens(taken bool) [2]Pen {
	light := Pen{Colour: faint(k.look.Paper, 0.8), Width: 4 * k.px}
	if taken {
		return [2]Pen{light, {Colour: k.look.Accent, Width: 1.8 * k.px}}
	}
	return [2]Pen{light, {Colour: k.look.Ink, Width: 1.2 * k.px, Dash: []float64{4 * k.px, 3 * k.px}}}
}

func (k *canvas) outlineArrivals(ctx context.Context, a *Arrivals, taken bool) error {
	var seen []orb.Geometry
	for i, o := range a.outlines {
		if i%4096 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if o.taken == taken && k.sees(o.bound, farthest*k.px) {
			seen = append(seen, o.shape)
		}
	}
	for _, pen := range k.arrivalPens(taken) {
		for i, shape := range seen {
			if i%1024 == 0 && ctx.Err() != nil {
				return ctx.Err()
			}
			k.outlineOf(shape, pen)
		}
		k.ink(pen.Colour)
	}
	return nil
}

// outlineOf merges the edge of a shape: of a point a ring.
func (k *canvas) outlineOf(shape orb.Geometry, pen Pen) {
	switch shape := shape.(type) {
	case orb.Point:
		pen.Dash = nil
		k.stroke(closed(circle(k.point(shape), 5*k.px)), pen, add)
	case orb.Polygon:
		for _, ring := range k.rings(shape) {
			k.stroke(closed(ring), pen, add)
		}
	case orb.LineString:
		k.stroke(k.line(shape), pen, add)
	}
}
