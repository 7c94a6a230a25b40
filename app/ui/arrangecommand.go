package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/paulmach/orb"

	"runnel/app/tool"
	"runnel/geo"
	"runnel/geo/plan"
)

const (
	// duplicateShift is how far a copy lies from what was copied, on the map [dp].
	duplicateShift = 20
	// quarter and small are the turns of a press of a key [°].
	quarter, small = 90, 15
)

// nudges are how far a press of a key moves what is selected [m]: with Alt, and with
// Shift and Alt. Feet have round figures of their own.
var nudges = map[units][2]float64{metric: {0.1, 1}, usFeet: {0.25 * geo.Foot, 2.5 * geo.Foot}}

// arrangeCommands change what is selected as a whole.
func (w *Window) arrangeCommands() []command {
	list := []command{
		{menu: editMenu, part: 1, name: tr("Select everything"), keys: &fyne.ShortcutSelectAll{}, also: tr("all of the scheme"), cannot: w.needsSite,
			do: func() { w.inHand(); tool.SelectAll(w.doc, w.board) }},
		w.arranging(tr("Duplicate what is selected"), tr("copy again clone"), press(fyne.KeyD, ctrl), w.duplicate),
		w.arranging(tr("Rotate by a quarter turn"), tr("turn 90 degrees"), press(fyne.KeyR, ctrl), w.rotate(quarter)),
		w.arranging(tr("Rotate clockwise by 15°"), tr("turn right degrees"), press(fyne.KeyPeriod, ctrl), w.rotate(small)),
		w.arranging(tr("Rotate anticlockwise by 15°"), tr("turn left degrees"), press(fyne.KeyComma, ctrl), w.rotate(-small)),
		w.arranging(tr("Mirror east and west"), tr("flip horizontally left right"), press(fyne.KeyM, ctrl), w.mirror(0)),
		w.arranging(tr("Mirror north and south"), tr("flip vertically up down"), press(fyne.KeyM, ctrlShift), w.mirror(90)),
		{menu: editMenu, part: 2, name: tr("Mirror about a line…"), also: tr("flip across axis"), cannot: w.needsSelection, do: func() { w.takeUp(mirroring); w.focusMap() }},
		w.arranging(tr("Make smooth curves"), tr("spline bend round winding"), press(fyne.KeyB, ctrl), func() error { return tool.Smooth(w.doc, w.board) }),
		w.arranging(tr("Make sides straight"), tr("corners polyline unbend"), press(fyne.KeyB, ctrlShift), func() error { return tool.Straighten(w.doc, w.board) }),
	}
	return append(list, w.nudgeCommands()...)
}

// arranging is a command that changes what is selected in one step.
func (w *Window) arranging(name, also string, keys fyne.Shortcut, do func() error) command {
	return command{menu: editMenu, part: 2, name: name, also: also, keys: keys, cannot: w.needsSelection, do: func() {
		w.pane.tool.Cancel()
		w.arrange(do)
	}}
}

// arrange changes what is selected, and says where that changes every scheme.
func (w *Window) arrange(do func() error) {
	if err := do(); err != nil {
		w.complain(err)
		return
	}
	if shared := tool.Shared(w.doc, w.board); shared != "" && w.held == selecting {
		w.tellBelow(w.units.told(shared))
	}
}

// inHand takes up the tool that selects.
func (w *Window) inHand() {
	if w.held != selecting {
		w.takeUp(selecting)
	}
}

func (w *Window) duplicate() error {
	by := duplicateShift * w.pane.scale / w.pane.camera.Scale
	w.inHand()
	return tool.Copy(w.doc, w.board, orb.Point{by, -by})
}

func (w *Window) rotate(degrees float64) func() error {
	return func() error { return tool.Rotate(w.doc, w.board, degrees) }
}

func (w *Window) mirror(bearing float64) func() error {
	return func() error { return tool.Mirror(w.doc, w.board, bearing) }
}

// nudgeCommands move what is selected by a little to each side.
func (w *Window) nudgeCommands() (list []command) {
	for _, way := range []struct {
		name, further string
		key           fyne.KeyName
		by            orb.Point
	}{
		{tr("Nudge to the north"), tr("Nudge further to the north"), fyne.KeyUp, orb.Point{0, 1}},
		{tr("Nudge to the east"), tr("Nudge further to the east"), fyne.KeyRight, orb.Point{1, 0}},
		{tr("Nudge to the south"), tr("Nudge further to the south"), fyne.KeyDown, orb.Point{0, -1}},
		{tr("Nudge to the west"), tr("Nudge further to the west"), fyne.KeyLeft, orb.Point{-1, 0}},
	} {
		for i, name := range []string{way.name, way.further} {
			held := fyne.KeyModifierAlt
			if i > 0 {
				held |= fyne.KeyModifierShift
			}
			c := w.arranging(name, tr("move a little by the keyboard"), &desktop.CustomShortcut{KeyName: way.key, Modifier: held}, func() error {
				step := nudges[w.units][i]
				return tool.Shift(w.doc, w.board, orb.Point{step * way.by[0], step * way.by[1]})
			})
			c.tucked = true
			list = append(list, c)
		}
	}
	return list
}

// drawCommands change how things are drawn.
func (w *Window) drawCommands() []command {
	list := []command{
		{menu: drawMenu, part: len(steps), name: tr("Straight, curved or round"), letter: "Z", also: tr("smooth curve circle spline manner"), cannot: w.needsManner,
			do: func() { w.pane.tool.Key(tool.Bend); w.drawbar.refresh(); w.used() }},
	}
	for i, name := range []string{tr("Draw to the grid"), tr("Draw lengths in whole steps")} {
		list = append(list, command{menu: drawMenu, part: len(steps), name: name, also: tr("snap spacing fixed length"), cannot: w.needsSite,
			on: func() bool { return w.board != nil && *w.snapping(i) > 0 }, do: func() { w.turnSnapping(i) }})
	}
	return list
}

// needsManner is why the way of drawing cannot be changed.
func (w *Window) needsManner() string {
	if why := w.needsSite(); why != "" {
		return why
	}
	if kind := w.held.kind(); kind == plan.NoKind || !kind.CanCurve() {
		return tr("Take up a tool that draws a line or an outline first.")
	}
	return ""
}

// snapping is the spacing of the grid, or the step of lengths.
func (w *Window) snapping(i int) *float64 { return []*float64{&w.board.Grid, &w.board.Step}[i] }

// turnSnapping turns the grid or the steps on, at the finest spacing, or off.
func (w *Window) turnSnapping(i int) {
	v := w.snapping(i)
	if *v > 0 {
		*v = 0
	} else {
		*v = w.spacings()[1]
	}
	w.drawbar.refresh()
	w.menu.refresh()
}

// spacings are the spacings that are offered [m], the first for none.
func (w *Window) spacings() []float64 {
	if w.units == usFeet {
		return []float64{0, 0.5 * geo.Foot, geo.Foot, 2 * geo.Foot, 5 * geo.Foot, 10 * geo.Foot}
	}
	return []float64{0, 0.1, 0.25, 0.5, 1, 2.5, 5}
}
