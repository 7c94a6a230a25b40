package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// dividerWidth is what the pointer may take hold of [dp].
const dividerWidth = 6

// dividerStep is how far an arrow key moves a divider [dp].
const dividerStep = 16

// run says which way a divider runs.
type run uint8

const (
	standing run = iota // from top to bottom, moved sideways
	flat                // from side to side, moved up and down
)

// A divider is the thin line between two panes; dragged, or moved by the arrow
// keys, it gives one of them the room of the other.
type divider struct {
	widget.BaseWidget
	run           run
	ground, line  *canvas.Rectangle
	moved         func(by float32)
	settled       func()
	hover, holder bool // the pointer, the keyboard is here
}

func newDivider(r run, moved func(by float32), settled func()) *divider {
	d := &divider{run: r, moved: moved, settled: settled, ground: canvas.NewRectangle(color.Transparent), line: canvas.NewRectangle(color.Transparent)}
	d.ExtendBaseWidget(d)
	return d
}

// CreateRenderer draws the line in the middle of what can be held.
func (d *divider) CreateRenderer() fyne.WidgetRenderer {
	r := &dividerRenderer{d}
	r.Refresh()
	return r
}

type dividerRenderer struct{ d *divider }

// Layout implements fyne.WidgetRenderer.
func (r *dividerRenderer) Layout(size fyne.Size) {
	r.d.ground.Resize(size)
	if r.d.run == standing {
		r.d.line.Resize(fyne.NewSize(1, size.Height))
		r.d.line.Move(fyne.NewPos((size.Width-1)/2, 0))
		return
	}
	r.d.line.Resize(fyne.NewSize(size.Width, 1))
	r.d.line.Move(fyne.NewPos(0, (size.Height-1)/2))
}

// MinSize implements fyne.WidgetRenderer.
func (r *dividerRenderer) MinSize() fyne.Size { return fyne.NewSquareSize(dividerWidth) }

// Refresh lights the divider up while it is held, pointed at or has the keyboard.
func (r *dividerRenderer) Refresh() {
	r.d.line.FillColor, r.d.ground.FillColor = theme.Color(theme.ColorNameSeparator), theme.Color(theme.ColorNameBackground)
	if r.d.hover || r.d.holder {
		r.d.line.FillColor, r.d.ground.FillColor = theme.Color(theme.ColorNamePrimary), theme.Color(theme.ColorNameFocus)
	}
	r.d.line.Refresh()
	r.d.ground.Refresh()
}

// Objects implements fyne.WidgetRenderer.
func (r *dividerRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.d.ground, r.d.line}
}

// Destroy frees nothing.
func (r *dividerRenderer) Destroy() {}

// Cursor shows which way the divider can be moved.
func (d *divider) Cursor() desktop.Cursor {
	if d.run == standing {
		return desktop.HResizeCursor
	}
	return desktop.VResizeCursor
}

// Dragged moves the divider.
func (d *divider) Dragged(e *fyne.DragEvent) {
	if d.run == standing {
		d.moved(e.Dragged.DX)
	} else {
		d.moved(e.Dragged.DY)
	}
}

// DragEnd lets go.
func (d *divider) DragEnd() { d.settled() }

// MouseIn lights the divider up.
func (d *divider) MouseIn(*desktop.MouseEvent) { d.hover = true; d.Refresh() }

// MouseMoved does nothing.
func (d *divider) MouseMoved(*desktop.MouseEvent) {}

// MouseOut puts the light out.
func (d *divider) MouseOut() { d.hover = false; d.Refresh() }

// FocusGained shows that the keyboard is here.
func (d *divider) FocusGained() { d.holder = true; d.Refresh() }

// FocusLost shows that it is elsewhere.
func (d *divider) FocusLost() { d.holder = false; d.Refresh() }

// TypedRune does nothing.
func (d *divider) TypedRune(rune) {}

// TypedKey moves the divider by the arrows.
func (d *divider) TypedKey(e *fyne.KeyEvent) {
	by, ok := map[fyne.KeyName]float32{fyne.KeyLeft: -1, fyne.KeyUp: -1, fyne.KeyRight: 1, fyne.KeyDown: 1}[e.Name]
	if ok {
		d.moved(by * dividerStep)
		d.settled()
	}
}
