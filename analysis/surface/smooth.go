package surface

import "context"

// sweep is one pass of Gauss and Seidel's relaxation over the level, in the even
// strips and then the odd ones.
func (l *level) sweep(ctx context.Context) {
	for parity := range 2 {
		strips(ctx, l.h, parity, 2, func(lo, hi int) {
			for y := lo; y < hi; y++ {
				l.relax(y)
			}
		})
	}
}

// sweepBack is the pass in the opposite order, so that both make a symmetric one.
func (l *level) sweepBack(ctx context.Context) {
	for parity := 1; parity >= 0; parity-- {
		strips(ctx, l.h, parity, 2, func(lo, hi int) {
			for y := hi - 1; y >= lo; y-- {
				l.relaxBack(y)
			}
		})
	}
}

// relax sets each cell of row y, from west to east, to what its neighbours ask.
func (l *level) relax(y int) { l.relaxRow(y, 1) }

func (l *level) relaxBack(y int) { l.relaxRow(y, -1) }

// relaxRow relaxes row y from west to east, with by at -1 from east to west. Plain
// cells are worked out in place: three times as quick as by one, and most of the time
// of a solution is spent here (Go 1.26, 720 by 720 cells between dense contours).
func (l *level) relaxRow(y, by int) {
	k, end, x, stop := int(l.tied.start[y]), int(l.tied.start[y+1]), 0, l.w
	if by < 0 {
		k, end, x, stop = end-1, k-1, l.w-1, -1
	}
	col, c, inverse := l.tied.col, newCross(l, l.u, y), 1/l.c
	b := l.b[y*l.w:][:l.w]
	for ; x != stop; x += by {
		tie := -1
		if k != end && int(col[k]) == x {
			tie = k
			k += by
		}
		switch {
		case !c.inside || !l.plain(x, y):
			l.one(x, y, tie)
		case tie < 0 && (l.pull == nil || l.pull[y*l.w+x] == 0):
			c.row[x] += (b[x] - c.of(l, x)) * inverse
		default:
			v, diag := c.of(l, x), l.c
			if tie >= 0 {
				t := &l.tied.coef[tie]
				v += c.tied(t, x)
				diag += t[4]
			}
			if l.pull != nil {
				p := float64(l.pull[y*l.w+x])
				v, diag = v+p*c.row[x], diag+p
			}
			c.row[x] += (b[x] - v) / diag
		}
	}
}

// A cross is a row with the two above and the two below, as far as inside says that
// they are there.
type cross struct {
	north2, north, row, south, south2 []float64
	inside                            bool
}

func newCross(l *level, u []float64, y int) cross {
	if y < 2 || y >= l.h-2 {
		return cross{}
	}
	at := func(y int) []float64 { return u[y*l.w:][:l.w:l.w] }
	return cross{at(y - 2), at(y - 1), at(y), at(y + 1), at(y + 2), true}
}

// of is far for column x, two or more from either border.
func (c *cross) of(l *level, x int) float64 {
	n, m, s := c.north[x-1:x+2:x+2], c.row[x-2:x+3:x+3], c.south[x-1:x+2:x+2]
	return l.c*m[2] + l.x1*(m[1]+m[3]) + l.x2*(m[0]+m[4]) + l.y1*(n[1]+s[1]) + l.y2*(c.north2[x]+c.south2[x]) +
		l.d*(n[0]+n[2]+s[0]+s[2])
}

// tied is what ties with the coefficients t make of u at column x.
func (c *cross) tied(t *[9]float64, x int) float64 {
	n, m, s := c.north[x-1:x+2:x+2], c.row[x-1:x+2:x+2], c.south[x-1:x+2:x+2]
	return t[4]*m[1] + t[0]*n[0] + t[1]*n[1] + t[2]*n[2] + t[3]*m[0] + t[5]*m[2] + t[6]*s[0] + t[7]*s[1] + t[8]*s[2]
}

// one relaxes a single cell; tie is its place in the ties, -1 for none.
func (l *level) one(x, y, tie int) {
	at := y*l.w + x
	v, diag := l.node(l.u, x, y)
	if tie >= 0 {
		v += l.tied.at(l.u, l.w, at, tie)
		diag += l.tied.coef[tie][4]
	}
	if l.pull != nil {
		p := float64(l.pull[at])
		v, diag = v+p*l.u[at], diag+p
	}
	l.u[at] += (l.b[at] - v) / diag
}

// plain reports whether a cell is far from borders and breaks.
func (l *level) plain(x, y int) bool {
	return x >= 2 && x < l.w-2 && y >= 2 && y < l.h-2 && (l.cut == nil || l.cut[y*l.w+x]&near == 0)
}
