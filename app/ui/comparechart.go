package ui

import (
	"context"
	"fmt"
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

// A pageChart is one chart of the page. Key is what it is drawn of.
type pageChart struct {
	draw chart
	// high is its height [dp]; wide charts take the page's whole width.
	high float32
	wide bool
	key  string
	// good is set where it is of the site as it is now.
	good bool
}

// chartBox puts the wide charts over the others, which stand two by two.
func (c *comparing) chartBox() fyne.CanvasObject {
	wide, others := container.NewVBox(), container.NewGridWithColumns(2)
	for i, of := range c.chartList() {
		if len(c.charts) <= i {
			c.charts = append(c.charts, &slot{easel: c.easel})
		}
		p := c.charts[i].show(fmt.Sprintf("%s %v %p", of.key, c.w.units, c.w.look), c.onPage(of.draw))
		opacity := stale
		if of.good {
			opacity = 1
		}
		p.fade(opacity)
		to := others
		if of.wide {
			to = wide
		}
		to.Add(container.New(heightOf(of.high), p))
	}
	return container.NewVBox(wide, others)
}

// onPage draws a chart on the page's ground.
func (c *comparing) onPage(draw chart) painter {
	look := chartLook(c.w.look.palette, 1)
	look.Paper = color.NRGBAModel.Convert(theme.Color(theme.ColorNameBackground)).(color.NRGBA)
	return func(_ context.Context, w, h int, density float64) (*image.RGBA, error) {
		dense := look
		dense.Density = density
		return draw(w, h, dense), nil
	}
}

// chartLook is the palette's, with figures written as the window writes them.
func chartLook(p view.Palette, density float64) sheet.Look {
	l := sheet.LookOf(p, density)
	l.Number = func(v float64, places int) string { return lettered(decimal(v, places)) }
	l.Months = monthNames()
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

// chartList are what soaks in and what it costs, then the bars of what the work is about
// and two figures by the water's level.
func (c *comparing) chartList() []pageChart {
	beside := c.soakChart()
	high := float32(beside.High(2*widestChart, chartLook(c.w.look.palette, 1)))
	// Until the first draws are known it shows what is likely.
	list := []pageChart{{draw: beside.Draw, high: high, wide: true, good: c.draws.site == c.site, key: fmt.Sprintf("%p", c.draws.site)}}
	if c.draws.site == nil {
		list[0].key = fmt.Sprintf("%p likely", c.site)
	}
	add := func(draw chart) {
		list = append(list, pageChart{draw: draw, high: chartHeight, good: c.shapes.site == c.site, key: fmt.Sprintf("%p", c.shapes.site)})
	}
	for _, row := range c.rows() {
		if row.key == "contact" || row.key == "storage" {
			add(c.bars(row).Draw)
		}
	}
	up := func(p compare.StagePoint) float64 { return p.Contact }
	add(c.curves(tr("Contact area of the channels by water level"), tr("Contact area"), units.area, up).Draw)
	up = func(p compare.StagePoint) float64 { return p.Volume }
	add(c.curves(tr("Storage of the channels by water level"), tr("Storage"), units.volume, up).Draw)
	return list
}

// soakChart lays what soaks in, the share of the draw that is put back and the cost of a
// cubic metre beside each other.
func (c *comparing) soakChart() sheet.Beside {
	chart := sheet.Beside{Title: tr("What soaks in, and what that costs"), None: tr("There is no scheme.")}
	for i := range c.accounts {
		chart.Schemes = append(chart.Schemes, c.name(i))
	}
	for _, row := range c.rows() {
		switch {
		case row.key == "soaked", row.key == "share" && row.span != nil:
			chart.Figures = append(chart.Figures, c.besides(row, row.label))
		case row.key == "cost" && strings.HasPrefix(row.label, under):
			chart.Figures = append(chart.Figures, c.besides(row, trf("Cost %s", strings.TrimPrefix(row.label, under))))
		}
	}
	return chart
}

// besides is one figure of every scheme, with its range.
func (c *comparing) besides(row schemeRow, name string) sheet.Figure {
	_, unit := cutUnit(row.write(c.w.units, 1))
	f := sheet.Figure{Axis: lettered(trf("%[1]s [%[2]s]", name, unit))}
	for i := range c.accounts {
		r := geo.Range{Low: math.NaN(), Likely: row.of(i), High: math.NaN()}
		words, _ := cutUnit(row.write(c.w.units, r.Likely))
		if row.span != nil {
			if of, ok := row.span(i); ok && !row.stale && !math.IsNaN(of.Low+of.High) {
				r.Low, r.High = of.Low, of.High
				between, _ := cutUnit(row.between(c.w.units, of))
				words = trf("%s (%s)", words, between)
			}
		}
		f.Values, f.Words = append(f.Values, r), append(f.Words, lettered(words))
	}
	return f
}

func (c *comparing) bars(row schemeRow) sheet.Bars {
	each, unit := c.scale(row.write)
	chart := sheet.Bars{Title: row.label, Axis: unit}
	for i := range c.accounts {
		r, ok := row.span(i)
		if !ok {
			r = geo.Range{Low: math.NaN(), High: math.NaN()}
		}
		r.Likely = row.of(i)
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
	for i := range c.accounts {
		s := c.shapeFor(i)
		if s == nil || len(s.stage) == 0 {
			continue
		}
		curve := sheet.Curve{Name: c.name(i), Series: i}
		for _, p := range s.stage {
			curve.X, curve.Y = append(curve.X, p.Level/levels), append(curve.Y, up(p)/each)
		}
		chart.Curves = append(chart.Curves, curve)
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
