package ui

import (
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
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
	// fault says what is wrong with a figure.
	fault       *canvas.Text
	each        float64
	lengthField plan.Field
	box         *widget.PopUp
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
	e.AlwaysShowValidationError = true
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
	p.fault = text("", body)
	p.fault.Color = theme.Color(theme.ColorNameError)
	p.fault.Hide()
	p.box = widget.NewPopUp(container.NewVBox(container.NewHBox(fields...), p.fault), w.win.Canvas())
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

// bearingField is a bearing as it is typed.
var bearingField = plan.Field{Label: toldLater("Bearing"), Low: -360, High: 720}

// read returns the number that an entry holds, or the one before where it holds none,
// and marks it where it cannot be read.
func (p *plot) read(e *plotEntry, field plan.Field, before float64) (float64, error) {
	typed := strings.TrimSpace(e.Text)
	if typed == "" {
		e.SetValidationError(nil)
		return before, nil
	}
	v, _, err := field.Parse(typed)
	e.SetValidationError(err)
	return v.Number, err
}

// place is what the figures say, or what is wrong with one of them.
func (p *plot) place() (orb.Point, error) {
	length, wrong := p.read(p.length, p.lengthField, p.side.Length()/p.each)
	bearing := p.side.Bearing()
	if p.bearing != nil {
		turned, err := p.read(p.bearing, bearingField, bearing)
		if bearing = math.Mod(turned+720, 360); wrong == nil {
			wrong = err
		}
	}
	return p.side.At(length*p.each, bearing), wrong
}

// aim shows on the map where the point would be; where a figure cannot be read, that
// of the figures before.
func (p *plot) aim() {
	at, err := p.place()
	p.complain(err)
	if err != nil {
		at = p.side.To
	}
	p.tool.Aim(at)
	p.w.used()
}

// complain says under the fields what is wrong; nil takes it away.
func (p *plot) complain(err error) {
	words := ""
	if err != nil {
		words = sentence(p.w.units.told(err.Error()))
	}
	say(p.fault, words)
	if (words != "") != p.fault.Visible() {
		shown(p.fault, words != "")
		p.show()
	}
}

// set puts the point down, or leaves the box open where a figure cannot be read.
func (p *plot) set() {
	at, err := p.place()
	if err != nil {
		return // the box says why
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
