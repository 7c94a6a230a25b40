package ui

import (
	"fmt"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"runnel/geo/plan"
)

// tabs are the schemes, over the map; beside them, which scheme shows through.
type tabs struct {
	w       *Window
	object  fyne.CanvasObject
	row     *fyne.Container
	ghost   *pressable
	compare *pressable
	shown   string
	// pressed is the scheme whose tab was last pressed, and when.
	pressed plan.SchemeID
	at      time.Time
}

func newTabs(w *Window) *tabs {
	t := &tabs{w: w, row: container.NewHBox()}
	t.ghost = newPressable("", "", lying, nil)
	t.ghost.onPress = func() { w.menuAt(t.ghost, w.ghostMenu()) }
	t.compare = newPressable("", tr("Compare"), lying, w.compareSchemes)
	t.object = container.New(layout.NewCustomPaddedLayout(gap, gap, 2*gap, 2*gap),
		container.NewBorder(nil, nil, nil, container.NewHBox(t.ghost, container.NewCenter(t.compare)), container.NewHScroll(t.row)))
	return t
}

func (t *tabs) refresh() {
	w := t.w
	t.compare.mark(w.comparing.on)
	w.comparing.refresh()
	schemes := w.doc.Site().Plan.Schemes
	said := w.ghostWord()
	shown := fmt.Sprint(schemes, w.board.Scheme, said, w.comparing.on)
	if shown == t.shown {
		return
	}
	t.shown = shown
	t.ghost.word = said
	t.ghost.Refresh()
	t.row.RemoveAll()
	t.add(plan.Scheme{ID: plan.AsItIs, Name: tr("As it is")})
	for _, s := range schemes {
		t.add(s)
	}
	more := newPressable("", "+", lying, nil)
	more.onPress = func() { w.menuAt(more, w.schemeMenu(w.board.Scheme)) }
	t.row.Add(more)
	t.row.Refresh()
}

func (t *tabs) add(s plan.Scheme) {
	b := newPressable("", s.Name, lying, func() { t.press(s.ID) })
	b.mark(s.ID == t.w.board.Scheme && !t.w.comparing.on)
	b.onMenu = func(fyne.Position) { t.w.menuAt(b, t.w.schemeMenu(s.ID)) }
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

func (w *Window) menuAt(o fyne.CanvasObject, items []*fyne.MenuItem) {
	at := w.app.Driver().AbsolutePositionForObject(o).AddXY(0, o.Size().Height)
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), w.win.Canvas(), at)
}
