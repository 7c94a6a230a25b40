package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// A standIn is a page that can take the place of the map.
type standIn struct {
	w *Window
	// on is set while the page is there.
	on bool
	// stage holds the map, page what is seen in its place.
	stage, page *fyne.Container
	// shown is what the page was built for.
	shown string
}

// over lays the page over what holds the map.
func (p *standIn) over(stage fyne.CanvasObject) *fyne.Container {
	p.stage, p.page, p.shown = container.NewStack(stage), container.NewStack(), ""
	p.swap()
	return container.NewStack(p.stage, p.page)
}

// swap shows the page or the map.
func (p *standIn) swap() {
	shown(p.stage, !p.on)
	shown(p.page, p.on)
	p.w.panes.lay() // the sections are of the map
}

// paged reports whether a page takes the map's place.
func (w *Window) paged() bool { return w.comparing.on || w.figured() }

// figured reports whether that is a page of figures.
func (w *Window) figured() bool { return w.channels.on || w.year.on }
