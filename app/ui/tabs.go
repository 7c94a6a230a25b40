package ui

import (
	"fmt"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"runnel/geo/plan"
)

// tabs are the schemes, over the map; beside them, which scheme shows through. The
// tabs scroll where there are more than there is room for; what stands after them is
// always in view.
type tabs struct {
	w       *Window
	object  fyne.CanvasObject
	row     *fyne.Container
	scroll  *container.Scroll
	strip   *fyne.Container
	buttons map[plan.SchemeID]*pressable
	// more offers what can be done with the schemes.
	more    *pressable
	ghost   *pressable
	compare *pressable
	shown   string
	// width is that of the strip, as the window has it now [dp].
	width float32
	// pressed is the scheme whose tab was last pressed, and when.
	pressed plan.SchemeID
	at      time.Time
}

func newTabs(w *Window) *tabs {
	t := &tabs{w: w, row: container.NewHBox()}
	t.scroll = container.NewHScroll(t.row)
	t.more = newPressable("", "+", lying, nil)
	t.more.onPress = func() { w.menuAt(t.more, w.schemeMenu(w.board.Scheme)) }
	t.ghost = newPressable("", "", lying, nil)
	t.ghost.onPress = func() { w.menuAt(t.ghost, w.ghostMenu()) }
	t.compare = newPressable("", tr("Compare"), lying, w.compareSchemes)
	t.strip = container.New(t, t.scroll, t.more, t.ghost, t.compare)
	t.object = container.New(layout.NewCustomPaddedLayout(gap, gap, 1, 1), t.strip)
	return t
}

func (t *tabs) refresh() {
	w := t.w
	t.compare.mark(w.comparing.on)
	w.comparing.refresh()
	w.channels.refresh()
	w.year.refresh()
	schemes := w.doc.Site().Plan.Schemes
	shown := fmt.Sprint(schemes, w.board.Scheme, w.ghostWord(), w.comparing.on)
	if shown == t.shown {
		return
	}
	t.shown = shown
	t.row.RemoveAll()
	t.buttons = map[plan.SchemeID]*pressable{}
	t.add(plan.Scheme{ID: plan.AsItIs, Name: tr("As it is")})
	for _, s := range schemes {
		t.add(s)
	}
	t.strip.Refresh()
}

func (t *tabs) add(s plan.Scheme) {
	b := newPressable("", shortened(s.Name, mostOfName), lying, func() { t.press(s.ID) })
	b.mark(s.ID == t.w.board.Scheme && !t.w.comparing.on)
	b.onMenu = func(fyne.Position) { t.w.menuAt(b, t.w.schemeMenu(s.ID)) }
	t.buttons[s.ID] = b
	t.row.Add(b)
}

// press shows a scheme; pressed twice at once, it asks for the scheme's name.
func (t *tabs) press(id plan.SchemeID) {
	twice := id == t.pressed && time.Since(t.at) < doubleClick
	t.pressed, t.at = id, time.Now()
	if twice {
		t.at = time.Time{}
		t.w.renameScheme(id)
		return
	}
	t.w.comparing.leave()
	t.w.showScheme(id)
}

// litFor is how long a tab is lit up.
const litFor = 2 * time.Second

// lightUp makes the tab of a scheme be noticed.
func (t *tabs) lightUp(id plan.SchemeID) {
	b := t.buttons[id]
	if b == nil {
		return
	}
	b.lit = true
	b.Refresh()
	time.AfterFunc(litFor, func() {
		t.w.post(func() {
			b.lit = false
			b.Refresh()
		})
	})
}

// leastTabs is the width that the tabs have at least [dp].
const leastTabs = 110

// room is the width that is left for the tabs by what stands after them, and what the
// ghost is called: where the room is little, not which it is.
func (t *tabs) room(width float32) (room float32, ghost string) {
	width -= t.more.MinSize().Width + t.compare.MinSize().Width
	for _, ghost = range []string{t.w.ghostWord(), tr("Ghost")} {
		word := fyne.MeasureText(ghost, theme.Size(theme.SizeNameText), fyne.TextStyle{})
		if room = width - word.Width - 4*gap; room >= scaled(leastTabs) {
			break
		}
	}
	return room, ghost
}

// Layout implements fyne.Layout: all in one row, or, where the window is narrow and
// text large, the tabs in one of their own and the rest beneath.
func (t *tabs) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	high := t.compare.MinSize().Height
	room, ghost := t.room(size.Width)
	if t.ghost.word != ghost {
		t.ghost.word = ghost
		t.ghost.Refresh()
	}
	top := float32(0)
	if room < scaled(leastTabs)/2 {
		room, top = size.Width-t.more.MinSize().Width, high
	}
	row := t.row.MinSize().Width
	put := func(o fyne.CanvasObject, x, y, width float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(width, high))
	}
	put(t.scroll, 0, 0, min(row, room))
	right := size.Width
	for _, b := range []*pressable{t.compare, t.ghost} {
		if right -= b.MinSize().Width; right < 0 {
			right, top = size.Width-b.MinSize().Width, top+high
		}
		put(b, right, top, b.MinSize().Width)
	}
	put(t.more, min(row, room), 0, t.more.MinSize().Width)
	t.reveal()
}

// MinSize implements fyne.Layout.
func (t *tabs) MinSize([]fyne.CanvasObject) fyne.Size {
	rows := float32(1)
	if room, _ := t.room(t.width); t.width > 0 && room < scaled(leastTabs)/2 {
		rows = 2
		if room+t.more.MinSize().Width < 0 {
			rows = 3
		}
	}
	return fyne.NewSize(0, rows*t.compare.MinSize().Height)
}

// fitTo tells the tabs how wide the place is that they will have.
func (t *tabs) fitTo(width float32) { t.width = width - 2 }

// reveal scrolls to the tab of the scheme that is shown.
func (t *tabs) reveal() {
	b := t.buttons[t.w.board.Scheme]
	if b == nil {
		return
	}
	from, to := b.Position().X, b.Position().X+b.MinSize().Width
	at := t.scroll.Offset.X
	if to > at+t.scroll.Size().Width {
		at = to - t.scroll.Size().Width
	}
	at = max(0, min(at, from))
	if at != t.scroll.Offset.X {
		t.scroll.ScrollToOffset(fyne.NewPos(at, 0))
	}
}

func (w *Window) menuAt(o fyne.CanvasObject, items []*fyne.MenuItem) {
	at := w.app.Driver().AbsolutePositionForObject(o).AddXY(0, o.Size().Height)
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), w.win.Canvas(), at)
}
