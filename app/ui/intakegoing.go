package ui

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// cancel goes back to where the page was come to from.
func (c *surveying) cancel() {
	c.guard(c.leave)
}

// guard does what leaves the page, but asks first where something on it would be lost.
func (c *surveying) guard(next func()) {
	words := c.lostWords()
	if !c.on || c.givenUp || words == "" {
		next()
		return
	}
	c.w.ask(prompt{
		title: tr("Leave the survey?"), size: fyne.NewSize(460, 150),
		content: container.NewPadded(wrappedLabel(words)),
		choices: []choice{{word: tr("Go on here")}, {word: tr("Leave"), do: func() { c.givenUp = true; next() }}},
	})
}

// lostWords say what would be lost with the page; empty for nothing.
func (c *surveying) lostWords() string {
	var said []string
	if n := len(c.hand.z); n > 0 {
		said = append(said, either(n, tr("The height of a line was typed here. It is lost if you leave before the ground is brought in."),
			trf("The heights of %d lines were typed here. They are lost if you leave before the ground is brought in.", n)))
	}
	if c.made != nil {
		said = append(said, tr("The ground that was made here has not been brought in yet. It is lost if you leave now."))
	}
	return strings.Join(said, " ")
}

// either is what is said of one, or of so many.
func either(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

func (c *surveying) leave() {
	c.close()
	c.w.build()
	if c.w.doc != nil {
		c.w.reshow()
	}
	c.w.focusMap()
}

// An anchor is a field of the form that stays where it is on the screen while what lies
// above it grows or shrinks, so that the pointer is over it still.
type anchor struct {
	part  *formPart
	field int
	y     float32
}

// hold keeps a field where it is until the page has settled.
func (c *surveying) hold(p *formPart, field int) {
	c.held = anchor{p, field, topOf(p.fields[field])}
}

// keepHeld scrolls the form so that the field that is held is where it was.
func (c *surveying) keepHeld() {
	h, f := c.held, c.face
	if h.part == nil || f == nil || h.field >= len(h.part.fields) {
		return
	}
	if by := topOf(h.part.fields[h.field]) - h.y; by != 0 {
		f.scroll.ScrollToOffset(fyne.NewPos(0, f.scroll.Offset.Y+by))
	}
}

// release lets go of the field that is held, once the form lies as it will.
func (c *surveying) release() {
	held := c.held
	c.w.post(func() {
		c.keepHeld()
		if c.held == held {
			c.held = anchor{}
		}
	})
}

// topOf is how far down the window a field lies [dp].
func topOf(field fyne.Focusable) float32 {
	o, ok := field.(fyne.CanvasObject)
	if !ok {
		return 0
	}
	return fyne.CurrentApp().Driver().AbsolutePositionForObject(o).Y
}
