package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// focusMap gives the keyboard to the map.
func (w *Window) focusMap() {
	if w.doc != nil {
		w.win.Canvas().Focus(w.pane)
	}
}

// nextPane gives the keyboard to the first thing that can have it in the pane so
// many on, over folded and empty ones.
func (w *Window) nextPane(by int) {
	p := w.panes
	list := []fyne.CanvasObject{p.rail, p.tools, p.tabs, p.stage, p.section, p.ledger}
	at := -1
	if by < 0 {
		at = 0
	}
	for i, pane := range list {
		if holds(pane, w.win.Canvas().Focused()) {
			at = i
		}
	}
	for range list {
		at = (at + by + len(list)) % len(list)
		if first := firstFocusable(list[at]); first != nil {
			w.win.Canvas().Focus(first)
			return
		}
	}
}

// inside are the objects that an object holds, as far as they can be seen from here.
func inside(o fyne.CanvasObject) []fyne.CanvasObject {
	switch o := o.(type) {
	case *fyne.Container:
		return o.Objects
	case *container.Scroll:
		return []fyne.CanvasObject{o.Content}
	}
	return nil
}

// firstFocusable finds what can have the keyboard first; nil for nothing.
func firstFocusable(o fyne.CanvasObject) fyne.Focusable {
	if o == nil || !o.Visible() {
		return nil
	}
	if f, ok := o.(fyne.Focusable); ok {
		if d, ok := o.(fyne.Disableable); !ok || !d.Disabled() {
			return f
		}
	}
	for _, part := range inside(o) {
		if f := firstFocusable(part); f != nil {
			return f
		}
	}
	return nil
}

// holds reports whether what has the keyboard is in an object.
func holds(o fyne.CanvasObject, focused fyne.Focusable) bool {
	if f, ok := o.(fyne.Focusable); ok && focused != nil && f == focused {
		return true
	}
	for _, part := range inside(o) {
		if holds(part, focused) {
			return true
		}
	}
	return false
}
