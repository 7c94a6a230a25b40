package sheet

import (
	"image"
	"math"
	"unicode/utf8"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"

	"runnel/geo"
)

// A Bar is one scheme's figure with its range. What is not known is NaN.
type Bar struct {
	Name  string
	Value geo.Range
	// Series is the scheme's place in the list, which gives it its colour and hatch.
	Series int
}

// Bars is a chart of one figure of several schemes, from the top down.
type Bars struct {
	// Title names the figure; Axis the figure with its unit, as "Storage [m³]".
	Title, Axis string
	Bars        []Bar
}

// Draw draws the chart on an image of w by h pixels.
func (b Bars) Draw(w, h int, l Look) *image.RGBA {
	paper, c := l.canvas(w, h)
	p := l.plot(b.Title)
	p.X.Label.Text = b.Axis
	p.Y.LineStyle.Width = 0
	p.X.Min, p.X.Max = 0, b.top()
	// The names take some two fifths of the width, and each figure its letters.
	figure := float64(utf8.RuneCountInString(l.number(b.top(), 0))+2) * l.Small * 0.6
	p.X.Tick.Marker = steps{look: l, about: max(1, min(usualMarks, 0.55*float64(w)/l.density()/figure-1))}
	p.Y.Min, p.Y.Max = -0.5, float64(len(b.Bars))-0.5
	p.Y.Tick.Marker = names{b, l, int(max(8, float64(w)/l.density()/l.Small*0.75))}
	p.Y.Tick.Length = 0
	p.Add(lines{look: l, upright: true}, barPlot{b.Bars, l})
	p.Draw(plotdraw.Crop(c, 2, -10, 2, -2))
	return paper
}

// top is a little above the greatest value.
func (b Bars) top() float64 {
	top := 0.0
	for _, bar := range b.Bars {
		for _, v := range []float64{bar.Value.Likely, bar.Value.High} {
			if !math.IsNaN(v) {
				top = max(top, v)
			}
		}
	}
	if top == 0 {
		return 1
	}
	return 1.05 * top
}

// names writes the schemes' names at their bars.
type names struct {
	Bars
	look   Look
	widest int // [letters]
}

// Ticks implements plot.Ticker.
func (n names) Ticks(_, _ float64) []plot.Tick {
	var ticks []plot.Tick
	for i, b := range n.Bars.Bars {
		ticks = append(ticks, plot.Tick{Value: float64(len(n.Bars.Bars) - 1 - i), Label: shortened(b.Name, n.widest)})
	}
	return ticks
}

// shortened cuts a name to so many letters.
func shortened(name string, letters int) string {
	runes := []rune(name)
	if len(runes) <= letters {
		return name
	}
	return string(runes[:max(1, letters-1)]) + "…"
}

// barPlot draws the bars.
type barPlot struct {
	bars []Bar
	look Look
}

// Plot implements plot.Plotter.
func (b barPlot) Plot(c plotdraw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	half := (y(1) - y(0)) * 0.32
	half = min(half, 14)
	for i, bar := range b.bars {
		if math.IsNaN(bar.Value.Likely) {
			continue
		}
		middle := y(float64(len(b.bars) - 1 - i))
		r := vg.Rectangle{Min: vg.Point{X: x(0), Y: middle - half}, Max: vg.Point{X: x(bar.Value.Likely), Y: middle + half}}
		b.look.fill(c, r, bar.Series)
		if low, high := bar.Value.Low, bar.Value.High; !math.IsNaN(low + high) {
			b.look.whisker(c, vg.Point{X: x(low), Y: middle}, vg.Point{X: x(high), Y: middle}, half*0.6)
		}
	}
}

// lines are the faint lines of a chart's grid.
type lines struct {
	look Look
	// upright lines alone, for bars; else both ways.
	upright bool
}

// Plot implements plot.Plotter.
func (g lines) Plot(c plotdraw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	style := plotdraw.LineStyle{Color: g.look.Grid, Width: 0.8}
	for _, t := range p.X.Tick.Marker.Ticks(p.X.Min, p.X.Max) {
		c.StrokeLine2(style, x(t.Value), c.Min.Y, x(t.Value), c.Max.Y)
	}
	if g.upright {
		return
	}
	for _, t := range p.Y.Tick.Marker.Ticks(p.Y.Min, p.Y.Max) {
		c.StrokeLine2(style, c.Min.X, y(t.Value), c.Max.X, y(t.Value))
	}
}
