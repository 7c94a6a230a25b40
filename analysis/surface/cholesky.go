package surface

import "math"

// A cholesky is the lower triangle of a small matrix's root, by rows.
type cholesky struct {
	n int
	l []float64
}

// factor roots the matrix of a level, which must be small.
func (l *level) factor() cholesky {
	n := l.w * l.h
	c := cholesky{n, make([]float64, n*n)}
	unit, out := make([]float64, n), make([]float64, l.w)
	for i := range n {
		unit[i] = 1
		for y := range l.h {
			l.row(unit, y, out)
			copy(c.l[i*n+y*l.w:], out)
		}
		unit[i] = 0
	}
	for i := range n {
		for j := 0; j <= i; j++ {
			s := c.l[i*n+j]
			for k := range j {
				s -= c.l[i*n+k] * c.l[j*n+k]
			}
			if i == j {
				c.l[i*n+i] = math.Sqrt(max(s, 1e-14*(1+c.l[i*n+i])))
			} else {
				c.l[i*n+j] = s / c.l[j*n+j]
			}
		}
	}
	return c
}

// solve replaces b by the answer.
func (c cholesky) solve(b []float64) {
	for i := range c.n {
		for k := range i {
			b[i] -= c.l[i*c.n+k] * b[k]
		}
		b[i] /= c.l[i*c.n+i]
	}
	for i := c.n - 1; i >= 0; i-- {
		b[i] /= c.l[i*c.n+i]
		for k := range i {
			b[k] -= c.l[i*c.n+k] * b[i]
		}
	}
}
