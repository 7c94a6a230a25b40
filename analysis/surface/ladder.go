package surface

import "context"

// least is the fewest cells that a level has each way, and small how many the
// coarsest has at most each way, which is solved outright.
const (
	least = 4
	small = 10
)

// faint is the share of gradient that every surface has, so that what the
// measurements leave open lies level.
const faint = 1e-9

// stiffness returns the weights for a tension from 0 to 1. Between bending and
// stretching lies a length L, with L² = (1-T)/T · spacing/4 [cells²]: at T = 0.5
// half of the geometric mean of the cell and the spacing of the measurements.
// [SmithWessel1990] reckon in cells alone.
func (p *problem) stiffness(tension float64) stiffness {
	return stiffness{1 - tension, tension*4/p.spacing*p.scale*p.scale + faint}
}

// ladder returns the levels for a tension; with the context ended they are not whole.
func (p *problem) ladder(ctx context.Context, tension float64) *ladder {
	k := p.stiffness(tension)
	d := newLadder(ctx, newLevel(p.w, p.h, p.dx, p.dy, k), k)
	d.split(p.breaks)
	d.hold(p.pins, k.bend+k.stretch)
	if ctx.Err() != nil {
		return d
	}
	if p.known == nil && p.interval > 0 {
		p.known = p.between()
	}
	if p.known != nil {
		d.bind(p.known)
		d.strain, d.close = float32(hingeGrip*(k.bend+k.stretch)), 0.02*p.interval
	}
	return d
}

// newLadder puts ever coarser levels below the finest.
func newLadder(ctx context.Context, l *level, k stiffness) *ladder {
	d := &ladder{ctx: ctx, levels: []*level{l}}
	for l.w > small || l.h > small {
		cw, ch, cx, cy := l.w, l.h, l.dx, l.dy
		if l.w > small {
			cw, cx = (l.w+1)/2, l.dx*2
		}
		if l.h > small {
			ch, cy = (l.h+1)/2, l.dy*2
		}
		c := newLevel(cw, ch, cx, cy, k)
		c.columns, c.rows = placesIn(l.w, cw), placesIn(l.h, ch)
		d.levels = append(d.levels, c)
		l = c
	}
	return d
}

// hold ties the pins to every level, their weights in units of stiff. A coarse
// level's are the finer one's in its own cells, those of a quarter cell made one.
func (d *ladder) hold(pins []pin, stiff float64) {
	own := make([]pin, len(pins))
	for i, p := range pins {
		p.w *= stiff
		own[i] = p
	}
	for i, l := range d.levels {
		if d.ctx.Err() != nil {
			return
		}
		if i > 0 {
			own = coarser(own, d.levels[i-1], l)
		}
		n := l.w * l.h
		l.u, l.b, l.r, l.given = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
		l.tied = tie(own, l.w, l.h, l.given)
	}
	last := d.levels[len(d.levels)-1]
	last.dense = last.factor()
}

// coarser returns pins of the finer level f as ones of c.
func coarser(pins []pin, f, c *level) []pin {
	out := make([]pin, len(pins))
	for i, p := range pins {
		if c.w < f.w {
			p.x = (p.x - 0.5) / 2
		}
		if c.h < f.h {
			p.y = (p.y - 0.5) / 2
		}
		out[i] = p
	}
	return merged(out, 2)
}

// climb solves every level in turn from the coarsest, each from the answer of the
// one below, and returns the finest's answer, true to about off.
func (d *ladder) climb(off float64, tell func(float64)) []float64 {
	last := len(d.levels) - 1
	l := d.levels[last]
	x := append([]float64(nil), l.given...)
	l.dense.solve(x)
	for i := last - 1; i >= 0 && d.ctx.Err() == nil; i-- {
		l = d.levels[i]
		finer := make([]float64, l.w*l.h)
		copy(d.levels[i+1].u, x)
		d.prolong(d.levels[i+1], l, finer)
		x = finer
		want := off
		if i > 0 {
			// What is left of the error is less than what the next level adds.
			want = off * 120
		}
		d.settle(i, x, want, tell)
	}
	return x
}
