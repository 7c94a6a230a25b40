package surface

// weak is what is left of a term that a break passes: enough to hold a cell that
// has nothing else.
const weak = 1e-3

// The bits of level.cut.
const (
	cutXX uint8 = 1 << iota
	cutYY
	cutXY // of the four cells from this one east and south
	cutX  // of the link to the east: never set, a break bends the surface and does not tear it
	cutY  // of the link to the south: never set
	near  // one of the terms that this cell is in is weakened
)

// split weakens on every level the terms that bend across a break: the surface has
// its heights on both sides, and no slope in common.
func (d *ladder) split(breaks [][]spot) {
	if len(breaks) == 0 {
		return
	}
	sx, sy := 1.0, 1.0
	for i, l := range d.levels {
		if i > 0 {
			f := d.levels[i-1]
			sx, sy = sx*float64(ratio(f.w, l.w)), sy*float64(ratio(f.h, l.h))
		}
		l.cut = make([]uint8, l.w*l.h)
		for _, b := range breaks {
			for j := 1; j < len(b); j++ {
				l.splitAlong(scaled(b[j-1], sx, sy), scaled(b[j], sx, sy))
			}
		}
	}
}

func ratio(fine, coarse int) int {
	if coarse < fine {
		return 2
	}
	return 1
}

// scaled returns a place of the finest level in cells sx by sy times as large.
func scaled(a spot, sx, sy float64) spot {
	return spot{(a[0]+0.5)/sx - 0.5, (a[1]+0.5)/sy - 0.5}
}

func (l *level) splitAlong(a, b spot) {
	crossings(a, b, l.w, l.h, func(at int, down bool, _ float64) {
		step, other, bend := 1, l.w, cutXX
		if down {
			step, other, bend = l.w, 1, cutYY
		}
		l.mark(at, bend)
		l.mark(at+step, bend)
		l.mark(at, cutXY)
		if at >= other {
			l.mark(at-other, cutXY)
		}
	})
}

// mark weakens a term, and marks the cells that it may be of.
func (l *level) mark(at int, bit uint8) {
	l.cut[at] |= bit
	x, y := at%l.w, at/l.w
	for ny := max(y-1, 0); ny <= min(y+1, l.h-1); ny++ {
		for nx := max(x-1, 0); nx <= min(x+1, l.w-1); nx++ {
			l.cut[ny*l.w+nx] |= near
		}
	}
}
