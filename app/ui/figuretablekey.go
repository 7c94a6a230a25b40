package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// choose marks a row and brings it into sight.
func (t *figureTable) choose(row int) {
	if row < 0 || row >= t.sheet.rows {
		return
	}
	t.chosen = row
	t.bring(row)
	for _, r := range t.rows {
		r.row = -1
	}
	t.fill()
	t.onChoose(row)
}

// Tapped marks the row that is pressed, and takes the keyboard.
func (t *figureTable) Tapped(e *fyne.PointEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(t); c != nil {
		c.Focus(t)
	}
	if y := e.Position.Y - t.headHigh(); y >= 0 && !t.whole {
		t.choose(int((y + t.scroll.Offset.Y) / scaled(rowHigh)))
	}
}

// Scrolled scrolls also from over the heads and the first column.
func (t *figureTable) Scrolled(e *fyne.ScrollEvent) { t.scroll.Scrolled(e) }

// FocusGained shows that the keyboard is here.
func (t *figureTable) FocusGained() { t.ring(focusRing) }

// FocusLost shows that it is elsewhere.
func (t *figureTable) FocusLost() { t.ring(0) }

// ring draws the frame around what has the keyboard.
func (t *figureTable) ring(width float32) {
	t.frame.StrokeColor, t.frame.StrokeWidth = theme.Color(theme.ColorNamePrimary), width
	t.frame.Refresh()
}

// TypedRune does nothing.
func (t *figureTable) TypedRune(rune) {}

// TypedKey goes from row to row and from side to side.
func (t *figureTable) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		t.onPress()
	default:
		if !t.turn(e.Name) {
			t.keys(e)
		}
	}
}

// turn takes the keys that move about in the table.
func (t *figureTable) turn(key fyne.KeyName) bool {
	page := max(1, int(t.scroll.Size().Height/scaled(rowHigh))-1)
	last := t.sheet.rows - 1
	to, ok := map[fyne.KeyName]int{
		fyne.KeyUp: t.chosen - 1, fyne.KeyDown: t.chosen + 1, fyne.KeyPageUp: t.chosen - page, fyne.KeyPageDown: t.chosen + page,
		fyne.KeyHome: 0, fyne.KeyEnd: last,
	}[key]
	switch {
	case ok && !t.whole:
		t.choose(max(0, min(to, last)))
	case key == fyne.KeyLeft || key == fyne.KeyRight:
		by := scaled(leastCell)
		if key == fyne.KeyLeft {
			by = -by
		}
		t.scrollTo(t.scroll.Offset.AddXY(by, 0))
	default:
		return false
	}
	return true
}

// bring scrolls a row into sight, if it is not: to the nearer edge, or to the middle
// where it is far off.
func (t *figureTable) bring(row int) {
	high, offset, seen := scaled(rowHigh), t.scroll.Offset, t.scroll.Size().Height
	if seen <= 2*high {
		t.wanted = row
		return
	}
	switch top := float32(row) * high; {
	case top < offset.Y-2*high || top > offset.Y+seen+high:
		offset.Y = top - (seen-high)/2
	case top < offset.Y:
		offset.Y = top
	case top+high > offset.Y+seen:
		offset.Y = top + high - seen
	}
	t.scrollTo(offset)
}
