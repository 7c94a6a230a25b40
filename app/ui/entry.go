package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// An entry is a text field that marks all that it holds when the keyboard comes
// to it, by a key or by a press, so that what is typed replaces it.
type entry struct {
	widget.Entry
	held bool
}

// FocusGained marks the text.
func (e *entry) FocusGained() {
	e.Entry.FocusGained()
	e.held = true
	e.mark()
}

// FocusLost lets go.
func (e *entry) FocusLost() {
	e.Entry.FocusLost()
	e.held = false
}

// MouseDown marks the text on the press that brings the keyboard; later ones
// place the cursor.
func (e *entry) MouseDown(m *desktop.MouseEvent) {
	fresh := !e.held
	e.Entry.MouseDown(m)
	if fresh && m.Button == desktop.MouseButtonPrimary {
		e.mark()
	}
}

func (e *entry) mark() { e.TypedShortcut(&fyne.ShortcutSelectAll{}) }
