package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// A tour is the card that leads through the window, and the frame around what it
// speaks of. It lies over the window and takes nothing from it: all that it speaks
// of can be used meanwhile.
type tour struct {
	w           *Window
	layer, card *fyne.Container
	frame       *canvas.Rectangle
	title       *canvas.Text
	count       *canvas.Text
	words       *widget.Label
	back, onto  *button
	at          int
}

// cardWidth is how wide the card of the tour is [dp].
const cardWidth = 340

func newTour(w *Window) *tour {
	t := &tour{w: w, frame: canvas.NewRectangle(color.Transparent), title: text("", strong), count: text("", caption), words: widget.NewLabel("")}
	t.frame.StrokeColor, t.frame.StrokeWidth, t.frame.CornerRadius = theme.Color(theme.ColorNamePrimary), 3, gap
	t.words.Wrapping = fyne.TextWrapWord
	t.title.TextSize = theme.Size(theme.SizeNameText) * 1.15
	t.back, t.onto = newButton(tr("Back"), func() { t.visit(t.at - 1) }), newButton("", func() { t.visit(t.at + 1) })
	t.onto.Importance = widget.HighImportance
	skip := newButton(tr("Skip the tour"), w.endTour)
	skip.Importance = widget.LowImportance
	for _, b := range []*button{skip, t.back, t.onto} {
		b.keys = t.typed
	}
	ground := canvas.NewRectangle(theme.Color(theme.ColorNameOverlayBackground))
	ground.StrokeColor, ground.StrokeWidth, ground.CornerRadius = theme.Color(theme.ColorNamePrimary), 1, 2*gap
	t.card = container.NewStack(ground, container.New(layout.NewCustomPaddedLayout(3*gap, 3*gap, 4*gap, 4*gap), container.New(widthOf(cardWidth),
		container.NewVBox(spread(t.title, t.count), flush(t.words), space(gap), container.NewHBox(skip, layout.NewSpacer(), t.back, t.onto)))))
	t.layer = container.New(t, t.frame, t.card)
	return t
}

// typed walks through the tour by the arrows and ends it on Escape.
func (t *tour) typed(e *fyne.KeyEvent) bool {
	switch e.Name {
	case fyne.KeyRight:
		t.visit(t.at + 1)
	case fyne.KeyLeft:
		t.visit(t.at - 1)
	case fyne.KeyEscape:
		t.w.endTour()
	default:
		return false
	}
	return true
}

// visit moves on to a stop; past the last one the tour ends.
func (t *tour) visit(i int) {
	all := stops()
	if i >= len(all) {
		t.w.endTour()
		return
	}
	t.at = max(0, i)
	s := all[t.at]
	if t.w.step != s.step {
		t.w.goTo(s.step)
	}
	say(t.title, s.title)
	say(t.count, trf("%[1]d of %[2]d", t.at+1, len(all)))
	t.words.SetText(s.does)
	t.onto.SetText(tr("Next"))
	if t.at == len(all)-1 {
		t.onto.SetText(tr("Done"))
	}
	t.back.Enable()
	if t.at == 0 {
		t.back.Disable()
	}
	t.layer.Refresh()
	t.w.win.Canvas().Focus(t.onto)
	t.w.trace.say("tour", "stop", t.at+1)
}

// Layout implements fyne.Layout: the frame around what the stop speaks of, the
// card beside it, wholly inside the window.
func (t *tour) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	s := stops()[t.at]
	of := s.of(t.w)
	if !of.Visible() {
		of, s.beside = t.w.stage, within
	}
	driver := t.w.app.Driver()
	at := driver.AbsolutePositionForObject(of).Subtract(driver.AbsolutePositionForObject(t.layer))
	t.frame.Move(at.AddXY(1, 1))
	t.frame.Resize(of.Size().Subtract(fyne.NewSquareSize(2)))
	// A text that wraps knows its height only once it has its width.
	t.card.Resize(fyne.NewSize(t.card.MinSize().Width, size.Height))
	card := t.card.MinSize()
	t.card.Resize(card)
	if s.by != nil && s.by(t.w).Visible() {
		of = s.by(t.w)
		at = driver.AbsolutePositionForObject(of).Subtract(driver.AbsolutePositionForObject(t.layer))
	}
	t.card.Move(beside(at, of.Size(), card, s.beside).inside(size, card))
}

// MinSize implements fyne.Layout.
func (t *tour) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

// A spot is where the card of the tour stands.
type spot fyne.Position

// beside is where a card stands at a side of an object.
func beside(at fyne.Position, of, card fyne.Size, s side) spot {
	const clear = 3 * gap
	switch s {
	case above:
		return spot{at.X + clear, at.Y - card.Height - clear}
	case below:
		return spot{at.X + clear, at.Y + of.Height + clear}
	case before:
		return spot{at.X - card.Width - clear, at.Y + 10*clear}
	case after:
		return spot{at.X + of.Width + clear, at.Y + 4*clear}
	}
	return spot{at.X + of.Width - card.Width - 2*clear, at.Y + 2*clear}
}

// inside moves the spot so that all of the card is in the window.
func (s spot) inside(window, card fyne.Size) fyne.Position {
	return fyne.NewPos(clamp(s.X, gap, max(gap, window.Width-card.Width-gap)), clamp(s.Y, gap, max(gap, window.Height-card.Height-gap)))
}
