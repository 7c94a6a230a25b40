package ui

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// A formPart is one part of the form. It is built anew where what it shows has changed,
// and the keyboard stays where it was in it.
type formPart struct {
	box    *fyne.Container
	shown  string
	fields []fyne.Focusable
}

// show builds the part unless it shows what key says already.
func (p *formPart) show(c *surveying, key string, build func() []fyne.CanvasObject) {
	if p.shown == key {
		return
	}
	p.shown = key
	at := -1
	if focused := c.w.win.Canvas().Focused(); focused != nil {
		at = slices.Index(p.fields, focused)
	}
	p.fields = nil
	p.box.Objects = build()
	p.box.Refresh()
	switch {
	case at < 0:
	case at < len(p.fields):
		c.w.win.Canvas().Focus(p.fields[at])
	case c.face != nil && c.face.view != nil: // else the keys would go to what is gone
		c.w.win.Canvas().Focus(c.face.view)
	}
}

// pick is a list of words in the form; press takes the place of that which is chosen.
func (c *surveying) pick(p *formPart, words []string, at int, press func(int)) *picker {
	s := c.w.newPicker(words)
	s.keys = c.key
	if at >= 0 {
		s.SetSelectedIndex(at)
	}
	s.OnChanged = func(string) {
		if s.SelectedIndex() != at {
			c.hold(p, slices.Index(p.fields, fyne.Focusable(s)))
			press(s.SelectedIndex())
			if c.doing == "" {
				c.release()
			}
		}
	}
	p.fields = append(p.fields, s)
	return s
}

// button is a button in the form.
func (c *surveying) button(p *formPart, word string, do func()) *button {
	b := newButton(word, do)
	b.keys = c.key
	p.fields = append(p.fields, b)
	return b
}

// typed is a text field in the form.
func (c *surveying) typed(p *formPart, given, usual string, give func(string) error) *answer {
	a := newAnswer(given, give)
	a.SetPlaceHolder(usual)
	a.turn = c.turn
	p.fields = append(p.fields, a)
	return a
}

// turned is a box to tick in the form.
func (c *surveying) turned(p *formPart, word string, on bool, change func(bool)) *tick {
	t := c.w.newTick(word, nil)
	t.leave = func() {}
	t.SetChecked(on)
	t.OnChanged = change
	p.fields = append(p.fields, t)
	return t
}

// parted puts a rule over what follows another part.
func parted(objects ...fyne.CanvasObject) []fyne.CanvasObject {
	return append([]fyne.CanvasObject{space(gap), rule(), space(gap)}, objects...)
}

// danger is a sentence of what is wrong.
func danger(words string) *widget.Label {
	l := wrappedLabel(words)
	l.Importance = widget.DangerImportance
	return l
}
