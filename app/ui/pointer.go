package ui

import (
	"math"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"runnel/app/tool"
)

const (
	slack       = 4                      // how far a click may stray before it is a drag [dp]
	doubleClick = 350 * time.Millisecond // between the clicks of a double click
	reach       = 8                      // of the pointer to a thing on the map [dp]
	wheelClick  = 25                     // what the toolkit reports for one click of the wheel
	zoomStep    = 1.2                    // for one click of the wheel
)

// A hand is what the pointer is doing on the map. The toolkit reports a drag
// without its button, so the button is kept from the press.
type hand struct {
	pressed desktop.MouseButton
	from    fyne.Position
	// dragging is set once the press has strayed; panning when the map goes with it.
	dragging, panning bool
	// clicked and clickAt are of the last click; lastAt is where the pointer is.
	clicked         time.Time
	clickAt, lastAt fyne.Position
}

func apart(a, b fyne.Position) float64 {
	return math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y))
}

func (m *mapPane) pointer(at fyne.Position) tool.Pointer {
	p := tool.Pointer{At: m.ground(at), Reach: reach * m.scale / m.camera.Scale}
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		p.Shift = d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0
		p.Ctrl = d.CurrentKeyModifiers()&fyne.KeyModifierControl != 0
	}
	return p
}

// MouseDown presses the tool down, or takes hold of the map.
func (m *mapPane) MouseDown(e *desktop.MouseEvent) {
	if m.scene == nil || m.hand.pressed != 0 {
		return
	}
	if c := fyne.CurrentApp().Driver().CanvasForObject(m); c != nil {
		c.Focus(m)
	}
	m.hand.pressed, m.hand.from = e.Button, e.Position
	m.hand.dragging, m.hand.panning = false, e.Button == desktop.MouseButtonTertiary
	if e.Button != desktop.MouseButtonPrimary {
		return
	}
	p := m.pointer(e.Position)
	p.Shift = p.Shift || e.Modifier&fyne.KeyModifierShift != 0
	p.Ctrl = p.Ctrl || e.Modifier&fyne.KeyModifierControl != 0
	p.Double = time.Since(m.hand.clicked) < doubleClick && apart(e.Position, m.hand.clickAt) < slack
	m.tool.Down(p)
	m.on.used()
}

// Dragged moves the tool, or the map where the tool holds nothing.
func (m *mapPane) Dragged(e *fyne.DragEvent) {
	h := &m.hand
	if m.scene == nil || h.pressed == 0 {
		return
	}
	if !h.dragging && apart(e.Position, h.from) < slack {
		return
	}
	if !h.dragging && h.pressed == desktop.MouseButtonPrimary && !m.tool.Sketch().Gripped {
		m.tool.Cancel()
		h.panning = true
		m.on.used()
	}
	dx, dy := e.Dragged.DX, e.Dragged.DY
	if !h.dragging {
		dx, dy = e.Position.X-h.from.X, e.Position.Y-h.from.Y
	}
	h.dragging = true
	m.point(e.Position)
	switch {
	case h.panning:
		m.pan(dx, dy)
	case h.pressed == desktop.MouseButtonPrimary:
		m.tool.Move(m.pointer(e.Position))
		m.on.used()
	}
}

// DragEnd ends a drag whose release the toolkit gave to another widget.
func (m *mapPane) DragEnd() {
	if m.hand.pressed != 0 && m.hand.dragging {
		m.release(m.hand.lastAt)
	}
}

// MouseUp lets go.
func (m *mapPane) MouseUp(e *desktop.MouseEvent) {
	if m.hand.pressed == 0 || e.Button != m.hand.pressed {
		return
	}
	if e.Button == desktop.MouseButtonSecondary && apart(e.Position, m.hand.from) < slack {
		m.hand.pressed = 0
		m.on.menu(e.AbsolutePosition)
		return
	}
	m.release(e.Position)
}

func (m *mapPane) release(at fyne.Position) {
	h := &m.hand
	up := h.pressed == desktop.MouseButtonPrimary && !h.panning
	if !h.dragging {
		h.clicked, h.clickAt = time.Now(), at
	}
	h.pressed, h.dragging, h.panning = 0, false, false
	if up {
		m.tool.Up(m.pointer(at))
	}
	m.on.used()
}

// MouseIn shows the pointer's place.
func (m *mapPane) MouseIn(e *desktop.MouseEvent) { m.MouseMoved(e) }

// MouseMoved follows the pointer with no button held.
func (m *mapPane) MouseMoved(e *desktop.MouseEvent) {
	if m.scene == nil {
		return
	}
	m.cross = cross{}
	m.point(e.Position)
	if m.hand.pressed == 0 {
		m.tool.Move(m.pointer(e.Position))
		m.on.used()
	}
}

// MouseOut takes the pointer's place away.
func (m *mapPane) MouseOut() {
	m.inside = false
	m.on.hovered()
	m.on.used()
}

func (m *mapPane) point(at fyne.Position) {
	m.hand.lastAt = at
	m.at, m.inside = m.ground(at), true
	m.on.hovered()
}

// Scrolled zooms about the pointer.
func (m *mapPane) Scrolled(e *fyne.ScrollEvent) {
	if m.scene != nil {
		m.zoom(e.Position, math.Pow(zoomStep, float64(e.Scrolled.DY)/wheelClick))
	}
}
