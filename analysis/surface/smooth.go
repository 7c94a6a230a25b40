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
func (l *level) relax(y int) {
	k, end := l.tied.start[y], l.tied.start[y+1]
	for x := 0; x < l.w; {
		stop := l.w
		if k < end {
			stop = int(l.tied.col[k])
		}
		l.run(y, x, stop)
		if stop < l.w {
			l.one(stop, y, int(k))
			k++
		}
		x = stop + 1
	}
}

func (l *level) relaxBack(y int) {
	start, k := l.tied.start[y], l.tied.start[y+1]-1
	for x := l.w - 1; x >= 0; x-- {
		if k >= start && int(l.tied.col[k]) == x {
			l.one(x, y, int(k))
			k--
			continue
		}
		l.one(x, y, -1)
	}
}

// run relaxes the cells x to stop-1, none of them tied.
func (l *level) run(y, x, stop int) {
	for ; x < stop; x++ {
		l.one(x, y, -1)
	}
}

// one relaxes a single cell; tie is its place in the ties, -1 for none.
func (l *level) one(x, y, tie int) {
	at := y*l.w + x
	var v, diag float64
	if l.plain(x, y) {
		v, diag = l.far(l.u, at), l.c
	} else {
		v, diag = l.node(l.u, x, y)
	}
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

// far is node for a plain cell.
func (l *level) far(u []float64, at int) float64 {
	w := l.w
	n, m, s := u[at-w-1:at-w+2:at-w+2], u[at-2:at+3:at+3], u[at+w-1:at+w+2:at+w+2]
	return l.c*m[2] + l.x1*(m[1]+m[3]) + l.x2*(m[0]+m[4]) + l.y1*(n[1]+s[1]) + l.y2*(u[at-2*w]+u[at+2*w]) +
		l.d*(n[0]+n[2]+s[0]+s[2])
}
