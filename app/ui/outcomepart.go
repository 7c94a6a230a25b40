package ui

import (
	"image/color"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/compare"
)

// An outcomePanel says what comes of the scheme when it is dug and when water runs in
// it. It follows the figures a moment later, pale while newer ones are worked out.
type outcomePanel struct {
	w       *Window
	box     *fyne.Container
	state   *canvas.Text
	rows    []*outcomeRow
	found   *foundList
	gain    *widget.RichText
	levers  *leverTable
	place   *button
	hidden  []fyne.CanvasObject
	nothing fyne.CanvasObject
}

// An outcomeRow is a figure, and beneath it in small what belongs to it, or why there
// is none.
type outcomeRow struct {
	object fyne.CanvasObject
	figure *canvas.Text
	note   *widget.RichText
	write  func(*Window) outcomeFigure
}

// An outcomeFigure is what a row says: a figure with its unit, or a dash; and a note.
// Stale is set where it is of a drawing before.
type outcomeFigure struct {
	figure, note string
	stale        bool
}

func newOutcomePanel(w *Window) *outcomePanel {
	p := &outcomePanel{w: w, state: text("", caption), gain: quiet(""), levers: newLeverTable(w)}
	p.place = newButton(tr("Place the spoil"), w.placeSpoil)
	p.nothing = paragraph(tr("Nothing is designed in the site as it is. Choose a scheme, or add one."))
	all := container.NewVBox()
	for _, r := range append(digRows(), flowRows()...) {
		row := newOutcomeRow(w, r)
		p.rows = append(p.rows, row)
		all.Add(row.object)
	}
	p.found = newFoundList(w)
	all.Add(p.found.box)
	all.Add(w.labelled(tr("What the winding buys"), strong, "gain"))
	all.Add(flush(p.gain))
	all.Add(w.labelled(tr("What one more metre buys"), strong, "sensitivity"))
	all.Add(p.levers.object)
	p.hidden = []fyne.CanvasObject{all}
	buttons := container.NewVBox(p.place, newButton(tr("Find a better line…"), w.findLine))
	p.box = container.NewVBox(spread(text(tr("As dug and as it flows"), heading), p.state), p.nothing, all, buttons, newButton(tr("The channel in figures"), w.channelFigures))
	return p
}

// outcomeKind is what a row is made of: the figure's label, its method's key, and how
// it is written.
type outcomeKind struct {
	label, key string
	weight     role
	write      func(*Window) outcomeFigure
}

func newOutcomeRow(w *Window, k outcomeKind) *outcomeRow {
	r := &outcomeRow{figure: rightText("", k.weight), note: quiet(""), write: k.write}
	r.object = container.New(layout.NewCustomPaddedVBoxLayout(0),
		container.New(columns{12, 8}, w.labelled(k.label, k.weight, k.key), r.figure), flush(r.note))
	return r
}

func (r *outcomeRow) show(w *Window) {
	is := r.write(w)
	ink := theme.Color(theme.ColorNameForeground)
	if is.stale {
		ink = faded(ink, stale)
	}
	paint(r.figure, is.figure, ink)
	setQuiet(r.note, is.note)
	shown(r.note, is.note != "")
}

func (p *outcomePanel) content() fyne.CanvasObject { return p.box }

func (p *outcomePanel) update() {
	w := p.w
	shown(p.nothing, w.alone())
	for _, o := range p.hidden {
		shown(o, !w.alone())
	}
	if w.alone() {
		say(p.state, "")
		p.place.Disable()
		return
	}
	w.outcomes.follow()
	working := ""
	if !w.outcomes.dig.current() || !w.outcomes.flow.current() || !w.outcomes.worth.current() {
		working = tr("Working…")
	}
	say(p.state, working)
	for _, r := range p.rows {
		r.show(w)
	}
	p.found.show()
	p.showWorth()
	if w.outcomes.dig.last() && w.outcomes.dig.why == "" {
		p.place.Enable()
	} else {
		p.place.Disable()
	}
}

func (p *outcomePanel) showWorth() {
	o := p.w.outcomes.worth
	switch {
	case !o.last():
		setQuiet(p.gain, dash)
	case o.why != "":
		setQuiet(p.gain, sentence(p.w.units.told(o.why)))
	default:
		said := []string{o.value.gain.Sentence(), o.value.gain.EdgeSentence(), o.value.gain.StorageSentence()}
		said = append(said, o.value.gain.Notes...)
		for i, s := range said {
			said[i] = sentence(p.w.units.told(s))
		}
		setQuiet(p.gain, strings.TrimSpace(strings.Join(said, " ")))
	}
	p.levers.show(o)
}

// A leverTable is what one more metre of length, bed width and depth buys and costs.
type leverTable struct {
	w      *Window
	object *fyne.Container
	why    *widget.RichText
	rows   [3][4]*canvas.Text
	notes  [3]*widget.RichText
	grid   *fyne.Container
}

// leverShares are the widths of a lever and its three figures.
var leverShares = columns{8, 5, 5, 6}

func newLeverTable(w *Window) *leverTable {
	t := &leverTable{w: w, why: quiet(""), grid: container.NewVBox()}
	t.grid.Add(container.New(leverShares, text("", caption), rightText(tr("contact"), caption), rightText(tr("digging"), caption), rightText(tr("for the dig"), caption)))
	for i := range t.rows {
		cells := container.New(leverShares)
		for j := range t.rows[i] {
			t.rows[i][j] = rightText("", body)
			cells.Add(t.rows[i][j])
		}
		t.rows[i][0].Alignment = fyne.TextAlignLeading
		t.notes[i] = quiet("")
		t.grid.Add(container.New(layout.NewCustomPaddedVBoxLayout(0), cells, flush(t.notes[i])))
	}
	t.object = container.NewVBox(flush(t.why), t.grid)
	return t
}

func leverWord(r compare.SensitivityRow) string {
	switch {
	case r.Lever == compare.Longer:
		return tr("Length")
	case r.Arms:
		return tr("Width of bed and arms")
	case r.Lever == compare.Wider:
		return tr("Bed width")
	}
	return tr("Depth")
}

func (t *leverTable) show(o *afterwards[worth]) {
	s := o.value.sensitivity
	why := ""
	if o.last() && o.why == "" && s.Why != "" {
		why = sentence(t.w.units.told(s.Why))
	}
	setQuiet(t.why, why)
	shown(t.why, why != "")
	ink := theme.Color(theme.ColorNameForeground)
	if !o.current() {
		ink = faded(ink, stale)
	}
	for i := range t.rows {
		words, note := [4]string{dash, dash, dash, dash}, ""
		if o.last() && i < len(s.Rows) {
			words, note = t.written(s.Rows[i])
		}
		for j, cell := range t.rows[i] {
			paint(cell, words[j], ink)
		}
		setQuiet(t.notes[i], note)
		shown(t.notes[i], note != "")
	}
	shown(t.grid, why == "")
}

// written writes a row: contact and dig for one more metre, or foot, and one over the other.
func (t *leverTable) written(r compare.SensitivityRow) (words [4]string, note string) {
	u := t.w.units
	each := u.metres()
	over := dash
	if !math.IsNaN(r.PerDig) {
		over = u.areaPerVolume(r.PerDig)
	}
	return [4]string{leverWord(r), u.area(r.Contact * each), u.volume(r.Dig * each), over}, sentence(u.told(r.Note()))
}

// paint says words in an ink.
func paint(t *canvas.Text, words string, ink color.Color) {
	if t.Text != words || t.Color != ink {
		t.Text, t.Color = words, ink
		t.Refresh()
	}
}
