package ui

import (
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"

	"runnel/app/tool"
	"runnel/geo/plan"
)

// A plot is the small box by the pointer in which the next point is given by
// figures: a length and a bearing, or the radius of a circle.
type plot struct {
	w    *Window
	tool tool.Plotter
	// side is the one that led to the pointer when the box was opened: what is left
	// empty stays as it was.
	side            tool.Side
	length, bearing *plotEntry
	each            float64
	lengthField     plan.Field
	box             *widget.PopUp
}

// A plotEntry is a field of the box.
type plotEntry struct {
	entry
	leave, set func()
}

func newPlotEntry(words string, p *plot) *plotEntry {
	e := &plotEntry{leave: p.leave, set: p.set}
	e.ExtendBaseWidget(e)
	e.SetPlaceHolder(words)
	e.OnChanged = func(string) { p.aim() }
	return e
}

// TypedKey puts the point down on Return and closes the box on Escape.
func (e *plotEntry) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		e.set()
	case fyne.KeyEscape:
		e.leave()
	default:
		e.Entry.TypedKey(k)
	}
}

// plotWidth is that of a field [dp].
const plotWidth = 84

// plot opens the box on the first digit of a figure; it reports whether the tool in
// the hand has begun anything that one can be given for.
func (w *Window) plot(first rune) bool {
	plotter, ok := w.pane.tool.(tool.Plotter)
	if !ok {
		return false
	}
	side := plotter.Sketch().Side
	if side == nil {
		return false
	}
	p := &plot{w: w, tool: plotter, side: *side}
	p.lengthField, p.each = w.units.field(plan.Field{Label: tr("Length"), Unit: "m", Low: 0, High: 100_000})
	p.length = newPlotEntry(decimal(side.Length()/p.each, 2), p)
	fields := []fyne.CanvasObject{text(tr("length"), caption), p.sized(p.length), text(p.lengthField.Unit, caption)}
	if side.Radius {
		fields[0] = text(tr("radius"), caption)
	} else {
		p.bearing = newPlotEntry(decimal(side.Bearing(), 1), p)
		fields = append(fields, space(gap), text(tr("bearing"), caption), p.sized(p.bearing), text("°", caption))
	}
	p.box = widget.NewPopUp(container.NewHBox(fields...), w.win.Canvas())
	p.show()
	w.win.Canvas().Focus(p.length)
	p.length.TypedRune(first)
	return true
}

func (p *plot) sized(e *plotEntry) fyne.CanvasObject {
	return container.NewGridWrap(fyne.NewSize(scaled(plotWidth), e.MinSize().Height), e)
}

// show puts the box beside the pointer, within the window.
func (p *plot) show() {
	const beside = 18
	at := p.w.app.Driver().AbsolutePositionForObject(p.w.pane).Add(p.w.pane.hand.lastAt).AddXY(beside, -beside)
	size, all := p.box.MinSize(), p.w.win.Canvas().Size()
	at.Y -= size.Height
	p.box.ShowAtPosition(fyne.NewPos(clamp(at.X, gap, all.Width-size.Width-gap), clamp(at.Y, gap, all.Height-size.Height-gap)))
}

// place is what the figures say; ok is false while one of them cannot be read.
func (p *plot) place() (at orb.Point, ok bool) {
	length, bearing := p.side.Length(), p.side.Bearing()
	if typed := strings.TrimSpace(p.length.Text); typed != "" {
		v, _, err := p.lengthField.Parse(typed)
		if err != nil {
			return at, false
		}
		length = v.Number * p.each
	}
	if p.bearing != nil && strings.TrimSpace(p.bearing.Text) != "" {
		v, _, err := plan.Field{Label: tr("Bearing"), Low: -360, High: 720}.Parse(p.bearing.Text)
		if err != nil {
			return at, false
		}
		bearing = math.Mod(v.Number+720, 360)
	}
	return p.side.At(length, bearing), true
}

// aim shows on the map where the point would be.
func (p *plot) aim() {
	if at, ok := p.place(); ok {
		p.tool.Aim(at)
		p.w.used()
	}
}

// set puts the point down, or leaves the box open where a figure cannot be read.
func (p *plot) set() {
	at, ok := p.place()
	if !ok {
		p.w.tellBelow(tr("That is no length or bearing; give a number, such as 12.5."))
		return
	}
	p.leave()
	p.tool.Put(at)
	p.w.used()
}

func (p *plot) leave() {
	p.box.Hide()
	p.w.focusMap()
	p.w.used()
}
