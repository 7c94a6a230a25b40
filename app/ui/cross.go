package ui

import (
	"image"
	"image/color"
	"image/draw"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// A cross stands on the map for the pointer while a person draws by the keyboard. The
// arrows move it, Space presses where it is, and Shift with Space takes hold there
// until it is pressed again.
type cross struct {
	on bool
	at fyne.Position
	// holding is set while it holds what it moves.
	holding bool
}

const (
	crossStep = 8  // for one press of an arrow [dp]
	crossEdge = 28 // from the pane's edge, where the map moves instead [dp]
	crossArm  = 11 // [dp]
)

var arrows = map[fyne.KeyName]fyne.Delta{
	fyne.KeyLeft: {DX: -crossStep}, fyne.KeyRight: {DX: crossStep}, fyne.KeyUp: {DY: -crossStep}, fyne.KeyDown: {DY: crossStep},
}

// crossed takes the keys of the cross, and reports whether it had a use for one. With
// no tool that draws in the hand, Space brings the cross and Escape takes it away.
func (m *mapPane) crossed(key fyne.KeyName) bool {
	by, arrow := arrows[key]
	switch {
	case arrow && (m.draws || m.cross.on):
		m.bringCross()
		m.moveCross(by)
	case key == fyne.KeySpace && !m.cross.on && !m.draws:
		m.bringCross()
		m.pointCross()
	case key == fyne.KeySpace:
		m.bringCross()
		m.pressCross()
	default:
		if key == fyne.KeyEscape {
			m.dropCross()
		}
		return false
	}
	m.raster.Refresh()
	return true
}

// bringCross shows the cross where the pointer was last seen, else in the middle.
func (m *mapPane) bringCross() {
	if m.cross.on {
		return
	}
	size := m.Size()
	m.cross = cross{on: true, at: fyne.NewPos(size.Width/2, size.Height/2)}
	if at := m.hand.lastAt; m.inside && at.X > 0 && at.Y > 0 && at.X < size.Width && at.Y < size.Height {
		m.cross.at = at
	}
}

// dropCross takes the cross away, and lets go of what it holds.
func (m *mapPane) dropCross() {
	if m.cross.holding {
		m.MouseUp(m.crossEvent())
	}
	m.cross = cross{}
	m.raster.Refresh()
}

// moveCross moves the cross, or the map beneath it where it has come to the edge.
func (m *mapPane) moveCross(by fyne.Delta) {
	size, to := m.Size(), m.cross.at.Add(by)
	if to.X < crossEdge || to.X > size.Width-crossEdge || to.Y < crossEdge || to.Y > size.Height-crossEdge {
		m.pan(-4*by.DX, -4*by.DY)
		to = m.cross.at.AddXY(-3*by.DX, -3*by.DY)
	}
	by, m.cross.at = fyne.Delta{DX: to.X - m.cross.at.X, DY: to.Y - m.cross.at.Y}, to
	if m.cross.holding {
		m.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: to}, Dragged: by})
		return
	}
	m.pointCross()
}

// pointCross has the map follow the cross as it follows the pointer.
func (m *mapPane) pointCross() {
	held := m.cross
	m.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: held.at}})
	m.cross = held // a pointer that moves takes the cross away
}

func (m *mapPane) crossEvent() *desktop.MouseEvent {
	return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: m.cross.at}, Button: desktop.MouseButtonPrimary}
}

// pressCross presses where the cross is; with Shift it takes hold, or lets go.
func (m *mapPane) pressCross() {
	held := m.cross
	switch {
	case held.holding:
		m.MouseUp(m.crossEvent())
		held.holding = false
	case shiftHeld():
		m.MouseDown(m.crossEvent())
		held.holding = true
	default:
		m.MouseDown(m.crossEvent())
		m.MouseUp(m.crossEvent())
	}
	m.cross = held
}

func shiftHeld() bool {
	d, ok := fyne.CurrentApp().Driver().(desktop.Driver)
	return ok && d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0
}

// drawCross draws the cross onto a frame: ink with a rim of paper, so that it shows on
// whatever is under it.
func (m *mapPane) drawCross(frame *image.RGBA) {
	if !m.cross.on {
		return
	}
	x, y := int(float64(m.cross.at.X)*m.scale), int(float64(m.cross.at.Y)*m.scale)
	arm, unit := int(crossArm*m.scale), max(1, int(m.scale))
	bar := func(half int, c color.Color) {
		for _, r := range []image.Rectangle{image.Rect(x-arm-half, y-half, x+arm+half+1, y+half+1), image.Rect(x-half, y-arm-half, x+half+1, y+arm+half+1)} {
			draw.Draw(frame, r, image.NewUniform(c), image.Point{}, draw.Src)
		}
	}
	bar(2*unit, m.palette.Paper)
	bar(unit/2, m.palette.Ink)
}
