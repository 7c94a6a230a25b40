package surface

import "math"

// A place is where the centre of a cell of the finer level lies in a coarser one:
// the value there is (1-t)·u[i] + t·u[i+1].
type place struct {
	i int32
	t float64
}

// placesIn returns where n cells lie in half as many of twice the size, or in as
// many. Beyond the outermost centres values go on straight, so planes stay planes.
func placesIn(n, coarse int) []place {
	p := make([]place, n)
	for x := range p {
		f := float64(x)
		if coarse < n {
			f = (f - 0.5) / 2
		}
		i := min(max(int(math.Floor(f)), 0), coarse-2)
		p[x] = place{int32(i), f - float64(i)}
	}
	return p
}

// prolong adds to u on the finer level what c.u is there. The weights are those
// of a quadratic spline's refinement, so that bending energies stay bounded from
// level to level.
func (d *ladder) prolong(c, f *level, u []float64) {
	all(d.ctx, f.h, func(lo, hi int) {
		line := make([]float64, c.w)
		for y := lo; y < hi; y++ {
			p := c.rows[y]
			up, down := c.u[int(p.i)*c.w:][:c.w], c.u[(int(p.i)+1)*c.w:][:c.w]
			for x := range line {
				line[x] = up[x]*(1-p.t) + down[x]*p.t
			}
			row := u[y*f.w:][:f.w]
			for x, q := range c.columns {
				row[x] += line[q.i]*(1-q.t) + line[q.i+1]*q.t
			}
		}
	})
}

// restrict sets c.b to the transpose of prolong of f.r.
func (d *ladder) restrict(f, c *level) {
	all(d.ctx, c.h, func(lo, hi int) {
		line := make([]float64, f.w)
		for y := lo; y < hi; y++ {
			clear(line)
			from := y - 1
			if c.h < f.h {
				from = 2*y - 3
			}
			for fy := max(from, 0); fy < f.h; fy++ {
				p := c.rows[fy]
				if int(p.i) > y {
					break
				}
				if k := p.share(y); k != 0 {
					for x, v := range f.r[fy*f.w:][:f.w] {
						line[x] += k * v
					}
				}
			}
			row := c.b[y*c.w:][:c.w]
			clear(row)
			for x, q := range c.columns {
				row[q.i] += line[x] * (1 - q.t)
				row[q.i+1] += line[x] * q.t
			}
		}
	})
}

// share returns the weight of coarse place i in p.
func (p place) share(i int) float64 {
	switch int(p.i) {
	case i:
		return 1 - p.t
	case i - 1:
		return p.t
	}
	return 0
}

// parent returns the cell of the coarser level c that holds cell (x, y) of f.
func (f *level) parent(c *level, x, y int) int {
	if c.w < f.w {
		x /= 2
	}
	if c.h < f.h {
		y /= 2
	}
	return y*c.w + x
}
