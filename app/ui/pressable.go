package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// posture says how a pressable lays out its icon and its word.
type posture uint8

// An upright pressable has its icon above its word; a lying one beside it.
const (
	lying posture = iota
	upright
)

// A pressable is an icon and a word that is pressed: a step, a tool, a tab.
// One of its row is marked.
type pressable struct {
	widget.BaseWidget
	icon             string
	word             string
	key              string // the letter that presses it; empty for none
	posture          posture
	marked           bool
	lit              bool // for a moment, to be noticed
	hovered, focused bool
	onPress          func()
	onMenu           func(at fyne.Position)
}

func newPressable(icon, word string, p posture, onPress func()) *pressable {
	b := &pressable{icon: icon, word: word, posture: p, onPress: onPress}
	b.ExtendBaseWidget(b)
	return b
}

// mark shows whether the pressable is the current one.
func (b *pressable) mark(on bool) {
	if b.marked != on {
		b.marked = on
		b.Refresh()
	}
}

// Tapped presses. A field that was being typed in loses the focus first, so
// that what was typed is taken.
func (b *pressable) Tapped(*fyne.PointEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(b); c != nil {
		c.Unfocus()
	}
	b.onPress()
}

// TappedSecondary opens the pressable's menu, where it has one.
func (b *pressable) TappedSecondary(e *fyne.PointEvent) {
	if b.onMenu != nil {
		b.onMenu(e.AbsolutePosition)
	}
}

// MouseIn lights the pressable up.
func (b *pressable) MouseIn(*desktop.MouseEvent) { b.hovered = true; b.Refresh() }

// MouseMoved does nothing.
func (b *pressable) MouseMoved(*desktop.MouseEvent) {}

// MouseOut puts the light out.
func (b *pressable) MouseOut() { b.hovered = false; b.Refresh() }

// FocusGained shows that the keyboard is here.
func (b *pressable) FocusGained() { b.focused = true; b.Refresh() }

// FocusLost shows that it is elsewhere.
func (b *pressable) FocusLost() { b.focused = false; b.Refresh() }

// TypedRune does nothing.
func (b *pressable) TypedRune(rune) {}

// TypedKey presses on space and return.
func (b *pressable) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeySpace || e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter {
		b.onPress()
	}
}

// CreateRenderer draws the pressable.
func (b *pressable) CreateRenderer() fyne.WidgetRenderer {
	r := &pressableRenderer{
		b:      b,
		ground: canvas.NewRectangle(color.Transparent),
		bar:    canvas.NewRectangle(color.Transparent),
		icon:   &canvas.Image{FillMode: canvas.ImageFillContain},
		word:   canvas.NewText(b.word, color.Black),
		key:    canvas.NewText(b.key, color.Black),
	}
	r.ground.CornerRadius = 4
	r.Refresh()
	return r
}

type pressableRenderer struct {
	b           *pressable
	ground, bar *canvas.Rectangle
	icon        *canvas.Image
	word, key   *canvas.Text
}

const (
	gap      = 4  // the grid that everything stands on [dp]
	iconSize = 20 // of a tool or a step [dp]
	// focusRing is how wide the frame is around what has the keyboard [dp].
	focusRing = 2
)

// Layout places icon and word.
func (r *pressableRenderer) Layout(size fyne.Size) {
	r.ground.Resize(size)
	word := r.word.MinSize()
	if r.b.posture == upright {
		r.bar.Resize(fyne.NewSize(3, size.Height))
		r.icon.Resize(fyne.NewSquareSize(iconSize + gap))
		r.icon.Move(fyne.NewPos((size.Width-iconSize-gap)/2, 2*gap))
		r.word.Move(fyne.NewPos((size.Width-word.Width)/2, 3*gap+iconSize+gap))
		return
	}
	r.bar.Move(fyne.NewPos(2*gap, size.Height-2))
	r.bar.Resize(fyne.NewSize(size.Width-4*gap, 2))
	left := float32(2 * gap)
	if r.b.icon != "" {
		r.icon.Resize(fyne.NewSquareSize(iconSize))
		r.icon.Move(fyne.NewPos(left, (size.Height-iconSize)/2))
		left += iconSize + 1.5*gap
		r.bar.Move(fyne.NewPos(0, gap))
		r.bar.Resize(fyne.NewSize(3, size.Height-2*gap))
	}
	r.word.Move(fyne.NewPos(left, (size.Height-word.Height)/2))
	key := r.key.MinSize()
	r.key.Move(fyne.NewPos(size.Width-key.Width-2*gap, (size.Height-key.Height)/2))
}

// MinSize holds icon and word with room around them.
func (r *pressableRenderer) MinSize() fyne.Size {
	word := r.word.MinSize()
	if r.b.posture == upright {
		return fyne.NewSize(max(word.Width+2*gap, scaled(68)), word.Height+6*gap+iconSize)
	}
	width := word.Width + 4*gap
	if r.b.icon != "" {
		width += iconSize + 1.5*gap
	}
	if r.b.key != "" {
		width += 4 * gap
	}
	return fyne.NewSize(width, max(word.Height, iconSize)+2*gap)
}

// Refresh takes up the theme, the mark and the light.
func (r *pressableRenderer) Refresh() {
	ink := theme.Color(theme.ColorNameForeground)
	r.ground.FillColor, r.bar.FillColor = color.Transparent, color.Transparent
	switch {
	case r.b.lit:
		ink = theme.Color(theme.ColorNameForegroundOnPrimary)
		r.ground.FillColor = theme.Color(theme.ColorNamePrimary)
	case r.b.marked:
		ink = theme.Color(theme.ColorNamePrimary)
		r.bar.FillColor = ink
		r.ground.FillColor = theme.Color(theme.ColorNameSelection)
	case r.b.hovered:
		r.ground.FillColor = theme.Color(theme.ColorNameHover)
	}
	r.ground.StrokeWidth = 0
	if r.b.focused {
		r.ground.StrokeColor, r.ground.StrokeWidth = theme.Color(theme.ColorNamePrimary), focusRing
	}
	r.word.Text, r.word.Color = r.b.word, ink
	r.key.Text, r.key.Color = r.b.key, theme.Color(theme.ColorNamePlaceHolder)
	r.key.TextSize = theme.Size(theme.SizeNameCaptionText)
	r.word.TextSize = theme.Size(theme.SizeNameText)
	if r.b.posture == upright {
		r.word.TextSize = theme.Size(theme.SizeNameCaptionText)
	}
	if r.b.icon != "" {
		r.icon.Resource = iconIn(r.b.icon, ink)
	}
	r.Layout(r.b.Size())
	for _, o := range r.Objects() {
		o.Refresh()
	}
}

// Objects lists what is drawn.
func (r *pressableRenderer) Objects() []fyne.CanvasObject {
	if r.b.icon == "" {
		return []fyne.CanvasObject{r.ground, r.bar, r.word}
	}
	return []fyne.CanvasObject{r.ground, r.bar, r.icon, r.word, r.key}
}

// Destroy frees nothing.
func (r *pressableRenderer) Destroy() {}
