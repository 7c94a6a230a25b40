package ui

import (
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
)

// measure finds how wide the columns are: as wide as their heads and figures need, and
// wider where there is room.
func (t *figureTable) measure(room float32) {
	s := &t.sheet
	t.widths = make([]float32, len(s.columns))
	all, size := float32(0), theme.Size(theme.SizeNameText)
	step := max(1, s.rows/sampledRows)
	for i, c := range s.columns {
		wide := scaled(leastCell)
		for _, word := range append(strings.Fields(c.head), bracketed(c.unit)) {
			wide = max(wide, widthIn(word, theme.Size(theme.SizeNameCaptionText))+cellSpace)
		}
		for row := 0; row < s.rows; row += step {
			wide = max(wide, widthIn(c.cell(row), size)+cellSpace)
		}
		for len(brokenHead(c.head, wide)) > mostHeadLines {
			wide += gap
		}
		t.widths[i] = min(wide, scaled(mostCell))
		all += t.widths[i]
	}
	stretch := max(1, min(mostStretch, room/all))
	for i := range t.widths {
		t.widths[i] = float32(int(t.widths[i] * stretch)) // so that no gap shows between them
	}
}

// widthIn is how wide bold words are in a size.
func widthIn(words string, size float32) float32 {
	return fyne.MeasureText(words, size, fyne.TextStyle{Bold: true}).Width
}

func bracketed(unit string) string {
	if unit == "" {
		return ""
	}
	return "[" + unit + "]"
}

// headWords are the lines of a head, the unit in the last.
func (t *figureTable) headWords(i int) []string {
	c := t.sheet.columns[i]
	lines := brokenHead(c.head, t.widths[i])
	if c.unit != "" {
		lines = append(lines, bracketed(c.unit))
	}
	return lines
}

// brokenHead breaks a head into lines that a column of a width has room for.
func brokenHead(head string, width float32) []string {
	lines, size := []string{""}, theme.Size(theme.SizeNameCaptionText)
	for _, word := range strings.Fields(head) {
		last := &lines[len(lines)-1]
		switch longer := strings.TrimSpace(*last + " " + word); {
		case *last == "" || widthIn(longer, size) <= width-cellSpace:
			*last = longer
		default:
			lines = append(lines, word)
		}
	}
	return lines
}

// writeHeads writes the heads, all on one foot.
func (t *figureTable) writeHeads() {
	all := make([][]string, len(t.widths))
	t.headLines = 1
	for i := range all {
		all[i] = t.headWords(i)
		t.headLines = max(t.headLines, len(all[i]))
	}
	t.corner.Objects, t.head.Objects = nil, nil
	x := float32(0)
	for i, lines := range all {
		into := t.head
		if i == 0 {
			into = t.corner
		}
		into.Objects = append(into.Objects, t.headGround(x, t.widths[i]))
		for k, line := range lines {
			words := text(line, caption)
			words.Color = theme.Color(theme.ColorNameForeground)
			words.TextStyle.Bold = k < len(lines)-1 || t.sheet.columns[i].unit == ""
			words.Alignment = t.align(i)
			words.Move(fyne.NewPos(x+cellSpace/2, gap+float32(t.headLines-len(lines)+k)*scaled(headLine)))
			words.Resize(fyne.NewSize(t.widths[i]-cellSpace, scaled(headLine)))
			into.Objects = append(into.Objects, words)
		}
		if i > 0 {
			x += t.widths[i]
		}
	}
	t.head.Move(fyne.NewPos(-t.scroll.Offset.X, 0))
	t.corner.Refresh()
	t.head.Refresh()
}

func (t *figureTable) headGround(x, width float32) fyne.CanvasObject {
	ground := canvas.NewRectangle(theme.Color(theme.ColorNameHeaderBackground))
	ground.Move(fyne.NewPos(x, 0))
	ground.Resize(fyne.NewSize(width+t.Size().Width, t.headHigh())) // the next lies over it, and after the last is nothing
	return ground
}

// align sets numbers at the right, so that their decimals stand below each other.
func (t *figureTable) align(column int) fyne.TextAlign {
	if c := t.sheet.columns[column]; c.words != nil && !c.right {
		return fyne.TextAlignLeading
	}
	return fyne.TextAlignTrailing
}

// A tableRow is a row as it is shown: its first cell, which stays, and the others.
type tableRow struct {
	row         int
	first, rest *fyne.Container
	grounds     [2]*canvas.Rectangle
	rules       [2]*canvas.Rectangle
	cells       []*canvas.Text
}

func (t *figureTable) newRow() *tableRow {
	r := &tableRow{row: -1, first: container.NewWithoutLayout(), rest: container.NewWithoutLayout()}
	for i, into := range []*fyne.Container{r.first, r.rest} {
		r.grounds[i], r.rules[i] = canvas.NewRectangle(color.Transparent), canvas.NewRectangle(color.Transparent)
		into.Add(r.grounds[i])
		into.Add(r.rules[i])
	}
	for i := range t.sheet.columns {
		cell := text("", body)
		r.cells = append(r.cells, cell)
		if i == 0 {
			r.first.Add(cell)
		} else {
			r.rest.Add(cell)
		}
	}
	t.stub.Add(r.first)
	t.body.Add(r.rest)
	return r
}

// fill shows the rows that are seen, and no others.
func (t *figureTable) fill() {
	if len(t.widths) == 0 {
		return
	}
	high := scaled(rowHigh)
	from := int(t.scroll.Offset.Y / high)
	seen := int(t.scroll.Size().Height/high) + 2
	for len(t.rows) < seen {
		t.rows = append(t.rows, t.newRow())
	}
	for k := range len(t.rows) {
		// A row keeps its place among those that exist, so that scrolling writes only
		// the rows that have come into sight.
		row := from - from%len(t.rows) + k
		if row < from {
			row += len(t.rows)
		}
		t.put(t.rows[k], row)
	}
	t.head.Move(fyne.NewPos(-t.scroll.Offset.X, 0))
}

// put writes a row and moves it to its place.
func (t *figureTable) put(r *tableRow, row int) {
	inside := row < t.sheet.rows
	shown(r.first, inside)
	shown(r.rest, inside)
	if !inside {
		r.row = -1
		return
	}
	y := float32(row) * scaled(rowHigh)
	r.first.Move(fyne.NewPos(0, y-t.scroll.Offset.Y))
	r.rest.Move(fyne.NewPos(0, y))
	if r.row == row {
		return
	}
	r.row = row
	t.write(r)
}

func (t *figureTable) write(r *tableRow) {
	high := scaled(rowHigh)
	wide := [2]float32{t.widths[0], max(t.body.MinSize().Width, t.scroll.Size().Width)}
	for i, into := range []*fyne.Container{r.first, r.rest} {
		into.Resize(fyne.NewSize(wide[i], high))
		r.grounds[i].FillColor = color.Transparent
		if r.row == t.chosen {
			r.grounds[i].FillColor = theme.Color(theme.ColorNameSelection)
		}
		r.grounds[i].Resize(fyne.NewSize(wide[i], high))
		r.rules[i].FillColor = theme.Color(theme.ColorNameSeparator)
		r.rules[i].Move(fyne.NewPos(0, high-1))
		r.rules[i].Resize(fyne.NewSize(wide[i], 1))
	}
	ink := theme.Color(theme.ColorNameForeground)
	if t.sheet.stale {
		ink = faded(ink, stale)
	}
	x := float32(0)
	for i, cell := range r.cells {
		cell.Text, cell.Color, cell.Alignment = t.cut(t.sheet.columns[i], r.row, t.widths[i]), ink, t.align(i)
		cell.TextStyle.Bold = t.sheet.heavy != nil && t.sheet.heavy(r.row)
		cell.TextSize = theme.Size(theme.SizeNameText)
		cell.Move(fyne.NewPos(x+cellSpace/2, (high-cell.MinSize().Height)/2))
		cell.Resize(fyne.NewSize(t.widths[i]-cellSpace, cell.MinSize().Height))
		if i > 0 {
			x += t.widths[i]
		}
	}
	r.first.Refresh()
	r.rest.Refresh()
}

// cut is a cell as far as its column has room for it.
func (t *figureTable) cut(c figureColumn, row int, width float32) string {
	words := c.cell(row)
	if c.words == nil {
		return words
	}
	for n := len([]rune(words)); n > 1 && widthIn(words, theme.Size(theme.SizeNameText)) > width-gap; n-- {
		words = shortened(c.cell(row), n-1)
	}
	return words
}
