package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// A pressRow is a row of figures that can be pressed, or reached by Tab and
// pressed by Return.
type pressRow struct {
	widget.BaseWidget
	content fyne.CanvasObject
	ground  *canvas.Rectangle
	onPress func()
	// onPoint is told when the pointer or the keyboard comes and goes; it may be nil.
	onPoint func(on bool)
}

func newPressRow(content fyne.CanvasObject, onPress func()) *pressRow {
	r := &pressRow{content: content, ground: canvas.NewRectangle(color.Transparent), onPress: onPress}
	r.ground.CornerRadius = gap
	r.ExtendBaseWidget(r)
	return r
}

// CreateRenderer lays the figures on a ground that lights up.
func (r *pressRow) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewStack(r.ground, r.content))
}

func (r *pressRow) light(name fyne.ThemeColorName) {
	if r.onPoint != nil {
		r.onPoint(name != "")
	}
	r.ground.FillColor = color.Transparent
	if name != "" {
		r.ground.FillColor = theme.Color(name)
	}
	r.ground.Refresh()
}

// Tapped presses the row.
func (r *pressRow) Tapped(*fyne.PointEvent) { r.onPress() }

// Cursor shows that the row can be pressed.
func (r *pressRow) Cursor() desktop.Cursor { return desktop.PointerCursor }

// MouseIn lights the row up.
func (r *pressRow) MouseIn(*desktop.MouseEvent) { r.light(theme.ColorNameHover) }

// MouseMoved does nothing.
func (r *pressRow) MouseMoved(*desktop.MouseEvent) {}

// MouseOut puts the light out.
func (r *pressRow) MouseOut() { r.light("") }

// FocusGained shows that the keyboard is here.
func (r *pressRow) FocusGained() {
	r.ground.StrokeColor, r.ground.StrokeWidth = theme.Color(theme.ColorNamePrimary), focusRing
	r.light(theme.ColorNameSelection)
}

// FocusLost shows that it is elsewhere.
func (r *pressRow) FocusLost() {
	r.ground.StrokeWidth = 0
	r.light("")
}

// TypedRune does nothing.
func (r *pressRow) TypedRune(rune) {}

// TypedKey presses on space and return.
func (r *pressRow) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeySpace || e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter {
		r.onPress()
	}
}
