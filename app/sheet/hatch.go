package sheet

import (
	"image/color"

	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"
)

// hatches are the directions of the lines that fill a scheme's bar, over its
// colour: the first, of the site as it is, has none.
var hatches = [][]struct{ dx, dy vg.Length }{
	{}, {{1, 1}}, {{1, -1}}, {{0, 1}}, {{1, 0}}, {{1, 1}, {1, -1}}, {{0, 1}, {1, 0}}, {{2, 1}}, {{1, 2}},
}

// hatchApart is how far apart the lines of a hatch are [points].
const hatchApart = 6

// fill fills a rectangle with the colour and the hatch of a scheme.
func (l Look) fill(c plotdraw.Canvas, r vg.Rectangle, series int) {
	l.paint(c, r, l.series(series), series)
}

// paint fills a rectangle with a colour and one of the hatches.
func (l Look) paint(c plotdraw.Canvas, r vg.Rectangle, ink color.NRGBA, with int) {
	if r.Max.X <= r.Min.X || r.Max.Y <= r.Min.Y {
		return
	}
	body := ink
	body.A = 150
	ring := corners(r)
	c.FillPolygon(l.Paper, ring)
	c.FillPolygon(body, ring)
	inside := plotdraw.Canvas{Canvas: c.Canvas, Rectangle: r}
	style := plotdraw.LineStyle{Color: l.Paper, Width: 1.1}
	for _, d := range hatches[with%len(hatches)] {
		c.StrokeLines(style, inside.ClipLinesXY(l.rows(r, d.dx, d.dy)...)...)
	}
	c.StrokeLines(plotdraw.LineStyle{Color: ink, Width: 1}, append(ring, r.Min))
}

// rows returns the lines of a hatch that cross a rectangle.
func (l Look) rows(r vg.Rectangle, dx, dy vg.Length) [][]vg.Point {
	size := r.Size()
	far := size.X + size.Y
	var rows [][]vg.Point
	if dx == 0 {
		for x := r.Min.X + hatchApart/2; x < r.Max.X; x += hatchApart {
			rows = append(rows, []vg.Point{{X: x, Y: r.Min.Y}, {X: x, Y: r.Max.Y}})
		}
		return rows
	}
	slope := dy / dx
	rise := size.X * max(slope, -slope)
	for y := r.Min.Y - rise - hatchApart/2; y < r.Max.Y+rise && y < r.Min.Y+4*far; y += hatchApart {
		rows = append(rows, []vg.Point{{X: r.Min.X, Y: y}, {X: r.Max.X, Y: y + slope*size.X}})
	}
	return rows
}
