package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/caution"
	"runnel/analysis/channel"
)

// A cautionsPart lists what to look into before anyone digs.
type cautionsPart struct {
	w     *Window
	box   *fyne.Container
	title *canvas.Text
	rows  *fyne.Container
	said  string
}

func newCautionsPart(w *Window) *cautionsPart {
	p := &cautionsPart{w: w, title: text("Cautions", heading), rows: container.NewVBox()}
	p.box = container.NewVBox(p.title, p.rows, paragraph(caution.Deference))
	return p
}

func (p *cautionsPart) content() fyne.CanvasObject { return p.box }

func (p *cautionsPart) update() {
	found, problems := p.w.figures.scheme.Cautions, p.w.figures.scheme.Problems
	pending := p.w.pending(p.w.figures.known)
	said := fmt.Sprint(pending, p.w.units, found, problems)
	if said == p.said {
		return
	}
	p.said = said
	p.rows.RemoveAll()
	if pending != "" {
		say(p.title, "Cautions")
		p.rows.Add(paragraph(pending))
		p.rows.Refresh()
		return
	}
	say(p.title, fmt.Sprintf("Cautions  %d", len(found)+len(problems)))
	for _, problem := range problems {
		p.rows.Add(p.problem(problem))
	}
	for _, c := range found {
		p.rows.Add(p.caution(c))
	}
	if len(found)+len(problems) == 0 {
		p.rows.Add(paragraph("None of the checks found anything. That is not a clearance."))
	}
	p.rows.Refresh()
}

func (p *cautionsPart) caution(c caution.Caution) fyne.CanvasObject {
	quietly := widget.RichTextStyle{SizeName: captionSize, ColorName: quietColour}
	body := widget.NewRichText(
		&widget.TextSegment{Text: sentence(c.Text), Style: widget.RichTextStyle{TextStyle: fyne.TextStyle{Bold: true}}},
		&widget.TextSegment{Text: sentence(p.w.units.sentence(c.Measured)), Style: widget.RichTextStyle{}},
		&widget.TextSegment{Text: sentence(p.w.units.sentence(c.Guidance)), Style: quietly},
	)
	body.Wrapping = fyne.TextWrapWord
	var first func()
	if len(c.Features) > 0 {
		first = func() {
			p.w.board.Select(c.Features[0])
			p.w.pane.reveal(c.At)
		}
	}
	return flagged(theme.ColorNameWarning, body, first)
}

func (p *cautionsPart) problem(problem channel.Problem) fyne.CanvasObject {
	body := widget.NewLabel(sentence(p.w.units.sentence(problem.Err.Error())))
	body.Wrapping = fyne.TextWrapWord
	return flagged(theme.ColorNameError, body, func() { p.w.board.Select(problem.ID) })
}

// flagged puts a bar of colour before a text, and a way to what it is about.
func flagged(colour fyne.ThemeColorName, body fyne.CanvasObject, show func()) fyne.CanvasObject {
	bar := canvas.NewRectangle(theme.Color(colour))
	bar.SetMinSize(fyne.NewSize(3, 3))
	if show == nil {
		return container.NewBorder(nil, nil, bar, nil, body)
	}
	link := widget.NewHyperlink("Show it", nil)
	link.OnTapped = show
	return container.NewBorder(nil, nil, bar, nil,
		container.NewVBox(body, container.NewHBox(link)))
}
