package ui

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"runnel/geo/gdal"
	"runnel/geo/table"
)

// tableShown is how many rows of a table are shown, and columnWidth how wide each of
// its columns is [dp].
const (
	tableShown  = 4
	columnWidth = 76
)

// columnRoles are what a column of a table may be, as they are offered.
func columnRoles() []string {
	return []string{dash, tr("number"), tr("east"), tr("north"), tr("height"), tr("code")}
}

// tableRows show the first rows of a table, with what each column is above it.
func (c *surveying) tableRows(p *formPart, f *measuredFile) []fyne.CanvasObject {
	t := f.look.Table
	width := len(t.Header)
	for _, row := range t.First {
		width = max(width, len(row))
	}
	cells := container.NewHBox()
	for i := range width {
		column := container.NewVBox(c.pick(p, columnRoles(), roleOf(f.columns(), i), func(role int) {
			c.reread(f, func(o *gdal.SurveyOptions) {
				given := given(f.columns(), i, role)
				o.Columns = &given
			})
		}))
		if i < len(t.Header) {
			column.Add(tableCell(t.Header[i], fyne.TextStyle{Bold: true}))
		}
		for _, row := range t.First[:min(len(t.First), tableShown)] {
			word := ""
			if i < len(row) {
				word = row[i]
			}
			column.Add(tableCell(word, fyne.TextStyle{}))
		}
		cells.Add(container.New(widthOf(columnWidth), column))
	}
	scroll := container.NewHScroll(container.New(layout.NewCustomPaddedLayout(0, 2*gap, 0, 0), cells))
	swap := c.button(p, tr("Swap east and north"), func() {
		c.reread(f, func(o *gdal.SurveyOptions) {
			turned := f.columns()
			turned.X, turned.Y = turned.Y, turned.X
			o.Columns = &turned
		})
	})
	return []fyne.CanvasObject{text(tr("What each column is"), caption), scroll, swap}
}

// tableCell is one cell; what is too long for it is cut off.
func tableCell(word string, style fyne.TextStyle) fyne.CanvasObject {
	l := widget.NewLabelWithStyle(word, fyne.TextAlignLeading, style)
	l.SizeName, l.Truncation = captionSize, fyne.TextTruncateEllipsis
	return l
}

// newColumnName is a name in bold that is cut off where it is too long.
func newColumnName(word string) *widget.Label {
	l := widget.NewLabelWithStyle(word, fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
	l.Truncation = fyne.TextTruncateEllipsis
	return l
}

// places are a table's columns in the order of their roles.
func places(of *table.Columns) []*int { return []*int{&of.Name, &of.X, &of.Y, &of.Z, &of.Code} }

// roleOf is the role of a column; 0 for none.
func roleOf(of table.Columns, column int) int {
	return 1 + slices.IndexFunc(places(&of), func(place *int) bool { return *place == column })
}

// given gives a column a role. The column that had it takes the other's.
func given(of table.Columns, column, role int) table.Columns {
	all, was := places(&of), roleOf(of, column)
	if was > 0 {
		*all[was-1] = -1
	}
	if role > 0 {
		if was > 0 {
			*all[was-1] = *all[role-1]
		}
		*all[role-1] = column
	}
	return of
}
