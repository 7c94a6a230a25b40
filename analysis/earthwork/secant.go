package earthwork

import (
	"math"

	"runnel/geo/grid"
)

// A vicinity is the heights about a cell [m].
type vicinity struct {
	// row goes from west to east and column from north to south.
	row, column strip
	dx, dy      float64
}

// A strip is the heights of five cells on end, the third of which it is about; NaN
// where there is none [m].
type strip [5]float64

func around(g *grid.Ground, x, y int) vicinity {
	i := y*g.W + x
	return vicinity{stripOf(g.V[i-x:i-x+g.W], x, 1), stripOf(g.V[x:], y, g.W), g.DX, g.DY}
}

// stripOf returns the strip about a cell of a row or column, whose cells lie a stride
// apart.
func stripOf(line []float32, cell, stride int) strip {
	var s strip
	for k := range s {
		s[k] = math.NaN()
		if i := (cell + k - 2) * stride; i >= 0 && i < len(line) {
			s[k] = float64(line[i])
		}
	}
	return s
}

// gradient returns the slope to the east and to the south [m/m], by central
// differences, from one side beside cells of no data.
func (v *vicinity) gradient() (gx, gy float64) {
	return v.row.slope(v.dx), v.column.slope(v.dy)
}

func (s *strip) slope(step float64) float64 {
	f, b := !math.IsNaN(s[3]), !math.IsNaN(s[1])
	switch {
	case f && b:
		return (s[3] - s[1]) / (2 * step)
	case f:
		return (s[3] - s[2]) / step
	case b:
		return (s[2] - s[1]) / step
	}
	return 0
}

// shoulder returns at most which share of a cell that is not wet the water beside it
// covers, where the bank there is as steep as it is further down: at the top of a bank,
// where flat ground begins, a line from cell to cell would lead it too far. depth is
// that of the cell [m], nought or less.
func (v *vicinity) shoulder(depth float64) float64 {
	gx, gy := v.gradient()
	rise, below := 0.0, math.Inf(-1)
	for axis, s := range [2]strip{v.row, v.column} {
		if s[1] < s[3] {
			s = s.turned()
		}
		// Down to the wet cell beside it, and on to the next.
		next, bank := depth+s[2]-s[3], s[3]-s[4]
		if next > 0 && bank > s[2]-s[3] {
			rise, below = rise+bank, max(below, next-bank)
		} else {
			rise += [2]float64{math.Abs(gx) * v.dx, math.Abs(gy) * v.dy}[axis]
		}
	}
	if math.IsInf(below, -1) {
		return 1 // no top of a bank
	}
	return max(0, 0.5+below/rise)
}

// turned returns a strip from its other end.
func (s *strip) turned() strip { return strip{s[4], s[3], s[2], s[1], s[0]} }

// secant returns how much more soil than plan a cell has: the mean of the secants of
// the slope in its four quarters, each towards the neighbours on its two sides. The
// secant of the cell's mean slope would cut the corner at the foot of every bank.
func (v *vicinity) secant() float64 {
	east, south := v.row.spans(v.dx), v.column.spans(v.dy)
	ahead, below := [2]bend{east[0].bend(), east[1].bend()}, [2]bend{south[0].bend(), south[1].bend()}
	sum := 0.0
	for _, a := range ahead {
		for _, b := range below {
			sum += quarter(a, b)
		}
	}
	return sum / 4
}

// A span is the slope from the middle of one cell to that of the next, and those of
// the spans before and after it in its row or column [m/m].
type span struct{ before, slope, after float64 }

// spans returns the spans behind a cell and ahead of it, both the same beside a cell
// of no data. What is not known beyond them goes on as they do.
func (s *strip) spans(step float64) [2]span {
	back, forward := (s[2]-s[1])/step, (s[3]-s[2])/step
	switch f, b := !math.IsNaN(s[3]), !math.IsNaN(s[1]); {
	case !f && !b:
		return [2]span{}
	case !f:
		forward = back
	case !b:
		back = forward
	}
	spans := [2]span{{back, back, forward}, {back, forward, forward}}
	if far := (s[1] - s[0]) / step; !math.IsNaN(far) {
		spans[0].before = far
	}
	if far := (s[4] - s[3]) / step; !math.IsNaN(far) {
		spans[1].after = far
	}
	return spans
}

// A bend is a span in two parts: their slopes [m/m], and the share of the steeper.
type bend struct{ gentle, steep, share float64 }

func (b bend) straight() bool { return b.gentle == b.steep }

// bend takes a span whose slope lies between those beside it for what it is: part of
// the gentler of them and a share of the steeper, with a bend where they meet. So the
// chord across a bend loses nothing. The idea is that of A. Harten, ENO schemes with
// subcell resolution, 1989 (from memory). Where the two slope against each other it is
// a bed as wide as a cell, and left as it is.
func (s span) bend() bend {
	gentle, steep := s.before, s.after
	if math.Abs(gentle) > math.Abs(steep) {
		gentle, steep = steep, gentle
	}
	share := (s.slope - gentle) / (steep - gentle)
	if gentle*steep < 0 || !(share > 0 && share < 1) {
		return bend{s.slope, s.slope, 0.5}
	}
	return bend{gentle, steep, share}
}

// quarter returns the secant of a quarter of a cell, with a bend across it where the
// spans on its two sides have one.
func quarter(a, b bend) float64 {
	secant := func(x, y float64) float64 { return math.Sqrt(1 + x*x + y*y) }
	share := (a.share + b.share) / 2
	switch {
	case a.straight() && b.straight():
		return secant(a.gentle, b.gentle)
	case a.straight():
		share = b.share
	case b.straight():
		share = a.share
	}
	return (1-share)*secant(a.gentle, b.gentle) + share*secant(a.steep, b.steep)
}
