package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// A finder is the box over the window that finds a command by a few of its letters.
type finder struct {
	w     *Window
	field *finderField
	rows  *fyne.Container
	popup *widget.PopUp
	found []find
	// at is the place in found of the row that Return runs; first is the topmost
	// that is shown.
	at, first int
}

const (
	finderRows  = 10
	finderWidth = 560 // [dp]
)

// findCommand opens the box.
func (w *Window) findCommand() {
	w.menu.refresh()
	f := &finder{w: w, rows: container.New(layout.NewCustomPaddedVBoxLayout(0))}
	f.field = newFinderField(f)
	// The box is as tall with few rows as with many, so that nothing jumps.
	least := canvas.NewRectangle(theme.Color(theme.ColorNameOverlayBackground))
	least.SetMinSize(fyne.NewSize(1, finderRows*f.rowHeight()))
	hint := text(tr("Arrows choose, Return runs, Escape closes."), caption)
	body := container.NewBorder(container.NewVBox(f.field, space(gap)), container.NewVBox(space(gap), hint), nil, nil, container.NewStack(least, f.rows))
	f.popup = widget.NewPopUp(container.New(widthOf(finderWidth), padded(body)), w.win.Canvas())
	f.look("")
	size := w.win.Canvas().Size()
	f.popup.ShowAtPosition(fyne.NewPos((size.Width-f.popup.MinSize().Width)/2, 12*gap))
	w.win.Canvas().Focus(f.field)
}

func (f *finder) rowHeight() float32 { return text("A", body).MinSize().Height + 2*gap }

// look shows the commands that fit what is typed.
func (f *finder) look(typed string) {
	f.found = finds(f.w.menu.commands, typed)
	f.at, f.first = 0, 0
	f.draw()
}

// choose marks another row.
func (f *finder) choose(by int) {
	if len(f.found) == 0 {
		return
	}
	f.at = max(0, min(len(f.found)-1, f.at+by))
	f.first = max(min(f.first, f.at), f.at-finderRows+1)
	f.draw()
}

func (f *finder) draw() {
	f.rows.RemoveAll()
	for i := f.first; i < min(len(f.found), f.first+finderRows); i++ {
		f.rows.Add(f.row(i))
	}
	if len(f.found) == 0 {
		f.rows.Add(text(tr("No command fits. Try another word for it."), body))
	}
	f.rows.Refresh()
}

// row shows a command: its menu, its name, its keys; greyed with the reason where
// it cannot run now.
func (f *finder) row(i int) fyne.CanvasObject {
	c := f.found[i].command
	name, menu, keys := text(c.title(), body), text(c.menu.String(), caption), rightText(c.pressed(), caption)
	if c.on != nil && c.on() {
		name.Text = "✓ " + name.Text
	}
	if why := c.why(); why != "" {
		name.Color = theme.Color(theme.ColorNameDisabled)
		keys.Text = why
	}
	keys.Text = fitting(keys, scaled(finderWidth)-name.MinSize().Width-scaled(60)-14*gap, []string{keys.Text})
	line := container.NewBorder(nil, nil, container.NewHBox(container.New(widthOf(60), menu), name), keys)
	r := newPressRow(container.New(layout.NewCustomPaddedLayout(gap, gap, 2*gap, 2*gap), line), func() { f.run(i) })
	if i == f.at {
		r.ground.FillColor = theme.Color(theme.ColorNameSelection)
	}
	return r
}

// run closes the box and runs a command; one that cannot run says why, and the
// box stays.
func (f *finder) run(i int) {
	if i >= len(f.found) {
		return
	}
	c := f.found[i].command
	if c.why() != "" {
		f.at = i
		f.draw()
		return
	}
	f.popup.Hide()
	f.w.run(c)
}

// A finderField is where the letters are typed; the keys that choose and run go to
// the box.
type finderField struct {
	entry
	f *finder
}

func newFinderField(f *finder) *finderField {
	e := &finderField{f: f}
	e.ExtendBaseWidget(e)
	e.SetPlaceHolder(tr("What would you like to do?"))
	e.OnChanged = f.look
	return e
}

// TypedKey chooses, runs and closes.
func (e *finderField) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyDown:
		e.f.choose(1)
	case fyne.KeyUp:
		e.f.choose(-1)
	case fyne.KeyPageDown:
		e.f.choose(finderRows)
	case fyne.KeyPageUp:
		e.f.choose(-finderRows)
	case fyne.KeyReturn, fyne.KeyEnter:
		e.f.run(e.f.at)
	case fyne.KeyEscape:
		e.f.popup.Hide()
	default:
		e.Entry.TypedKey(k)
	}
}
