package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// A figureTable shows a sheet of figures of any length. Its heads and its first column
// stay where they are while the rest is scrolled, and only the rows that are seen
// exist. The keyboard goes from row to row.
type figureTable struct {
	widget.BaseWidget
	sheet figureSheet
	// chosen is the row that is marked, -1 for none; onChoose is told of another.
	chosen   int
	onChoose func(row int)
	// onPress is told of Return on the row that is marked.
	onPress func()
	// keys takes what the table has no use for.
	keys func(*fyne.KeyEvent) bool
	// whole is set for a table of few rows that asks for the room of all of them.
	whole bool

	// The parts that are seen: the head of the first column, the other heads, the first
	// column, the rest.
	corner, head, stub, body *fyne.Container
	clips                    [3]fyne.CanvasObject
	scroll                   *container.Scroll
	frame                    *canvas.Rectangle
	rows                     []*tableRow
	widths                   []float32
	// wanted is a row to bring into sight once there is room, -1 for none.
	wanted    int
	headLines int
}

// The measures of a table [dp].
const (
	rowHigh   = 22
	headLine  = 15
	leastCell = 58
	mostCell  = 250
	cellSpace = 14
	// mostStretch is how much wider a column may be than it needs.
	mostStretch = 2
	// mostHeadLines is how many lines of words a head has at most.
	mostHeadLines = 3
	// sampledRows is how many rows are looked at for how wide a column is.
	sampledRows = 150
)

func newFigureTable(keys func(*fyne.KeyEvent) bool) *figureTable {
	t := &figureTable{chosen: -1, wanted: -1, keys: keys, onChoose: func(int) {}, onPress: func() {}}
	t.corner, t.head, t.stub = container.NewWithoutLayout(), container.NewWithoutLayout(), container.NewWithoutLayout()
	t.body = container.New(tableBody{t})
	t.scroll = container.NewScroll(t.body)
	t.scroll.OnScrolled = func(fyne.Position) { t.fill() }
	t.clips = [3]fyne.CanvasObject{container.NewClip(t.corner), container.NewClip(t.head), container.NewClip(t.stub)}
	t.frame = canvas.NewRectangle(color.Transparent)
	t.ExtendBaseWidget(t)
	return t
}

// A tableBody is as large as all rows together.
type tableBody struct{ t *figureTable }

// Layout leaves the rows where fill puts them.
func (tableBody) Layout([]fyne.CanvasObject, fyne.Size) {}

// MinSize implements fyne.Layout.
func (b tableBody) MinSize([]fyne.CanvasObject) fyne.Size {
	width := float32(0)
	for i := 1; i < len(b.t.widths); i++ {
		width += b.t.widths[i]
	}
	return fyne.NewSize(width, float32(b.t.sheet.rows)*scaled(rowHigh))
}

// show takes a sheet; the table stays where it was scrolled to.
func (t *figureTable) show(s figureSheet) {
	if len(s.columns) != len(t.sheet.columns) {
		t.rows = nil
		t.body.RemoveAll()
		t.stub.RemoveAll()
	}
	t.sheet = s
	if t.chosen >= s.rows {
		t.chosen = -1
	}
	t.lay()
}

// lay lays out columns, heads and rows in the room that there is.
func (t *figureTable) lay() {
	if len(t.sheet.columns) == 0 || t.Size().Width <= 0 {
		return
	}
	t.measure(t.Size().Width - 1)
	t.writeHeads()
	t.placeParts(t.Size())
	t.body.Resize(t.body.MinSize().Max(t.scroll.Size()))
	t.scroll.Refresh()
	t.scrollTo(t.scroll.Offset)
	for _, r := range t.rows {
		r.row = -1
	}
	t.fill()
	if row := t.wanted; row >= 0 && t.scroll.Size().Height > scaled(2*rowHigh) {
		t.wanted = -1
		t.bring(row)
	}
}

// scrollTo scrolls as near to an offset as there is anything to see.
func (t *figureTable) scrollTo(to fyne.Position) {
	least, size := t.body.MinSize(), t.scroll.Size()
	to = fyne.NewPos(clamp(to.X, 0, max(0, least.Width-size.Width)), clamp(to.Y, 0, max(0, least.Height-size.Height)))
	if to != t.scroll.Offset {
		t.scroll.ScrollToOffset(to)
		t.fill()
	}
}

func (t *figureTable) headHigh() float32 { return float32(t.headLines)*scaled(headLine) + 2*gap }

// placeParts gives the heads, the first column and the rest their places.
func (t *figureTable) placeParts(size fyne.Size) {
	first, high := t.widths[0], t.headHigh()
	put := func(o fyne.CanvasObject, x, y, width, height float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(max(0, width), max(0, height)))
	}
	put(t.clips[0], 0, 0, first, high)
	put(t.clips[1], first, 0, size.Width-first, high)
	put(t.clips[2], 0, high, first, size.Height-high)
	put(t.scroll, first, high, size.Width-first, size.Height-high)
	put(t.frame, 0, 0, size.Width, size.Height)
}

// CreateRenderer lays the parts beside each other.
func (t *figureTable) CreateRenderer() fyne.WidgetRenderer {
	return &figureTableRenderer{t, []fyne.CanvasObject{t.scroll, t.clips[2], t.clips[1], t.clips[0], t.frame}}
}

type figureTableRenderer struct {
	t       *figureTable
	objects []fyne.CanvasObject
}

// Layout lays the table out in a size.
func (r *figureTableRenderer) Layout(fyne.Size) { r.t.lay() }

// MinSize is a few rows, or all of a table that is shown whole.
func (r *figureTableRenderer) MinSize() fyne.Size {
	t, rows := r.t, 5
	if t.whole {
		rows = t.sheet.rows
	}
	return fyne.NewSize(scaled(3*leastCell), t.headHigh()+float32(rows)*scaled(rowHigh)+1)
}

// Refresh takes up the theme.
func (r *figureTableRenderer) Refresh() { r.t.lay() }

// Objects lists what is drawn.
func (r *figureTableRenderer) Objects() []fyne.CanvasObject { return r.objects }

// Destroy frees nothing.
func (r *figureTableRenderer) Destroy() {}
