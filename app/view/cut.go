package view

import (
	"context"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// leastCut is the depth [m] from which a cut is drawn; less is within what a
// survey can tell.
const leastCut = 0.015

// newCut returns how far the proposed ground lies below the ground; it is empty
// where nothing is dug.
func newCut(ground, proposed grid.Ground) pond {
	if ground.Frame != proposed.Frame || ground.Len() == 0 || &ground.V[0] == &proposed.V[0] {
		return pond{}
	}
	w := windowOf(ground.Frame, func(y int, mark func(x int)) {
		is := proposed.Row(y)
		for x, z := range ground.Row(y) {
			if z-is[x] > leastCut {
				mark(x)
			}
		}
	})
	dug := grid.New[float32](w.frame)
	p := pond{depth: grid.New[float32](w.frame)}
	eachRow(dug.H, func(y int) {
		was, is := ground.Row(w.y + y)[w.x:], proposed.Row(w.y + y)[w.x:]
		deep := p.depth.Row(y)
		for x := range deep {
			depth := was[x] - is[x]
			dug.Set(x, y, depth)
			if depth > leastCut {
				deep[x] = depth
			}
		}
	})
	p.findRuns()
	p.eachRun(func(y int, r cellRun) {
		for x := r.lo; x < r.hi; x++ {
			if !(dug.At(x, y) > leastCut) {
				p.depth.Set(x, y, beyond(dug, x, y))
			}
		}
	})
	p.bind()
	return p
}

// beyond continues the banks of a cut over a cell beside it, straight on from
// the two cells before, so that the line along which the bank meets the ground
// is found between cells.
func beyond(dug grid.Ground, x, y int) float32 {
	var sum, n float32
	for d := range grid.StepX {
		x1, y1 := x+grid.StepX[d], y+grid.StepY[d]
		x2, y2 := x1+grid.StepX[d], y1+grid.StepY[d]
		if !dug.In(x2, y2) {
			continue
		}
		if near, far := dug.At(x1, y1), dug.At(x2, y2); near > leastCut && far > near {
			sum, n = sum+2*near-far, n+1
		}
	}
	if n == 0 {
		return -leastCut
	}
	return min(sum/n, -0.001)
}

// drawCut tints what is dug and draws the line along which digging starts.
func (k *canvas) drawCut(ctx context.Context, p pond) error {
	s := k.look.Kinds[plan.Channel]
	return k.drawPond(ctx, p, Pond{Shallow: s.Body, Middle: s.Body, Deep: s.Body, Shore: s.Edge})
}
