package ui

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/caution"
	"runnel/app/site"
	"runnel/geo/plan"
)

// A limitForm asks for the limits that the cautions rest on, all at once.
type limitForm struct {
	w     *Window
	rows  []*limitRow
	fault *widget.Label
}

// A limitRow asks for one of them.
type limitRow struct {
	figure site.Figure
	field  plan.Field
	each   float64
	line   *line
}

// limitShares are the widths of label, field, unit, and of the usual value.
var limitShares = columns{14, 4, 3, 5}

// askLimits asks for the limits of the cautions.
func (w *Window) askLimits() {
	f := &limitForm{w: w, fault: danger("")}
	f.fault.Hide()
	in, usual := plan.Setting{Limits: caution.InForce(w.doc.Site(), plan.Limits{})}, plan.Setting{Limits: caution.UsualLimits()}
	rows := container.NewVBox(container.New(limitShares, text("", caption), text(tr("Limit"), caption), text("", caption), text(tr("Usual"), caption)))
	for _, figure := range plan.SettingFigures() {
		if figure.Part != plan.LimitsPart {
			continue
		}
		r := f.row(figure, in)
		said := r.written(usual)
		f.rows = append(f.rows, r)
		rows.Add(f.lay(r, said))
	}
	size := w.win.Canvas().Size()
	w.ask(prompt{
		title: tr("Limits of the cautions"),
		content: container.NewBorder(paragraph(tr("Nought turns a check off. Local codes, and the practice of those licensed to design and build, govern.")),
			flush(f.fault), nil, nil, container.NewVScroll(container.New(layout.NewCustomPaddedLayout(0, 0, 0, 3*gap), rows))),
		size: fyne.NewSize(min(scaled(760), size.Width-60), min(scaled(760), size.Height-60)),
		choices: []choice{
			{word: tr("Cancel")},
			{word: tr("Usual limits"), ready: func() bool { f.fill(usual); return false }},
			{word: tr("Set"), ready: f.ready},
		},
	})
	w.win.Canvas().Focus(f.rows[0].line)
}

// row makes the field of one limit.
func (f *limitForm) row(figure site.Figure, in plan.Setting) *limitRow {
	r := &limitRow{figure: figure}
	r.field, r.each = f.w.units.field(figure.Field)
	r.line = f.w.newLine(r.written(in))
	return r
}

// written is the limit of a setting as it is typed.
func (r *limitRow) written(s plan.Setting) string {
	return spoken().typed(r.field, plan.Value{Number: inField(*r.figure.Of(&s), r.each)})
}

// lay lays out one limit: what it is called, its field, its usual value, and beneath
// them the guidance that this leans on.
func (f *limitForm) lay(r *limitRow, usual string) fyne.CanvasObject {
	label, unit := told(r.figure.Label), told(r.field.Unit)
	if unit == "H:V" {
		label, unit = trf("%s, across per 1 down", label), ""
	}
	return container.NewVBox(
		container.New(limitShares, flush(wrapped(label)), r.line, text(unit, caption), text(strings.TrimSpace(usual+" "+unit), caption)),
		paragraph(sentence(f.w.units.told(caution.SourceOf(r.figure.Name)))))
}

// fill puts the limits of a setting into the fields.
func (f *limitForm) fill(s plan.Setting) {
	for _, r := range f.rows {
		r.line.SetText(r.written(s))
	}
	f.fault.Hide()
}

// ready sets the limits, or says what is wrong with them.
func (f *limitForm) ready() bool {
	err := f.set()
	if err != nil {
		f.fault.SetText(sentence(f.w.units.told(err.Error())))
	}
	shown(f.fault, err != nil)
	return err == nil
}

// set reads the fields. What is written as it is usual is the usual limit to the last
// digit, and where all are, the site has no limits of its own.
func (f *limitForm) set() error {
	var typed plan.Setting
	in, usual := plan.Setting{Limits: caution.InForce(f.w.doc.Site(), plan.Limits{})}, plan.Setting{Limits: caution.UsualLimits()}
	for _, r := range f.rows {
		v, _, err := r.field.Parse(strings.TrimSpace(r.line.Text))
		if err != nil {
			return err
		}
		*r.figure.Of(&typed) = v.Number * r.each
		for _, held := range []plan.Setting{in, usual} {
			if r.line.Text == r.written(held) {
				*r.figure.Of(&typed) = *r.figure.Of(&held)
				break
			}
		}
	}
	if typed.Limits == (plan.Limits{}) {
		return errors.New("with every limit at nought no check is left; give one of them at least")
	}
	if typed.Limits == usual.Limits {
		typed.Limits = plan.Limits{}
	}
	return f.w.setSetting(func(s *plan.Setting) { s.Limits = typed.Limits })
}
