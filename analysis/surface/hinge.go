package surface

// hingeGrip is how much stiffer than the surface a bound is to what is beyond it.
const hingeGrip = 3

// rounds is how often a level is solved with what was found beyond its bounds, at most:
// it ends once that is settled, mostly after some five.
const rounds = 8

// rough is how much less true the rounds before the last are.
const rough = 1000

// bind gives every level the bounds of the finest; a coarse cell's hold for all of
// its own.
func (d *ladder) bind(b []between) {
	d.levels[0].bounds = b
	for i, c := range d.levels[1:] {
		f := d.levels[i]
		c.bounds = make([]between, c.w*c.h)
		for j := range c.bounds {
			c.bounds[j] = between{inf, -inf}
		}
		for y := range f.h {
			for x := range f.w {
				from, to := f.bounds[y*f.w+x], &c.bounds[f.parent(c, x, y)]
				to.lo, to.hi = min(to.lo, from.lo), max(to.hi, from.hi)
			}
		}
	}
	for _, l := range d.levels {
		l.pull = make([]float32, l.w*l.h)
		l.draw = make([]float32, l.w*l.h)
	}
}

// settle solves level i from x. Cells that come to lie beyond their bounds are drawn
// to them with the weight strain, and let go once they are within: some rounds are
// solved roughly, until that is settled, and the last one to off.
func (d *ladder) settle(i int, x []float64, off float64, tell func(float64)) {
	l := d.levels[i]
	p := make([]float64, len(x))
	for n := range rounds {
		last := l.bounds == nil || d.press(i, x) == 0 || n == rounds-1
		copy(l.b, l.given)
		if l.bounds != nil {
			d.rows(l, func(at int) { l.b[at] += float64(l.pull[at]) * float64(l.draw[at]) })
		}
		want := off
		if !last {
			want *= rough
		}
		d.solve(i, x, p, want)
		if i == 0 {
			tell(float64(n+1) / rounds)
		}
		if last {
			return
		}
	}
}

// press draws the cells of level i that are beyond their bounds in x to them, and
// returns for how many that is new.
func (d *ladder) press(i int, x []float64) int {
	l := d.levels[i]
	changed := int(sum(d.ctx, l.h, func(y int) float64 {
		n := 0
		for at := y * l.w; at < (y+1)*l.w; at++ {
			var pull, draw float32
			switch b := l.bounds[at]; {
			case x[at] < float64(b.lo):
				pull, draw = d.stronger(l, at, float64(b.lo)-x[at]), b.lo
			case x[at] > float64(b.hi):
				pull, draw = d.stronger(l, at, x[at]-float64(b.hi)), b.hi
			}
			if pull != l.pull[at] || draw != l.draw[at] {
				n++
			}
			l.pull[at], l.draw[at] = pull, draw
		}
		return float64(n)
	}))
	for j := i + 1; j < len(d.levels); j++ {
		f, c := d.levels[j-1], d.levels[j]
		clear(c.pull)
		for y := range f.h {
			for x := range f.w {
				c.pull[f.parent(c, x, y)] += f.pull[y*f.w+x]
			}
		}
	}
	last := d.levels[len(d.levels)-1]
	last.dense = last.factor()
	return changed
}

// stronger returns the weight that draws a cell of l to the bound that it is past by so
// much [m]: more than before where that was too weak.
func (d *ladder) stronger(l *level, at int, past float64) float32 {
	const step, most = 8, 64
	switch held := l.pull[at]; {
	case held == 0:
		return d.strain
	case past > d.close:
		return min(held*step, d.strain*most)
	default:
		return held
	}
}
