package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"runnel/app/report"
)

// A queryMark is the small '?' at a figure: pressed, it says how the figure was
// found.
type queryMark struct {
	widget.BaseWidget
	// key is that of the figure's method.
	key              string
	hovered, focused bool
	onPress          func()
	// keys takes what the mark has no use for; nil where nothing does.
	keys func(*fyne.KeyEvent) bool
}

// mark makes the '?' of a figure.
func (w *Window) mark(key string) *queryMark {
	m := &queryMark{key: key}
	m.onPress = func() { w.explain(m) }
	m.ExtendBaseWidget(m)
	return m
}

// labelled is a text with the '?' of what it names behind it.
func (w *Window) labelled(words string, r role, key string) fyne.CanvasObject {
	return container.New(layout.NewCustomPaddedHBoxLayout(gap), text(words, r), container.NewCenter(w.mark(key)))
}

// markSize is how large a mark is drawn, and markReach what a press may hit [dp].
const (
	markSize  = 13
	markReach = 18
)

// explain opens beneath a mark how its figure was found.
func (w *Window) explain(m *queryMark) {
	method, ok := report.MethodOf(m.key)
	if !ok {
		return
	}
	const width = 300
	words := container.New(layout.NewCustomPaddedVBoxLayout(gap),
		text(told(method.Figure), strong), flush(wrapped(told(method.How))), paragraph(sourceLine(method)))
	w.popover(m, container.New(widthOf(width), padded(words)))
	w.trace.say("explained", "figure", m.key)
}

// sourceLine names where a method is from.
func sourceLine(m report.Method) string {
	if len(m.Sources) == 0 {
		return tr("Source: our own way, as it is said here.")
	}
	return trf("Source: %s.", told(m.Source()))
}

// wrapped is a paragraph in plain type.
func wrapped(words string) fyne.CanvasObject {
	l := widget.NewLabel(words)
	l.Wrapping = fyne.TextWrapWord
	return l
}

// popover shows something beneath an object until a press elsewhere or Escape.
func (w *Window) popover(under, content fyne.CanvasObject) {
	c := w.win.Canvas()
	p := widget.NewPopUp(content, c)
	size, all := p.MinSize(), c.Size()
	at := w.app.Driver().AbsolutePositionForObject(under).AddXY(0, under.Size().Height)
	if at.Y+size.Height > all.Height {
		at.Y -= size.Height + under.Size().Height
	}
	p.ShowAtPosition(fyne.NewPos(max(gap, min(at.X, all.Width-size.Width-gap)), max(gap, at.Y)))
}

// Tapped opens the popover.
func (m *queryMark) Tapped(*fyne.PointEvent) { m.onPress() }

// Cursor shows that the mark can be pressed.
func (m *queryMark) Cursor() desktop.Cursor { return desktop.PointerCursor }

// MouseIn lights the mark up.
func (m *queryMark) MouseIn(*desktop.MouseEvent) { m.hovered = true; m.Refresh() }

// MouseMoved does nothing.
func (m *queryMark) MouseMoved(*desktop.MouseEvent) {}

// MouseOut puts the light out.
func (m *queryMark) MouseOut() { m.hovered = false; m.Refresh() }

// FocusGained shows that the keyboard is here.
func (m *queryMark) FocusGained() { m.focused = true; m.Refresh() }

// FocusLost shows that it is elsewhere.
func (m *queryMark) FocusLost() { m.focused = false; m.Refresh() }

// TypedRune does nothing.
func (m *queryMark) TypedRune(rune) {}

// TypedKey presses on space and return.
func (m *queryMark) TypedKey(e *fyne.KeyEvent) {
	switch {
	case e.Name == fyne.KeySpace || e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter:
		m.onPress()
	case m.keys != nil:
		m.keys(e)
	}
}

// CreateRenderer draws the mark.
func (m *queryMark) CreateRenderer() fyne.WidgetRenderer {
	r := &queryMarkRenderer{m: m, disc: canvas.NewCircle(color.Transparent), sign: canvas.NewText("?", color.Black)}
	r.Refresh()
	return r
}

type queryMarkRenderer struct {
	m    *queryMark
	disc *canvas.Circle
	sign *canvas.Text
}

// Layout puts the sign in its ring.
func (r *queryMarkRenderer) Layout(size fyne.Size) {
	r.disc.Resize(fyne.NewSquareSize(scaled(markSize)))
	r.disc.Move(fyne.NewPos((size.Width-scaled(markSize))/2, (size.Height-scaled(markSize))/2))
	sign := r.sign.MinSize()
	r.sign.Resize(sign)
	r.sign.Move(fyne.NewPos((size.Width-sign.Width)/2, (size.Height-sign.Height)/2))
}

// MinSize holds what a press may hit; rows stay as close as their text lets them.
func (r *queryMarkRenderer) MinSize() fyne.Size {
	return fyne.NewSize(scaled(markReach), scaled(markSize+1))
}

// Refresh takes up the theme, the light and the keyboard.
func (r *queryMarkRenderer) Refresh() {
	ink := theme.Color(quietColour)
	if r.m.hovered || r.m.focused {
		ink = theme.Color(theme.ColorNamePrimary)
	}
	r.disc.StrokeColor, r.disc.StrokeWidth, r.disc.FillColor = ink, 1, color.Transparent
	if r.m.focused {
		r.disc.StrokeWidth = 2
	}
	r.sign.Color, r.sign.TextSize = ink, theme.Size(captionSize)*0.85
	r.Layout(r.m.Size())
	r.disc.Refresh()
	r.sign.Refresh()
}

// Objects lists what is drawn.
func (r *queryMarkRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.disc, r.sign}
}

// Destroy frees nothing.
func (r *queryMarkRenderer) Destroy() {}
