package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"

	"runnel/app/view"
	"runnel/geo/plan"
)

// A figurePage lays something out as figures, in parts. It takes the place of the map
// while it is on, and follows the site and the scheme that is shown.
type figurePage struct {
	standIn
	is pageKind
	// part is the place in the parts of the one that is shown; line is the thing that
	// alone is told of, 0 for all.
	part int
	line plan.ID

	// frame holds the head and the part.
	frame *fyne.Container
	parts []pagePart
	head  *pageHead
	easel *easel
	// width is that of what the page holds, as it is seen [dp].
	width float32
	// pin marks on the map the row that was chosen last.
	pin sheetPlace
}

// A pageKind is what one page has of its own.
type pageKind struct {
	title func() string
	parts func() []pagePart
	// bare reports whether there is nothing to tell of; nothing says what to do then.
	bare    func() bool
	nothing func() fyne.CanvasObject
	// ready is called before the figures are asked for, forget once the page is left.
	ready, forget func()
}

// A pagePart is one part of a page.
type pagePart interface {
	word() string
	// content makes what stands beneath the head; update writes the figures into it.
	content() fyne.CanvasObject
	update()
	// sheets are its tables, as they are copied and saved.
	sheets() []figureSheet
	// lines are what can be told of alone, all is what all of them are called.
	lines() []lineChoice
	all() string
	// works are what is worked out for it.
	works() []worked
	// focus is the table that keys move about in; nil for none.
	focus() *figureTable
}

// A lineChoice is a thing that the figures can be told of alone.
type lineChoice struct {
	id   plan.ID
	name string
}

func newFigurePage(w *Window, kind pageKind) figurePage {
	return figurePage{standIn: standIn{w: w}, is: kind, easel: newEasel(func(f func()) { w.post(f) }), parts: kind.parts()}
}

// turnOver shows the page, or goes back to the map.
func (p *figurePage) turnOver() {
	w := p.w
	if w.doc == nil {
		return
	}
	if p.on {
		p.leave()
		return
	}
	w.comparing.leave()
	w.leaveFigures()
	w.pane.tool.Cancel()
	p.on, p.pin = true, sheetPlace{}
	p.swap()
	p.refresh()
	w.menu.refresh()
	w.win.Canvas().Focus(p.head.back)
}

// leaveFigures goes back to the map from a page of figures.
func (w *Window) leaveFigures() {
	w.channels.leave()
	w.year.leave()
}

// leave goes back to the map, to the place of the row that was chosen.
func (p *figurePage) leave() {
	if !p.on {
		return
	}
	p.on, p.shown = false, ""
	p.is.forget()
	p.easel.clear()
	p.page.RemoveAll()
	p.swap()
	p.parts = p.is.parts()
	p.w.menu.refresh()
	p.w.win.Canvas().Focus(p.w.pane)
	if p.pin.id != 0 {
		p.w.showPlace(p.pin.id, p.pin.at)
	}
}

// pins mark the row that was chosen, as long as the thing that it belongs to is
// selected.
func (p *figurePage) pins() []view.Pin {
	if p.on || p.pin.id == 0 || p.w.board.Selected != p.pin.id {
		return nil
	}
	return []view.Pin{{At: p.pin.at, Name: p.pin.name, Loud: true}}
}

// refresh asks for the figures of the part that is shown, and writes those that are
// known.
func (p *figurePage) refresh() {
	if !p.on || p.w.doc == nil {
		return
	}
	p.is.ready()
	for _, of := range p.now().works() {
		of.follow()
	}
	p.build()
	p.head.update()
	if !p.is.bare() {
		p.now().update()
	}
}

func (p *figurePage) now() pagePart { return p.parts[p.part] }

// turnTo shows another part.
func (p *figurePage) turnTo(part int) {
	if p.part == part {
		return
	}
	p.part, p.line = part, 0
	p.refresh()
	p.w.trace.say("page", "of", p.is.title(), "part", p.now().word())
}

// build makes the page anew for another part, scheme, look or unit.
func (p *figurePage) build() {
	shown := fmt.Sprint(p.part, p.w.board.Scheme, p.w.units, fmt.Sprintf("%p", p.w.look), p.is.bare())
	if shown == p.shown {
		return
	}
	if p.shown != "" && p.pin.id != 0 {
		p.pin = sheetPlace{}
	}
	p.shown = shown
	p.easel.clear()
	p.head = p.newHead()
	inside := p.is.nothing()
	if !p.is.bare() {
		inside = p.now().content()
	}
	ground := canvas.NewRectangle(theme.Color(theme.ColorNameBackground)) // that the charts are drawn on
	p.frame = container.New(pageWidth{p}, p.head.object, container.New(layout.NewCustomPaddedLayout(2*gap, 2*gap, 3*gap, 3*gap), inside), space(0))
	p.page.Objects = []fyne.CanvasObject{ground, p.frame}
	p.page.Refresh()
}

// all is what the lines of a part are called together, where it has no other word.
func (p *figurePage) all() string { return tr("All of the scheme") }

// nameOfLine is what a thing is called now; its English title where it is gone.
func (p *figurePage) nameOfLine(id plan.ID, title string) string {
	if f, ok := p.w.doc.Site().Plan.Find(id); ok {
		return titleOf(f)
	}
	return told(title)
}

// key goes back on Escape, and keeps from the map what it has no use for.
func (p *figurePage) key(e *fyne.KeyEvent) bool {
	if !p.on || p.w.covered() {
		return false
	}
	if e.Name == fyne.KeyEscape {
		p.leave()
		return true
	}
	if !p.is.bare() && p.turnKey(e.Name) {
		return true
	}
	return p.w.win.Canvas().Focused() == nil
}

// turnKey takes the keys that move about in the part.
func (p *figurePage) turnKey(key fyne.KeyName) bool {
	if v, ok := p.now().(interface{ turn(fyne.KeyName) bool }); ok {
		return v.turn(key)
	}
	return p.now().focus().turn(key)
}
