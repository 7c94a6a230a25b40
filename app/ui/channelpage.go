package ui

import (
	"fmt"
	"sync/atomic"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"

	"runnel/app/view"
	"runnel/geo/plan"
)

// A channelPage lays the scheme's channels out as figures. It takes the place of the
// map while it is on, and follows the site and the scheme that is shown.
type channelPage struct {
	standIn
	// part is the place in the parts of the one that is shown; line is the thing that
	// alone is told of, 0 for all.
	part int
	line plan.ID

	stages   *afterwards[staged]
	profiles *afterwards[[]profiled]
	pegs     *afterwards[pegged]
	pegging  pegging
	// levelsIn are the units that the table's levels are round in; another goroutine
	// reads it.
	levelsIn atomic.Uint32

	// frame holds the head and the part.
	frame *fyne.Container
	parts []channelPart
	head  *channelHead
	easel *easel
	// width is that of what the page holds, as it is seen [dp].
	width float32
	// pin marks on the map the row that was chosen last.
	pin sheetPlace
}

// A channelPart is one part of the page.
type channelPart interface {
	word() string
	// content makes what stands beneath the head; update writes the figures into it.
	content() fyne.CanvasObject
	update()
	// sheets are its tables, as they are copied and saved.
	sheets() []figureSheet
	// lines are what can be told of alone.
	lines() []lineChoice
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

func newChannelPage(w *Window) *channelPage {
	p := &channelPage{standIn: standIn{w: w}, easel: newEasel(func(f func()) { w.post(f) })}
	p.stages, p.profiles, p.pegs = newAfterwards(w, p.findStages), newAfterwards(w, findProfiles), newAfterwards(w, p.findPegs)
	wanted := func() bool { return p.on && w.figures.of != plan.AsItIs }
	p.stages.wanted, p.profiles.wanted, p.pegs.wanted = wanted, wanted, wanted
	p.stages.took, p.profiles.took, p.pegs.took = p.refresh, p.refresh, p.refresh
	w.outcomes.dig.then(p.refresh)
	w.outcomes.flow.then(p.refresh)
	w.outcomes.worth.then(p.refresh)
	p.makeParts()
	return p
}

func (p *channelPage) makeParts() {
	p.parts = []channelPart{&levelPart{channelPage: p}, &stationPart{channelPage: p}, &worthPart{channelPage: p}, &pegPart{channelPage: p}}
}

// channelFigures lays out the figures of the channels, or goes back to the map.
func (w *Window) channelFigures() {
	if w.doc == nil {
		return
	}
	p := w.channels
	if p.on {
		p.leave()
		return
	}
	w.comparing.leave()
	w.pane.tool.Cancel()
	p.on, p.pin = true, sheetPlace{}
	p.swap()
	p.refresh()
	w.menu.refresh()
	w.win.Canvas().Focus(p.head.back)
}

// leave goes back to the map, to the place of the row that was chosen.
func (p *channelPage) leave() {
	if !p.on {
		return
	}
	p.on, p.shown = false, ""
	p.stages.forget()
	p.profiles.forget()
	p.pegs.forget()
	p.easel.clear()
	p.page.RemoveAll()
	p.swap()
	p.makeParts()
	p.w.menu.refresh()
	p.w.win.Canvas().Focus(p.w.pane)
	if p.pin.id != 0 {
		p.w.showPlace(p.pin.id, p.pin.at)
	}
}

// pins mark the row that was chosen, as long as the thing that it belongs to is
// selected.
func (p *channelPage) pins() []view.Pin {
	if p.on || p.pin.id == 0 || p.w.board.Selected != p.pin.id {
		return nil
	}
	return []view.Pin{{At: p.pin.at, Name: p.pin.name, Loud: true}}
}

// refresh asks for the figures of the part that is shown, and writes those that are
// known.
func (p *channelPage) refresh() {
	if !p.on || p.w.doc == nil {
		return
	}
	if was := p.levelsIn.Swap(uint32(p.w.units)); was != uint32(p.w.units) {
		p.stages.forget()
	}
	for _, of := range p.now().works() {
		of.follow()
	}
	p.build()
	p.head.update()
	if !p.bare() {
		p.now().update()
	}
}

func (p *channelPage) now() channelPart { return p.parts[p.part] }

// turnTo shows another part.
func (p *channelPage) turnTo(part int) {
	if p.part == part {
		return
	}
	p.part, p.line = part, 0
	p.refresh()
	p.w.trace.say("channel figures", "part", p.now().word())
}

// build makes the page anew for another part, scheme, look or unit.
func (p *channelPage) build() {
	shown := fmt.Sprint(p.part, p.w.board.Scheme, p.w.units, fmt.Sprintf("%p", p.w.look), p.bare())
	if shown == p.shown {
		return
	}
	if p.shown != "" && p.pin.id != 0 {
		p.pin = sheetPlace{}
	}
	p.shown = shown
	p.easel.clear()
	p.head = p.newHead()
	inside := p.nothing()
	if !p.bare() {
		inside = p.now().content()
	}
	ground := canvas.NewRectangle(theme.Color(theme.ColorNameBackground)) // that the charts are drawn on
	p.frame = container.New(pageWidth{p}, p.head.object, container.New(layout.NewCustomPaddedLayout(2*gap, 2*gap, 3*gap, 3*gap), inside), space(0))
	p.page.Objects = []fyne.CanvasObject{ground, p.frame}
	p.page.Refresh()
}

// bare reports whether the scheme has no channel to tell of.
func (p *channelPage) bare() bool { return p.w.alone() || len(p.channels()) == 0 }

// channels are those that the scheme has drawn.
func (p *channelPage) channels() []lineChoice {
	var list []lineChoice
	for _, f := range p.w.doc.Site().Plan.In(p.w.board.Scheme) {
		if f.Kind == plan.Channel {
			list = append(list, lineChoice{f.ID, titleOf(f)})
		}
	}
	return list
}

// nameOfLine is what a thing is called now; its English title where it is gone.
func (p *channelPage) nameOfLine(id plan.ID, title string) string {
	if f, ok := p.w.doc.Site().Plan.Find(id); ok {
		return titleOf(f)
	}
	return told(title)
}

// key goes back on Escape, and keeps from the map what it has no use for.
func (p *channelPage) key(e *fyne.KeyEvent) bool {
	if !p.on || p.w.covered() {
		return false
	}
	if e.Name == fyne.KeyEscape {
		p.leave()
		return true
	}
	if !p.bare() && p.turn(e.Name) {
		return true
	}
	return p.w.win.Canvas().Focused() == nil
}

// turn takes the keys that move about in the part.
func (p *channelPage) turn(key fyne.KeyName) bool {
	if v, ok := p.now().(*worthPart); ok {
		return v.turn(key)
	}
	return p.now().focus().turn(key)
}
