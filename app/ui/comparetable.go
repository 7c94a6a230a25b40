package ui

import (
	"context"
	"fmt"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"

	"runnel/app/view"
	"runnel/geo"
)

// The measures of the table [dp].
const (
	compareLabel  = 158 // the column of labels
	compareColumn = 132 // the column of a scheme, at least
	widestColumn  = 300 // and at most
	fewSchemes    = 4   // that leave the small maps wide
)

// mapHeight is that of the small maps of so many schemes: less where they are narrow.
func mapHeight(schemes int) heightOf {
	if schemes > fewSchemes {
		return 108
	}
	return 150
}

// compareRow lays a label and a cell for each scheme; the columns share what width
// there is.
type compareRow struct{}

// Layout implements fyne.Layout.
func (compareRow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	left, schemes := scaled(compareLabel), float32(max(1, len(objects)-1))
	each := clamp((size.Width-left)/schemes, scaled(compareColumn), scaled(widestColumn))
	at := fyne.NewPos(0, 0)
	for i, o := range objects {
		width := each
		if i == 0 {
			width = left
		}
		o.Move(at)
		o.Resize(fyne.NewSize(width-2*gap, o.MinSize().Height))
		at.X += width
	}
}

// MinSize implements fyne.Layout.
func (compareRow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	size := fyne.NewSize(scaled(compareLabel)+scaled(compareColumn)*float32(len(objects)-1), 0)
	for _, o := range objects {
		size.Height = max(size.Height, o.MinSize().Height)
	}
	return size
}

// table lays out a row for each figure, a column for each scheme.
func (c *comparing) table() fyne.CanvasObject {
	rows := container.NewVBox()
	row := func(label fyne.CanvasObject, cell func(i int) fyne.CanvasObject) {
		cells := []fyne.CanvasObject{label}
		for i := range c.accounts {
			cells = append(cells, cell(i))
		}
		rows.Add(container.New(compareRow{}, cells...))
	}
	row(paragraph(comparedHow()), c.smallMap)
	row(text("", caption), func(i int) fyne.CanvasObject { return flush(columnHead(c.name(i))) })
	rows.Add(rule())
	for _, r := range c.rows() {
		if r.head != "" {
			rows.Add(space(gap))
			rows.Add(text(r.head, heading))
		}
		row(c.label(r.figure), func(i int) fyne.CanvasObject { return c.cell(r, i) })
		rows.Add(rule())
	}
	row(c.label(figure{key: "cautions", label: tr("Cautions")}), func(i int) fyne.CanvasObject {
		return rightText(fmt.Sprint(c.cautions(i)), body)
	})
	return rows
}

// comparedHow says how the table is read.
func comparedHow() string {
	return tr("All at one scale, north up, with the water that stands in them. Beneath each figure: its difference from as it is, and its range from low to high. A difference is sure where the two ranges do not meet; of soak-in, recharge and share, where all but one in twenty draws of the same year, soil and wear agree on which is more.")
}

func (c *comparing) label(f figure) fyne.CanvasObject {
	weight := body
	if f.counts {
		weight = strong
	}
	mark := c.w.mark(f.key)
	mark.keys = c.key
	return container.New(layout.NewCustomPaddedHBoxLayout(gap), text(f.label, weight), container.NewCenter(mark))
}

// cell holds a scheme's figure, and beneath it what there is to say of it.
func (c *comparing) cell(row schemeRow, i int) fyne.CanvasObject {
	weight := body
	if row.counts {
		weight = strong
	}
	box := container.New(layout.NewCustomPaddedVBoxLayout(0), rightText(row.write(c.w.units, row.of(i)), weight))
	for _, r := range c.said(row, i) {
		t := rightText(r.words, caption)
		if r.sure {
			t.Color = theme.Color(theme.ColorNamePrimary)
		}
		if r.stale {
			t.Color = faded(t.Color, stale)
		}
		box.Add(t)
	}
	return box
}

// spanned writes a range, also one whose ends are the same.
func (w *Window) spanned(f figure, r geo.Range) string {
	if words := f.between(w.units, r); words != "" {
		return words
	}
	number, unit := cutUnit(f.write(w.units, r.Low))
	return with("≈\u00a0"+number, unit)
}

func sureDifference() string { return tr("a sure difference") }

// smallMap draws a scheme; all of them are of one size, so one camera serves.
func (c *comparing) smallMap(i int) fyne.CanvasObject {
	for len(c.maps) <= i {
		c.maps = append(c.maps, &slot{easel: c.easel})
	}
	var paint painter
	known := c.shapeFor(i)
	if known != nil {
		look := c.w.look.palette
		paint = func(ctx context.Context, w, h int, density float64) (*image.RGBA, error) {
			return drawSmall(ctx, known.scene, look, w, h, density)
		}
	}
	frame := canvas.NewRectangle(nil)
	frame.FillColor, frame.StrokeColor, frame.StrokeWidth = nil, theme.Color(theme.ColorNameSeparator), 1
	key := ""
	if known != nil {
		key = fmt.Sprintf("%p %p", known.scene, c.w.look)
	}
	p := c.maps[i].show(key, paint)
	opacity := stale
	if known != nil && known.account == c.soaked[i] {
		opacity = 1
	}
	p.fade(opacity)
	return container.New(mapHeight(len(c.accounts)), p, frame)
}

func drawSmall(ctx context.Context, scene *view.Scene, look view.Palette, w, h int, density float64) (*image.RGBA, error) {
	// Lines are drawn finer than on the map: there is less room.
	const finer = 0.75
	return view.Draw(ctx, scene, view.Fit(scene.Bound(), w, h), w, h, look.Scaled(finer*density))
}

// name is what a scheme of the comparison is called; the first is the site as it is.
func (c *comparing) name(i int) string {
	if i == 0 {
		return tr("As it is")
	}
	return c.accounts[i].Name
}
