package surface

import (
	"context"
	"math"
)

// A ladder is the problem on ever coarser grids, the finest first.
type ladder struct {
	levels []*level
	ctx    context.Context
	// strain is the weight with which bounds draw what is beyond them.
	strain float32
	// close is how far past a bound a cell may stay [m].
	close float64
}

// sweeps is how often a cycle relaxes a level on its way down, and again up.
const sweeps = 2

// cycle sets levels[i].u to about the answer of its matrix for its b, by one
// V-cycle [Brandt1977]. It is linear and symmetric, as conjugate gradients need.
func (d *ladder) cycle(i int) {
	l := d.levels[i]
	if i == len(d.levels)-1 {
		copy(l.u, l.b)
		l.dense.solve(l.u)
		return
	}
	clear(l.u)
	for range sweeps {
		l.sweep(d.ctx)
	}
	d.multiply(l, l.u, l.r)
	d.rows(l, func(at int) { l.r[at] = l.b[at] - l.r[at] })
	c := d.levels[i+1]
	d.restrict(l, c)
	d.cycle(i + 1)
	d.prolong(c, l, l.u)
	for range sweeps {
		l.sweepBack(d.ctx)
	}
}

// multiply sets out to what the matrix of l makes of u.
func (d *ladder) multiply(l *level, u, out []float64) {
	all(d.ctx, l.h, func(lo, hi int) {
		for y := lo; y < hi; y++ {
			l.row(u, y, out[y*l.w:(y+1)*l.w])
		}
	})
}

// rows calls f for every cell of l.
func (d *ladder) rows(l *level, f func(at int)) {
	all(d.ctx, l.h, func(lo, hi int) {
		for at := lo * l.w; at < hi*l.w; at++ {
			f(at)
		}
	})
}

func (d *ladder) dot(l *level, a, b []float64) float64 {
	return sum(d.ctx, l.h, func(y int) float64 {
		s := 0.0
		for at := y * l.w; at < (y+1)*l.w; at++ {
			s += a[at] * b[at]
		}
		return s
	})
}

// largest returns the largest size of a value of l.u.
func (l *level) largest() float64 {
	far := 0.0
	for _, v := range l.u {
		far = max(far, math.Abs(v))
	}
	return far
}

// mostSteps is where solve gives up. It takes some ten.
const mostSteps = 80

// solve brings x to the minimum of levels[i] with the right side l.b, by conjugate
// gradients with a cycle before each step, until the cycle corrects by at most off
// anywhere. p is room for as many values. l.b is used up.
func (d *ladder) solve(i int, x, p []float64, off float64) {
	l := d.levels[i]
	d.multiply(l, x, l.r)
	d.rows(l, func(at int) { l.b[at] -= l.r[at] })
	clear(p)
	last := 0.0
	for n := 0; n < mostSteps && d.ctx.Err() == nil; n++ {
		d.cycle(i)
		now, beta := d.dot(l, l.b, l.u), 0.0
		if n > 0 {
			beta = now / last
		}
		last = now
		d.rows(l, func(at int) { p[at] = l.u[at] + beta*p[at] })
		d.multiply(l, p, l.r)
		curve := d.dot(l, p, l.r)
		if !(curve > 0) {
			return
		}
		alpha := now / curve
		d.rows(l, func(at int) {
			x[at] += alpha * p[at]
			l.b[at] -= alpha * l.r[at]
		})
		if l.largest() <= off {
			return
		}
	}
}
