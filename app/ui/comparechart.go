package ui

import (
	"context"
	"image"
	"image/color"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"runnel/analysis/compare"
	"runnel/app/sheet"
	"runnel/app/view"
	"runnel/geo"
)

// A chart draws itself on an image of w by h pixels.
type chart func(w, h int, l sheet.Look) *image.RGBA

// chartHeight is that of a chart, widestChart how wide it may be [dp].
const (
	chartHeight = 250
	widestChart = 560
)

// charts puts the charts two by two.
func (c *comparing) charts() fyne.CanvasObject {
	var shown []fyne.CanvasObject
	for _, draw := range c.chartList() {
		look := chartLook(c.w.look.palette, 1)
		look.Paper = color.NRGBAModel.Convert(theme.Color(theme.ColorNameBackground)).(color.NRGBA)
		p := c.easel.picture(func(_ context.Context, w, h int, density float64) (*image.RGBA, error) {
			dense := look
			dense.Density = density
			return draw(w, h, dense), nil
		})
		shown = append(shown, container.New(heightOf(chartHeight), p))
	}
	return container.NewGridWithColumns(2, shown...)
}

// chartLook is the palette's, with figures written as the window writes them.
func chartLook(p view.Palette, density float64) sheet.Look {
	l := sheet.LookOf(p, density)
	l.Number = func(v float64, places int) string { return lettered(decimal(v, places)) }
	return l
}

// lettered writes a text in the letters that the typeface of the map has: it lacks
// the thin space.
func lettered(words string) string { return strings.ReplaceAll(words, thinSpace, "\u00a0") }

// asSeen lays out what must be no wider than the page is seen, nor than is good.
type asSeen struct{ c *comparing }

// Layout implements fyne.Layout.
func (s asSeen) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	width := min(size.Width, 2*scaled(widestChart))
	if s.c.scroll != nil && s.c.scroll.Size().Width > 6*gap {
		width = min(width, s.c.scroll.Size().Width-6*gap)
	}
	objects[0].Resize(fyne.NewSize(width, size.Height))
}

// MinSize implements fyne.Layout.
func (asSeen) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(0, objects[0].MinSize().Height)
}

// A pageLayout lays out the head of the page over the rest, which it tells how wide
// it is seen.
type pageLayout struct{ c *comparing }

// Layout implements fyne.Layout.
func (p pageLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	before := objects[1].Size()
	down{}.Layout(objects, size)
	if p.c.seen != nil && objects[1].Size() != before {
		p.c.seen.Refresh()
	}
}

// MinSize implements fyne.Layout.
func (pageLayout) MinSize(objects []fyne.CanvasObject) fyne.Size { return down{}.MinSize(objects) }

// chartList are the bars of three figures, and two figures by the water's level.
func (c *comparing) chartList() []chart {
	var list []chart
	for _, f := range append(accountFigures(), rechargeFigure()) {
		if f.counts {
			list = append(list, c.bars(f).Draw)
		}
	}
	up := func(p compare.StagePoint) float64 { return p.Contact }
	list = append(list, c.curves(tr("Contact area of the channels by water level"), tr("Contact area"), units.area, up).Draw)
	up = func(p compare.StagePoint) float64 { return p.Volume }
	return append(list, c.curves(tr("Storage of the channels by water level"), tr("Storage"), units.volume, up).Draw)
}

func (c *comparing) bars(f figure) sheet.Bars {
	each, unit := c.scale(f.write)
	axis := unit
	if f.key == "recharge" {
		axis = trf("%s a season: low, likely, high", unit)
	}
	chart := sheet.Bars{Title: f.label, Axis: axis}
	for i := range c.accounts {
		likely := f.value(&c.accounts[i])
		r, ok := c.rangeOf(f, i)
		if !ok {
			r = geo.Range{Low: math.NaN(), High: math.NaN()}
		}
		r.Likely = likely
		chart.Bars = append(chart.Bars, sheet.Bar{Name: c.name(i), Value: r.Scale(1 / each), Series: i})
	}
	return chart
}

func (c *comparing) curves(title, figure string, write func(units, float64) string, up func(compare.StagePoint) float64) sheet.Curves {
	each, unit := c.scale(write)
	levels, levelUnit := c.scale(units.height)
	chart := sheet.Curves{
		Title: title, Across: trf("Water level above the survey's datum [%s]", levelUnit), Up: trf("%s [%s]", figure, unit),
		None: tr("No scheme has a channel that holds water."),
	}
	for i, stage := range c.stages {
		curve := sheet.Curve{Name: c.name(i), Series: i}
		for _, p := range stage {
			curve.X, curve.Y = append(curve.X, p.Level/levels), append(curve.Y, up(p)/each)
		}
		if len(stage) > 0 {
			chart.Curves = append(chart.Curves, curve)
		}
	}
	return chart
}

// scale returns how many of the metric unit go into the one that a figure is written
// in, and its name.
func (c *comparing) scale(write func(units, float64) string) (each float64, unit string) {
	_, unit = cutUnit(write(c.w.units, 1))
	if c.w.units == metric {
		return 1, unit
	}
	switch unit {
	case "ft²":
		return geo.Foot * geo.Foot, unit
	case "ft³":
		return geo.Foot * geo.Foot * geo.Foot, unit
	}
	return geo.Foot, unit
}
