package sheet

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"
)

// A span is what an axis runs over.
type span struct {
	low, high float64
	// hangs is set where the axis runs downward, as of rain.
	hangs bool
}

// share returns how far along the axis a value lies: 0 at its foot or left end.
func (s span) share(v float64) float64 {
	t := (v - s.low) / (s.high - s.low)
	if s.hangs {
		return 1 - t
	}
	return t
}

// spanOf holds all known values, and a little more at either end.
func spanOf(all ...[]float64) span {
	s := span{low: math.Inf(1), high: math.Inf(-1)}
	for _, values := range all {
		for _, v := range values {
			if !math.IsNaN(v) && !math.IsInf(v, 0) {
				s.low, s.high = min(s.low, v), max(s.high, v)
			}
		}
	}
	if s.low > s.high {
		return span{high: 1}
	}
	const room = 0.06
	spare := room * (s.high - s.low)
	if spare <= 1e-9*max(math.Abs(s.low), math.Abs(s.high)) {
		spare = 0.5
	}
	return span{low: s.low - spare, high: s.high + spare}
}

// fromNought runs from nought, or from the least value where that is below, to a little
// above the greatest.
func fromNought(all ...[]float64) span {
	s := spanOf(append(all, []float64{0})...)
	below := false
	for _, values := range all {
		for _, v := range values {
			below = below || v < 0
		}
	}
	if !below {
		s.low = 0
	}
	return s
}

// A frame is where one panel's figures are drawn.
type frame struct {
	plotdraw.Canvas
	look       Look
	across, up span
}

func (f frame) at(x, y float64) vg.Point {
	return vg.Point{X: f.X(f.across.share(x)), Y: f.Y(f.up.share(y))}
}

// points are the runs of known figures.
func (f frame) points(xs, ys []float64) (runs [][]vg.Point) {
	var run []vg.Point
	for i := range min(len(xs), len(ys)) {
		if math.IsNaN(xs[i] + ys[i]) {
			if len(run) > 0 {
				runs, run = append(runs, run), nil
			}
			continue
		}
		run = append(run, f.at(xs[i], ys[i]))
	}
	if len(run) > 0 {
		runs = append(runs, run)
	}
	return runs
}

// line draws a curve, which breaks off where it is not known.
func (f frame) line(xs, ys []float64, s plotdraw.LineStyle) {
	for _, run := range f.points(xs, ys) {
		if len(run) == 1 { // what is known at one moment only is still to be seen
			run = append(run, vg.Point{X: run[0].X + s.Width, Y: run[0].Y})
		}
		f.StrokeLines(s, f.ClipLinesXY(run)...)
	}
}

// area fills what lies between two curves.
func (f frame) area(xs, low, high []float64, ink color.NRGBA) {
	n := min(len(xs), len(low), len(high))
	for start := 0; start < n; start++ {
		end := start
		for end < n && !math.IsNaN(low[end]+high[end]) {
			end++
		}
		if end-start < 2 {
			continue
		}
		var ring []vg.Point
		for i := start; i < end; i++ {
			ring = append(ring, f.at(xs[i], high[i]))
		}
		for i := end - 1; i >= start; i-- {
			ring = append(ring, f.at(xs[i], low[i]))
		}
		f.FillPolygon(ink, f.ClipPolygonXY(ring))
		start = end
	}
}

// level draws a level from side to side.
func (f frame) level(v float64, s plotdraw.LineStyle) {
	if t := f.up.share(v); t >= 0 && t <= 1 {
		y := f.at(0, v).Y
		f.StrokeLine2(s, f.Min.X, y, f.Max.X, y)
	}
}

// box is the rectangle between two places, no larger than the frame.
func (f frame) box(x0, x1, y0, y1 float64) vg.Rectangle {
	a, b := f.at(x0, y0), f.at(x1, y1)
	inX := func(v vg.Length) vg.Length { return max(f.Min.X, min(f.Max.X, v)) }
	inY := func(v vg.Length) vg.Length { return max(f.Min.Y, min(f.Max.Y, v)) }
	return vg.Rectangle{
		Min: vg.Point{X: inX(min(a.X, b.X)), Y: inY(min(a.Y, b.Y))},
		Max: vg.Point{X: inX(max(a.X, b.X)), Y: inY(max(a.Y, b.Y))},
	}
}

// bars draws a bar for each value, the first from x = 0 on, each of a width; those that
// are wide enough stand apart.
func (f frame) bars(values []float64, width float64, ink color.NRGBA) {
	const apart = 0.14
	shy := 0.0
	if f.X(f.across.share(width))-f.X(f.across.share(0)) > 5 {
		shy = apart * width
	}
	for i, v := range values {
		if math.IsNaN(v) || v == 0 {
			continue
		}
		r := f.box(float64(i)*width+shy, float64(i+1)*width-shy, 0, v)
		f.FillPolygon(ink, corners(r))
	}
}

// whisker draws a range upright in the middle of a bar.
func (f frame) whisker(bar vg.Rectangle, low, high float64) {
	if !(high > low) {
		return
	}
	x := (bar.Min.X + bar.Max.X) / 2
	from, to := vg.Point{X: x, Y: f.at(0, low).Y}, vg.Point{X: x, Y: f.at(0, high).Y}
	if to.Y-from.Y < leastWhisker {
		return
	}
	f.look.whisker(f.Canvas, from, to, min(4, bar.Size().X*0.35))
}

// leastWhisker is how long a range must be drawn to be seen as one.
const leastWhisker = 1

func corners(r vg.Rectangle) []vg.Point {
	return []vg.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}}
}

// whisker draws a range from one place to another, upright or level, with a light edge
// that sets it off where there is room for one.
func (l Look) whisker(c plotdraw.Canvas, low, high vg.Point, half vg.Length) {
	dx, dy := half, vg.Length(0)
	if low.Y == high.Y {
		dx, dy = 0, half
	}
	styles := []plotdraw.LineStyle{{Color: l.Paper, Width: 3.6}, {Color: l.Ink, Width: 1.4}}
	if half < 2.5 {
		styles = []plotdraw.LineStyle{{Color: l.Ink, Width: 0.9}}
	}
	for _, s := range styles {
		c.StrokeLine2(s, low.X, low.Y, high.X, high.Y)
		c.StrokeLine2(s, low.X-dx, low.Y-dy, low.X+dx, low.Y+dy)
		c.StrokeLine2(s, high.X-dx, high.Y-dy, high.X+dx, high.Y+dy)
	}
}
