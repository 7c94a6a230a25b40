package ui

import (
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"

	"runnel/app/view"
)

// A longPane shows the long section. The pointer in it moves the station; the
// water, the bed's ends and the sills can be dragged up and down, and with the
// keyboard here the arrows move the water and the station.
type longPane struct {
	sheetPane
	frames [2]*image.RGBA
	frame  int
	// inside is set while the pointer is here, focused while the keyboard is.
	inside, focused bool
	at              fyne.Position
	// hot is the grip under the pointer, -1 for none.
	hot int
}

func newLongPane(p *sectionPanel) *longPane {
	l := &longPane{sheetPane: sheetPane{p: p}, hot: -1}
	l.raster = canvas.NewRaster(l.compose)
	l.ExtendBaseWidget(l)
	return l
}

// compose makes one frame: the settled picture, and over it the station and the
// grips. The toolkit takes it over at once, so two in turn are enough.
func (l *longPane) compose(w, h int) image.Image {
	l.sized(w, h)
	l.frame = 1 - l.frame
	frame := l.frames[l.frame]
	if frame == nil || frame.Rect.Dx() != w || frame.Rect.Dy() != h {
		frame = blankSheet(w, h, l.p.w.look.palette.Paper)
		l.frames[l.frame] = frame
	}
	copy(frame.Pix, l.p.paper(l.p.drawn.longPicture, w, h).Pix)
	if l.p.drawn.longPicture != nil {
		l.p.drawn.long.DrawOver(frame, l.overlay(), l.palette())
	}
	return frame
}

func (l *longPane) palette() view.Palette { return dense(l.p.w.look.palette, l.pixels.scale) }

func (l *longPane) overlay() view.SectionOverlay {
	o := view.SectionOverlay{Station: l.p.here(), Hot: l.hot, Focused: l.focused}
	for i, g := range l.p.grips() {
		shown := g.Grip
		if i == l.hot && shown.Words == "" {
			shown.Over = l.p.drawn.long.Level(g.Level)
		}
		if l.p.hold.stopped(g) {
			o.Hot = i
			shown = l.p.hold.shown(l.p.drawn.long)
		}
		o.Grips = append(o.Grips, shown)
	}
	return o
}

// place returns where in the section a place of the pane is.
func (l *longPane) place(at fyne.Position) (chainage, level float64) {
	v := l.p.drawn.long.View
	if l.p.hold.on {
		v = l.p.hold.view
	}
	return v.ToSection(float64(at.X)*l.pixels.scale, float64(at.Y)*l.pixels.scale)
}

func (l *longPane) gripAt(at fyne.Position) int {
	if l.p.drawn.longPicture == nil {
		return -1
	}
	var shown []view.Grip
	for _, g := range l.p.grips() {
		shown = append(shown, g.Grip)
	}
	return l.p.drawn.long.GripAt(shown, float64(at.X)*l.pixels.scale, float64(at.Y)*l.pixels.scale, l.palette())
}

// Cursor is a hand over what can be dragged.
func (l *longPane) Cursor() desktop.Cursor {
	if l.hot >= 0 || l.p.hold.on {
		return desktop.PointerCursor
	}
	return desktop.CrosshairCursor
}

// MouseIn shows the station on the map.
func (l *longPane) MouseIn(e *desktop.MouseEvent) { l.MouseMoved(e) }

// MouseMoved takes the station to the pointer.
func (l *longPane) MouseMoved(e *desktop.MouseEvent) {
	l.inside, l.at = true, e.Position
	if l.p.drawn.longPicture == nil || l.p.hold.on {
		return
	}
	l.hot, l.p.hold.stop = l.gripAt(e.Position), ""
	chainage, _ := l.place(e.Position)
	l.p.moveTo(chainage)
	l.p.point()
}

// MouseOut takes the station off the map; the cross-section stays.
func (l *longPane) MouseOut() {
	l.inside, l.hot = false, -1
	if !l.p.hold.on && !l.focused {
		l.p.unpoint()
	}
	l.raster.Refresh()
}

// MouseDown takes hold of the grip under the pointer.
func (l *longPane) MouseDown(e *desktop.MouseEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(l); c != nil {
		c.Focus(l)
	}
	if e.Button != desktop.MouseButtonPrimary || l.p.drawn.longPicture == nil {
		return
	}
	if i := l.gripAt(e.Position); i >= 0 {
		_, level := l.place(e.Position)
		l.p.grab(l.p.grips()[i], level)
	}
}

// Dragged moves what is held.
func (l *longPane) Dragged(e *fyne.DragEvent) {
	if !l.p.hold.on {
		return
	}
	_, level := l.place(e.Position)
	how := freely
	if shiftHeld() {
		how = stepped
	}
	l.p.drag(level, how)
}

// DragEnd lets go, where the toolkit gave the release to another widget.
func (l *longPane) DragEnd() { l.p.drop() }

// MouseUp lets go.
func (l *longPane) MouseUp(*desktop.MouseEvent) { l.p.drop() }

// FocusGained shows that the keyboard is here.
func (l *longPane) FocusGained() {
	l.focused = true
	l.raster.Refresh()
}

// FocusLost shows that it is elsewhere.
func (l *longPane) FocusLost() {
	l.focused = false
	l.p.hold.keys = 0
	if !l.inside {
		l.p.unpoint()
	}
	l.raster.Refresh()
}

// TypedRune does nothing.
func (l *longPane) TypedRune(rune) {}

// stationSteps is how many presses of an arrow take the station from end to end.
const stationSteps = 100

// TypedKey moves the water by a step and the station along the line.
func (l *longPane) TypedKey(e *fyne.KeyEvent) {
	p := l.p
	switch e.Name {
	case fyne.KeyUp:
		p.nudge(1)
	case fyne.KeyDown:
		p.nudge(-1)
	case fyne.KeyLeft, fyne.KeyRight:
		step := math.Max(p.drawn.long.Length/stationSteps, 0.1)
		if e.Name == fyne.KeyLeft {
			step = -step
		}
		p.moveTo(p.here() + step)
		p.point()
	case fyne.KeyEscape:
		if !p.abandon() {
			p.w.focusMap()
		}
	}
}
