package ui

import (
	"unicode"

	"fyne.io/fyne/v2"

	"runnel/app/tool"
)

// FocusGained needs nothing shown: the pointer is on the map.
func (m *mapPane) FocusGained() {}

// FocusLost needs nothing shown.
func (m *mapPane) FocusLost() {}

// TypedRune zooms on + and −, and fits on f; a digit begins a figure for the next
// point; other letters take up tools.
func (m *mapPane) TypedRune(r rune) {
	middle := fyne.NewPos(m.Size().Width/2, m.Size().Height/2)
	switch r {
	case '+', '=':
		m.zoom(middle, zoomStep)
	case '-', '_':
		m.zoom(middle, 1/zoomStep)
	case 'f', 'F':
		m.fit()
	default:
		if unicode.IsDigit(r) && m.on.plot(r) {
			return
		}
		m.on.letter(r)
	}
}

// toolKeys are the keys that go to the tool first.
var toolKeys = map[fyne.KeyName]tool.Key{
	fyne.KeyReturn:    tool.Enter,
	fyne.KeyEnter:     tool.Enter,
	fyne.KeyEscape:    tool.Escape,
	fyne.KeyBackspace: tool.Backspace,
	fyne.KeyDelete:    tool.Delete,
}

// TypedKey moves the map with the arrows; other keys go to the tool.
func (m *mapPane) TypedKey(e *fyne.KeyEvent) {
	if m.scene == nil || m.on.common(e) || m.crossed(e.Name) {
		return
	}
	step := min(m.Size().Width, m.Size().Height) / 8
	switch e.Name {
	case fyne.KeyLeft:
		m.pan(step, 0)
	case fyne.KeyRight:
		m.pan(-step, 0)
	case fyne.KeyUp:
		m.pan(0, step)
	case fyne.KeyDown:
		m.pan(0, -step)
	}
	key, ok := toolKeys[e.Name]
	if !ok {
		return
	}
	taken := m.on.keyed(key)
	m.on.used()
	if !taken && key == tool.Escape {
		m.on.escaped()
	}
}
