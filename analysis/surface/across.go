package surface

import (
	"context"
	"fmt"

	"runnel/geo/grid"
)

const (
	// brim is how many cells around a hole hold the surface across it: two give its
	// rim height and slope.
	brim = 2
	// clamp is how much stiffer they are than the surface.
	clamp = 1e4
)

// Across returns g with the cells of hole, each group of them by itself, on the
// surface of least curvature [Briggs1974] that goes on from the known cells around
// it. A group with none around it keeps what it has. g is not changed.
func Across(ctx context.Context, g grid.Ground, hole []bool) (grid.Ground, error) {
	if len(hole) != g.Len() {
		return grid.Ground{}, fmt.Errorf("the hole is marked on %d cells and the ground has %d; mark it on the same grid", len(hole), g.Len())
	}
	out := g.Clone()
	seen := make([]bool, len(hole))
	for at := range hole {
		if !hole[at] || seen[at] {
			continue
		}
		group := gather(g.Frame, hole, seen, at)
		if err := across(ctx, g, out, hole, group); err != nil {
			return grid.Ground{}, err
		}
	}
	return out, ctx.Err()
}

// gather marks as seen and returns the cells of hole that hang together with one.
func gather(f grid.Frame, hole, seen []bool, at int) []int {
	group := []int{at}
	seen[at] = true
	for i := 0; i < len(group); i++ {
		x, y := group[i]%f.W, group[i]/f.W
		for d := range 8 {
			nx, ny := x+grid.StepX[d], y+grid.StepY[d]
			if n := ny*f.W + nx; f.In(nx, ny) && hole[n] && !seen[n] {
				seen[n] = true
				group = append(group, n)
			}
		}
	}
	return group
}

// across sets the cells of one group in out.
func across(ctx context.Context, g, out grid.Ground, hole []bool, group []int) error {
	x0, y0, x1, y1 := g.W, g.H, 0, 0
	for _, at := range group {
		x0, x1 = min(x0, at%g.W), max(x1, at%g.W)
		y0, y1 = min(y0, at/g.W), max(y1, at/g.W)
	}
	x0, y0, x1, y1 = max(x0-brim, 0), max(y0-brim, 0), min(x1+brim, g.W-1), min(y1+brim, g.H-1)
	p := &problem{w: max(x1-x0+1, least), h: max(y1-y0+1, least), dx: 1, dy: g.DY / g.DX, spacing: 1, scale: 1}
	taken := make([]bool, p.w*p.h)
	for _, at := range group {
		cx, cy := at%g.W, at/g.W
		for y := max(cy-brim, 0); y <= min(cy+brim, g.H-1); y++ {
			for x := max(cx-brim, 0); x <= min(cx+brim, g.W-1); x++ {
				n, own := y*g.W+x, (y-y0)*p.w+x-x0
				if hole[n] || grid.IsNoData(g.V[n]) || taken[own] {
					continue
				}
				taken[own] = true
				p.pins = append(p.pins, pin{x: float64(x - x0), y: float64(y - y0), z: float64(g.V[n]), w: clamp})
			}
		}
	}
	if len(p.pins) == 0 {
		return nil
	}
	p.level()
	u := p.solve(ctx, 0, func(float64) {})
	if u == nil {
		return ctx.Err()
	}
	for _, at := range group {
		out.V[at] = float32(u[(at/g.W-y0)*p.w+at%g.W-x0] + p.datum)
	}
	return nil
}
