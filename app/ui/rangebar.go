package ui

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"runnel/geo"
)

// A rangeBar draws a range as a bar from low to high with a tick at likely, on
// a track from nought to full.
type rangeBar struct {
	widget.BaseWidget
	figure geo.Range
	full   float64
	ink    fyne.ThemeColorName
}

func newRangeBar(figure geo.Range, full float64, ink fyne.ThemeColorName) *rangeBar {
	b := &rangeBar{figure: figure, full: full, ink: ink}
	b.ExtendBaseWidget(b)
	return b
}

// show changes what the bar says.
func (b *rangeBar) show(figure geo.Range, full float64) {
	b.figure, b.full = figure, full
	b.Refresh()
}

// CreateRenderer draws the bar.
func (b *rangeBar) CreateRenderer() fyne.WidgetRenderer {
	r := &rangeBarRenderer{b: b}
	for _, rectangle := range []**canvas.Rectangle{&r.track, &r.span, &r.tick} {
		*rectangle = canvas.NewRectangle(color.Transparent)
	}
	r.span.CornerRadius = 2
	r.Refresh()
	return r
}

type rangeBarRenderer struct {
	b                 *rangeBar
	track, span, tick *canvas.Rectangle
}

// Layout places the bar's parts; a range that is not known shows the track alone.
func (r *rangeBarRenderer) Layout(size fyne.Size) {
	middle := size.Height / 2
	r.track.Move(fyne.NewPos(0, middle-0.5))
	r.track.Resize(fyne.NewSize(size.Width, 1))
	f := r.b.figure
	known := r.b.full > 0 && !math.IsNaN(f.Low+f.Likely+f.High)
	r.span.Hidden, r.tick.Hidden = !known, !known
	if !known {
		return
	}
	at := func(v float64) float32 { return size.Width * float32(min(1, max(0, v/r.b.full))) }
	r.span.Move(fyne.NewPos(at(f.Low), middle-gap))
	r.span.Resize(fyne.NewSize(max(2, at(f.High)-at(f.Low)), 2*gap))
	r.tick.Move(fyne.NewPos(min(at(f.Likely), size.Width-2), middle-1.5*gap))
	r.tick.Resize(fyne.NewSize(2, 3*gap))
}

// MinSize leaves the width to the column.
func (r *rangeBarRenderer) MinSize() fyne.Size { return fyne.NewSize(20*gap, 4*gap) }

// Refresh takes up the theme and the figure.
func (r *rangeBarRenderer) Refresh() {
	r.track.FillColor = theme.Color(theme.ColorNameSeparator)
	r.span.FillColor = faded(theme.Color(r.b.ink), 0.45)
	r.tick.FillColor = theme.Color(r.b.ink)
	r.Layout(r.b.Size())
	for _, o := range r.Objects() {
		o.Refresh()
	}
}

// Objects lists what is drawn.
func (r *rangeBarRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.track, r.span, r.tick}
}

// Destroy frees nothing.
func (r *rangeBarRenderer) Destroy() {}

// faded returns a colour at a share of its opacity.
func faded(c color.Color, share float64) color.Color {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	n.A = uint8(float64(n.A) * share)
	return n
}
