package ui

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"github.com/paulmach/orb"
)

// Scrolled zooms about the pointer.
func (m *surveyMap) Scrolled(e *fyne.ScrollEvent) {
	if m.fitted {
		m.zoom(e.Position, math.Pow(zoomStep, float64(e.Scrolled.DY)/wheelClick))
	}
}

// MouseDown begins a drag, a stroke, or the press of a line.
func (m *surveyMap) MouseDown(e *desktop.MouseEvent) {
	if m.pressed != 0 || !m.fitted {
		return
	}
	m.c.w.win.Canvas().Focus(m)
	m.pressed, m.from, m.at, m.dragging, m.stroke = e.Button, e.Position, e.Position, false, nil
	if m.c.hand.tool == counting && e.Button == desktop.MouseButtonPrimary {
		m.stroke = orb.LineString{m.ground(e.Position)}
	}
}

// Dragged moves the map, or draws the stroke.
func (m *surveyMap) Dragged(e *fyne.DragEvent) {
	if m.pressed == 0 || !m.dragging && apart(e.Position, m.from) < slack {
		return
	}
	m.dragging = true
	last := m.at
	m.at = e.Position
	if m.stroke == nil {
		m.pan(m.at.X-last.X, m.at.Y-last.Y)
		return
	}
	m.stroke = append(m.stroke, m.ground(e.Position))
	m.raster.Refresh()
}

// DragEnd lets go.
func (m *surveyMap) DragEnd() { m.release() }

// MouseUp lets go, or presses the line there.
func (m *surveyMap) MouseUp(e *desktop.MouseEvent) {
	if m.pressed == desktop.MouseButtonPrimary && !m.dragging && m.c.hand.tool == typingHeights {
		m.pressed = 0
		if line := m.near(e.Position); line >= 0 {
			m.c.offer(line)
		}
		return
	}
	m.release()
}

func (m *surveyMap) release() {
	stroke := m.stroke
	drawn := m.pressed != 0 && m.dragging && len(stroke) > 1
	m.pressed, m.dragging, m.stroke = 0, false, nil
	if drawn {
		m.c.drag(stroke)
	}
}

// MouseIn does nothing.
func (m *surveyMap) MouseIn(*desktop.MouseEvent) {}

// MouseMoved says what is under the pointer.
func (m *surveyMap) MouseMoved(e *desktop.MouseEvent) {
	if m.c.face != nil {
		m.c.pointAt(m.ground(e.Position), m.near(e.Position))
	}
}

// MouseOut takes it away. The pointer may leave the map as the page goes from under it.
func (m *surveyMap) MouseOut() {
	if m.c.face != nil {
		say(m.c.face.below, "")
	}
}

// Cursor is a cross where a press does something to a line.
func (m *surveyMap) Cursor() desktop.Cursor {
	if m.c.hand.tool != lookingOver {
		return desktop.CrosshairCursor
	}
	return desktop.DefaultCursor
}

// FocusGained shows that the keyboard is here.
func (m *surveyMap) FocusGained() {
	m.ring.StrokeColor, m.ring.StrokeWidth = theme.Color(theme.ColorNamePrimary), focusRing
	m.ring.Refresh()
}

// FocusLost shows that it is elsewhere.
func (m *surveyMap) FocusLost() {
	m.ring.StrokeWidth = 0
	m.ring.Refresh()
}

// TypedRune brings the map closer and further off, and fits it.
func (m *surveyMap) TypedRune(r rune) {
	middle := fyne.NewPos(m.Size().Width/2, m.Size().Height/2)
	switch r {
	case '+', '=':
		m.zoom(middle, zoomStep)
	case '-', '−':
		m.zoom(middle, 1/zoomStep)
	case 'f', 'F':
		m.fit()
	}
}

// TypedKey moves the map.
func (m *surveyMap) TypedKey(e *fyne.KeyEvent) {
	const step = 60
	by, ok := map[fyne.KeyName]fyne.Delta{
		fyne.KeyLeft: {DX: step}, fyne.KeyRight: {DX: -step}, fyne.KeyUp: {DY: step}, fyne.KeyDown: {DY: -step},
	}[e.Name]
	if ok {
		m.pan(by.DX, by.DY)
		return
	}
	m.c.key(e)
}
