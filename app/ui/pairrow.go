package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
)

// A pairRow is a figure of the scheme and of the site as it is; beneath, small, how
// they differ and between which values each lies.
type pairRow struct {
	object               fyne.CanvasObject
	now, was             *canvas.Text
	differs, span, wasIn *canvas.Text
	// small is the line beneath.
	small *fyne.Container
}

// paired is what a row says. Stale is set where its figures are of the drawing before,
// staleSpan where its ranges are.
type paired struct {
	now, was, differs, span, wasIn string
	stale, staleSpan               bool
}

func newPairRow(w *Window, f figure) *pairRow {
	weight := body
	if f.counts {
		weight = strong
	}
	r := &pairRow{
		now: rightText("", weight), was: rightText("", body),
		differs: text("", caption), span: rightText("", caption), wasIn: rightText("", caption),
	}
	r.small = container.New(figureGrid{}, r.differs, r.span, r.wasIn)
	r.object = container.New(layout.NewCustomPaddedVBoxLayout(0),
		container.New(figureGrid{}, w.labelled(f.label, weight, f.key), r.now, r.was), r.small)
	return r
}

// stale is the opacity of what newer figures have overtaken.
const stale = 0.55

// show writes the row; that of the site alone leaves the scheme's column empty.
func (r *pairRow) show(is paired, alone bool) {
	if alone {
		is.now, is.differs, is.span = "", "", ""
	}
	ink, small := theme.Color(theme.ColorNameForeground), theme.Color(quietColour)
	if is.stale {
		ink = faded(ink, stale)
	}
	paint(r.now, is.now, ink)
	paint(r.was, is.was, ink)
	paint(r.differs, is.differs, small)
	if is.staleSpan {
		small = faded(small, stale)
	}
	fit(r.span, is.span, schemeColumn, small)
	fit(r.wasIn, is.wasIn, siteColumn, small)
}

// fit says a range in a column. Where that is too narrow for it, its unit is left to
// the figure above.
func fit(t *canvas.Text, words string, column float32, ink color.Color) {
	size := fyne.MeasureText(words, t.TextSize, t.TextStyle)
	if size.Width > scaled(column)-gap {
		words, _ = cutUnit(words)
	}
	if t.Text != words || t.Color != ink {
		t.Text, t.Color = words, ink
		t.Refresh()
	}
}

// figureGrid lays a label and two figures in three columns, of which the first
// gives way: what does not fit the second or the third reaches into it.
type figureGrid struct{}

// schemeColumn and siteColumn are the widths of the figures [dp].
const (
	schemeColumn = 92
	siteColumn   = 84
)

// Layout implements fyne.Layout.
func (figureGrid) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	right := size.Width
	for i, column := range []float32{siteColumn, schemeColumn} {
		o, width := objects[2-i], scaled(column)-gap
		if _, words := o.(*canvas.Text); words {
			width = max(width, o.MinSize().Width)
		}
		place(o, right-width, width, size.Height)
		right -= scaled(column)
	}
	place(objects[0], 0, max(objects[0].MinSize().Width, right), size.Height)
}

// place puts an object in a column, in the middle of the row's height.
func place(o fyne.CanvasObject, left, width, height float32) {
	o.Resize(fyne.NewSize(width, o.MinSize().Height))
	o.Move(fyne.NewPos(left, (height-o.MinSize().Height)/2))
}

// MinSize is the height of the tallest; the width is what the ledger gives.
func (figureGrid) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var size fyne.Size
	for _, o := range objects {
		size.Height = max(size.Height, o.MinSize().Height)
	}
	return size
}
