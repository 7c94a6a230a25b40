package surface

// A level is the problem on one grid of the multigrid: its energy
//
//	Σ kxx·(δxx u)² + kyy·(δyy u)² + kxy·(δxy u)² + gx·(δx u)² + gy·(δy u)² + Σ w·(B·u − z)²
//
// is a sum of squares, so that the matrix of its minimum is symmetric and
// positive, and its borders are natural ones.
type level struct {
	w, h   int
	dx, dy float64 // of a cell [cells of the finest level]
	kxx, kyy, kxy,
	gx, gy float64
	stencil
	// cut says which terms are weakened because a break passes; nil is none.
	cut  []uint8
	tied ties
	// bounds are what is known of each cell's height; nil is nothing. pull is the
	// weight of the square that draws a cell to the bound it is beyond, in draw.
	bounds     []between
	pull, draw []float32
	// u is the correction that is sought, b its right side, r a residual; given is
	// the right side of the pins.
	u, b, r, given []float64
	// columns and rows are the places of the finer level's in this one.
	columns, rows []place
	// dense solves the coarsest level.
	dense cholesky
}

// A stencil is the matrix's row of a plain cell, whose terms are all there: itself,
// the next along each axis, the next but one, and the diagonal ones.
type stencil struct{ c, x1, x2, y1, y2, d float64 }

// newLevel returns the energy on cells of dx by dy; bend and stretch are the
// shares of curvature and gradient.
func newLevel(w, h int, dx, dy float64, k stiffness) *level {
	area := dx * dy
	l := &level{
		w: w, h: h, dx: dx, dy: dy,
		kxx: k.bend * area / (dx * dx * dx * dx),
		kyy: k.bend * area / (dy * dy * dy * dy),
		kxy: 2 * k.bend * area / (dx * dx * dy * dy),
		gx:  k.stretch * area / (dx * dx),
		gy:  k.stretch * area / (dy * dy),
	}
	l.stencil = stencil{
		c:  6*l.kxx + 6*l.kyy + 4*l.kxy + 2*l.gx + 2*l.gy,
		x1: -4*l.kxx - 2*l.kxy - l.gx, x2: l.kxx,
		y1: -4*l.kyy - 2*l.kxy - l.gy, y2: l.kyy,
		d: l.kxy,
	}
	return l
}

// A stiffness is the weight of curvature and of gradient in the energy.
type stiffness struct{ bend, stretch float64 }

// row sets out[x] to what the matrix makes of u in the row y.
func (l *level) row(u []float64, y int, out []float64) {
	at, c := y*l.w, newCross(l, u, y)
	for x := range l.w {
		if c.inside && l.plain(x, y) {
			out[x] = c.of(l, x)
		} else {
			out[x], _ = l.node(u, x, y)
		}
	}
	l.tied.add(u, l.w, y, out)
	if l.pull != nil {
		for x, p := range l.pull[at : at+l.w] {
			out[x] += float64(p) * u[at+x]
		}
	}
}

// node returns what the energy's matrix makes of u at one cell, and its diagonal,
// term by term.
func (l *level) node(u []float64, x, y int) (v, diag float64) {
	at := y*l.w + x
	l.bends(u, at, axis{x, l.w, 1, l.kxx, cutXX}, &v, &diag)
	l.bends(u, at, axis{y, l.h, l.w, l.kyy, cutYY}, &v, &diag)
	l.links(u, at, axis{x, l.w, 1, l.gx, cutX}, &v, &diag)
	l.links(u, at, axis{y, l.h, l.w, l.gy, cutY}, &v, &diag)
	l.twists(u, x, y, &v, &diag)
	return v, diag
}

// An axis is the terms of one kind along columns or rows: the cell's place among
// n, the distance of neighbours, the weight and the bit that weakens it.
type axis struct {
	i, n, step int
	k          float64
	bit        uint8
}

// weight returns the weight of the term at a cell.
func (l *level) weight(at int, k float64, bit uint8) float64 {
	if l.cut != nil && l.cut[at]&bit != 0 {
		return k * weak
	}
	return k
}

// bends adds the second differences along an axis that a cell is in.
func (l *level) bends(u []float64, at int, a axis, v, diag *float64) {
	for o := -1; o <= 1; o++ {
		if a.i+o < 1 || a.i+o > a.n-2 {
			continue
		}
		c, self := at+o*a.step, 1.0
		if o == 0 {
			self = -2
		}
		k := l.weight(c, a.k, a.bit)
		*v += k * self * (u[c-a.step] - 2*u[c] + u[c+a.step])
		*diag += k * self * self
	}
}

// links adds the first differences along an axis.
func (l *level) links(u []float64, at int, a axis, v, diag *float64) {
	if a.i > 0 {
		k := l.weight(at-a.step, a.k, a.bit)
		*v, *diag = *v+k*(u[at]-u[at-a.step]), *diag+k
	}
	if a.i < a.n-1 {
		k := l.weight(at, a.k, a.bit)
		*v, *diag = *v+k*(u[at]-u[at+a.step]), *diag+k
	}
}

// twists adds the mixed differences.
func (l *level) twists(u []float64, x, y int, v, diag *float64) {
	for oy := -1; oy <= 0; oy++ {
		for ox := -1; ox <= 0; ox++ {
			if x+ox < 0 || x+ox > l.w-2 || y+oy < 0 || y+oy > l.h-2 {
				continue
			}
			c, self := (y+oy)*l.w+x+ox, 1.0
			if ox != oy {
				self = -1
			}
			k := l.weight(c, l.kxy, cutXY)
			*v += k * self * (u[c] - u[c+1] - u[c+l.w] + u[c+l.w+1])
			*diag += k
		}
	}
}
