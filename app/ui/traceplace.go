package ui

import (
	"math"
	"slices"
	"time"

	"fyne.io/fyne/v2"
)

// tellFigures says in the trace what the scheme measures, whole and not rounded; a
// figure that is not known is left out, as JSON has no word for it.
func (w *Window) tellFigures() {
	a := &w.figures.scheme
	pairs := []any{"scheme", w.schemeName(), "cautions", len(a.Cautions)}
	for _, f := range []struct {
		name  string
		value float64
	}{
		{"contact", a.Contact}, {"contactOnGround", a.ContactOnGround}, {"ratio", a.Ratio}, {"wetBank", a.WetBank},
		{"surface", a.Surface}, {"storage", a.Storage}, {"length", a.Length}, {"depth", a.Depth}, {"cut", a.Cut}, {"fill", a.Fill},
		{"asItIs", w.figures.asItIs.Contact},
	} {
		if !math.IsNaN(f.value) && !math.IsInf(f.value, 0) {
			pairs = append(pairs, f.name, f.value)
		}
	}
	w.trace.say("figures", pairs...)
}

// still is how long the map must have been at rest before its place is told.
const still = 100 * time.Millisecond

// A placer says in the trace where on the screen the map's ground and the grips of
// the section are. Those who drive the window from outside press there.
type placer struct {
	w     *Window
	timer *time.Timer
	// grips are those that were told last.
	grips []sectionGrip
}

// mapMoved tells of the map once it has come to rest.
func (p *placer) mapMoved() {
	switch {
	case p.w.trace.to == nil:
	case p.timer == nil:
		p.timer = time.AfterFunc(still, func() { p.w.post(p.tellMap) })
	default:
		p.timer.Reset(still)
	}
}

// tellMap says which ground is seen at the pane's corner, and where in the window
// that corner and the size of the pane are [px].
func (p *placer) tellMap() {
	pane := p.w.pane
	if p.w.doc == nil || pane.scene == nil {
		return
	}
	x, y := p.corner(pane, pane.scale)
	p.w.trace.say("view", "west", pane.camera.West, "north", pane.camera.North, "scale", pane.camera.Scale,
		"x", x, "y", y, "width", pane.width, "height", pane.height)
}

// tellGrips says where each grip of the section is in the window [px]. While one is
// held they follow the pointer.
func (p *placer) tellGrips() {
	section := p.w.section
	if p.w.trace.to == nil || section.hold.on || section.drawn.longPicture == nil {
		return
	}
	left, top := p.corner(section.long, section.long.pixels.scale)
	long, grips := section.drawn.long, section.grips()
	if slices.Equal(grips, p.grips) {
		return
	}
	p.grips = grips
	for _, g := range grips {
		x, y := long.View.ToScreen(g.Chainage, g.Level)
		p.w.trace.say("grip", "id", g.id, "field", g.field, "level", g.Level, "x", left+x, "y", top+y)
	}
}

// corner is where an object begins in the window [px].
func (p *placer) corner(o fyne.CanvasObject, scale float64) (x, y float64) {
	at := p.w.app.Driver().AbsolutePositionForObject(o)
	return float64(at.X) * scale, float64(at.Y) * scale
}
