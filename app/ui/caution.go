package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"

	"runnel/analysis/caution"
	"runnel/geo/plan"
)

// A cautionsPart lists what to look into before anyone digs.
type cautionsPart struct {
	w     *Window
	box   *fyne.Container
	title *canvas.Text
	rows  *fyne.Container
	said  string
	// listed is what the rows are made for, wrongs the texts of the problems among them
	// in order, and bodies those of the cautions, by their rules.
	listed string
	wrongs []*widget.Label
	bodies map[string]*widget.RichText
}

func newCautionsPart(w *Window) *cautionsPart {
	p := &cautionsPart{w: w, title: text(tr("Cautions"), heading), rows: container.NewVBox()}
	p.box = container.NewVBox(p.title, p.rows, paragraph(told(caution.Deference)),
		container.NewHBox(newButton(tr("Limits of the cautions…"), w.askLimits)))
	return p
}

func (p *cautionsPart) content() fyne.CanvasObject { return p.box }

func (p *cautionsPart) update() {
	found, problems := p.w.soaking.cautions(), p.w.figures.scheme.Problems
	pending := p.w.pending(p.w.figures.known)
	said := fmt.Sprint(pending, p.w.units, found, problems)
	if said == p.said {
		return
	}
	p.said = said
	listed := p.list(pending)
	if listed == p.listed {
		p.rewrite()
		return
	}
	p.listed, p.wrongs, p.bodies = listed, nil, map[string]*widget.RichText{}
	p.rows.RemoveAll()
	if pending != "" {
		say(p.title, tr("Cautions"))
		p.rows.Add(paragraph(pending))
		p.rows.Refresh()
		return
	}
	say(p.title, trf("Cautions  %d", len(found)+len(problems)))
	for i := range problems {
		p.rows.Add(p.problem(i))
	}
	for _, c := range found {
		p.rows.Add(p.caution(c))
	}
	if len(found)+len(problems) == 0 {
		p.rows.Add(paragraph(tr("None of the checks found anything. That is not a clearance.")))
	}
	p.rows.Refresh()
}

// list names all that has a row of its own.
func (p *cautionsPart) list(pending string) string {
	a := &p.w.figures.scheme
	list := []any{pending, p.w.units, len(a.Problems)}
	for _, c := range p.w.soaking.cautions() {
		list = append(list, c.Rule, len(c.Features) > 0)
	}
	return fmt.Sprint(list...)
}

// rewrite brings the texts up to date in the rows that they have: while a thing is
// dragged most say the same with other figures.
func (p *cautionsPart) rewrite() {
	for i, body := range p.wrongs {
		if said := p.wrong(i); body.Text != said {
			body.SetText(said)
		}
	}
	for _, c := range p.w.soaking.cautions() {
		body := p.bodies[c.Rule]
		changed := false
		for i, said := range p.sentences(c) {
			segment := body.Segments[i].(*widget.TextSegment)
			changed = changed || segment.Text != said
			segment.Text = said
		}
		if changed {
			body.Refresh()
		}
	}
}

// sentences are what a caution says, what was measured, and the guidance.
func (p *cautionsPart) sentences(c caution.Caution) [3]string {
	return [3]string{sentence(p.w.units.told(c.Text)), sentence(p.w.units.told(c.Measured)), sentence(p.w.units.told(c.Guidance))}
}

func (p *cautionsPart) caution(c caution.Caution) fyne.CanvasObject {
	says := p.sentences(c)
	body := widget.NewRichText(
		&widget.TextSegment{Text: says[0], Style: widget.RichTextStyle{TextStyle: fyne.TextStyle{Bold: true}}},
		&widget.TextSegment{Text: says[1], Style: widget.RichTextStyle{}},
		&widget.TextSegment{Text: says[2], Style: widget.RichTextStyle{SizeName: captionSize, ColorName: quietColour}},
	)
	body.Wrapping = fyne.TextWrapWord
	p.bodies[c.Rule] = body
	var first func()
	if len(c.Features) > 0 {
		first = func() { p.show(c.Rule) }
	}
	return flagged(theme.ColorNameWarning, body, first)
}

// show selects what the caution of a rule is about first.
func (p *cautionsPart) show(rule string) {
	for _, c := range p.w.soaking.cautions() {
		if c.Rule == rule && len(c.Features) > 0 {
			p.w.showPlace(c.Features[0], c.At)
		}
	}
}

// wrong is what the problem of a number says.
func (p *cautionsPart) wrong(i int) string {
	return sentence(p.w.units.told(p.w.figures.scheme.Problems[i].Err.Error()))
}

func (p *cautionsPart) problem(i int) fyne.CanvasObject {
	body := widget.NewLabel(p.wrong(i))
	body.Wrapping = fyne.TextWrapWord
	p.wrongs = append(p.wrongs, body)
	return flagged(theme.ColorNameError, body, func() {
		if all := p.w.figures.scheme.Problems; i < len(all) {
			p.w.showPlace(all[i].ID, all[i].At)
		}
	})
}

// showPlace selects a feature and brings a place of it into the middle of the map, or
// its own middle where there is none, near enough to tell what is there. The ledger stays
// where it was read.
func (w *Window) showPlace(id plan.ID, at orb.Point) {
	w.ledger.stay(func() { w.board.Select(id) })
	if f, ok := w.doc.Site().Plan.Find(id); ok && at == (orb.Point{}) {
		at = middleOf(f)
	}
	const about = 4 // how much ground round the place is to be seen [m]
	w.pane.approach(at.Bound().Pad(about))
	w.pane.centre(at)
}

// middleOf is a place on a feature: of a line the point half the way along its points.
func middleOf(f plan.Feature) orb.Point {
	if line := f.Line(); len(line) > 0 {
		return line[len(line)/2]
	}
	return f.Geometry.Bound().Center()
}

// flagged puts a bar of colour before a text, and a way to what it is about.
func flagged(colour fyne.ThemeColorName, body fyne.CanvasObject, show func()) fyne.CanvasObject {
	bar := canvas.NewRectangle(theme.Color(colour))
	bar.SetMinSize(fyne.NewSize(3, 3))
	if show == nil {
		return container.NewBorder(nil, nil, bar, nil, body)
	}
	link := widget.NewHyperlink(tr("Show it"), nil)
	link.OnTapped = show
	return container.NewBorder(nil, nil, bar, nil,
		container.NewVBox(body, container.NewHBox(link)))
}
