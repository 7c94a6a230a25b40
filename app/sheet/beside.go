package sheet

import (
	"image"
	"math"

	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"

	"runnel/geo"
)

// Beside lays a few figures of several schemes beside each other: what soaks in, the share
// of the draw, the cost of a cubic metre. Each figure has a column where there is room,
// and else they follow one another downward.
type Beside struct {
	Title   string
	Schemes []string
	Figures []Figure
	Notes   []string
	// None is said where there is no scheme.
	None string
}

// A Figure is one measure of every scheme.
type Figure struct {
	// Axis names it with its unit.
	Axis string
	// Values are by scheme; what is not known is NaN. Words write each, as "1 848
	// (282–4 692)".
	Values []geo.Range
	Words  []string
}

// besideWide is the width from which figures have columns [points].
const besideWide = 560

// High returns how high the chart needs to be for a width [points].
func (b Beside) High(width float64, l Look) float64 {
	section := 2*l.Small + float64(len(b.Schemes))*rankHigh*l.Small
	down := 1.0
	if width < besideWide {
		down = float64(len(b.Figures))
	}
	return 2.5*l.Text + down*section + 1.35*l.Small*2*float64(len(b.Notes)) + 2*edge
}

// Draw draws the chart on an image of w by h pixels.
func (b Beside) Draw(w, h int, l Look) *image.RGBA {
	if len(b.Schemes) == 0 || len(b.Figures) == 0 {
		return l.nothing(w, h, b.Title, b.None)
	}
	paper, c := l.canvas(w, h)
	if size := c.Size(); size.X <= 8*edge || size.Y <= 8*edge {
		return paper
	}
	c = plotdraw.Crop(c, edge, -edge, edge, -edge)
	s := stack{look: l, title: b.Title, notes: b.Notes}
	c.Max.Y -= s.head(c)
	c.Min.Y += s.foot(c)
	n := vg.Length(len(b.Figures))
	const apart = 16
	for i, f := range b.Figures {
		box := c
		if at := vg.Length(i); c.Size().X+2*edge >= besideWide {
			box.Min.X = c.Min.X + (c.Size().X+apart)/n*at
			box.Max.X = box.Min.X + (c.Size().X+apart)/n - apart
		} else {
			box.Max.Y = c.Max.Y - c.Size().Y/n*at
			box.Min.Y = c.Max.Y - c.Size().Y/n*(at+1)
		}
		b.section(box, f, l)
	}
	return paper
}

// section draws one figure of every scheme.
func (b Beside) section(c plotdraw.Canvas, f Figure, l Look) {
	style := l.style(l.Small, l.Muted)
	for _, line := range broken(f.Axis, style, c.Size().X) {
		c.FillText(style, vg.Point{X: c.Min.X, Y: c.Max.Y}, fitted(line, style, c.Size().X))
		c.Max.Y -= leading(style)
	}
	c.Max.Y -= 3
	var rows []row
	for i, name := range b.Schemes {
		r := row{name: name, value: geo.Range{Low: math.NaN(), Likely: math.NaN(), High: math.NaN()}, ink: l.series(i), with: i}
		if i < len(f.Values) {
			r.value = f.Values[i]
		}
		if i < len(f.Words) {
			r.figure = f.Words[i]
		}
		rows = append(rows, r)
	}
	l.drawRows(c, rows, rankHigh)
}
