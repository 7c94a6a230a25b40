package ui

import (
	"context"
	"errors"
	"math"
	"slices"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"

	"runnel/analysis/propose"
	"runnel/geo/plan"
)

// A lineEnds is between which places a line may be sought: the ends of a channel, or
// those of what is measured on the map, with what is asked of it there.
type lineEnds struct {
	word     string
	question propose.Question
}

// findLine asks what a better line is sought for: first it measures what is there.
func (w *Window) findLine() {
	if w.doc == nil {
		return
	}
	s, scheme := w.doc.Site(), w.board.Scheme
	measured := slices.Clone(w.measuredLine())
	var ends []lineEnds
	w.start(job{
		doing: tr("Measuring what is drawn"),
		run: func(ctx context.Context) (err error) {
			ends, err = w.endsToSeek(ctx, s, scheme, measured)
			return err
		},
		done: func(err error) {
			switch {
			case err != nil:
				w.complain(err)
			case len(ends) == 0:
				w.complain(errors.New(tr("there is no channel to better here, and no line is measured; draw a channel, or measure a line with the tape from where the water comes in to where it goes")))
			default:
				w.askLine(ends)
			}
		},
	})
}

// measuredLine is the line that the tape is laid along; none where it is not in hand.
func (w *Window) measuredLine() orb.LineString {
	if f, ok := w.section.taped(); ok {
		return f.Line()
	}
	return nil
}

// endsToSeek lists between which places a line may be sought, the likeliest first: those
// of what is measured, of the channel that is selected, of the other channels.
func (w *Window) endsToSeek(ctx context.Context, s *plan.Site, scheme plan.SchemeID, measured orb.LineString) ([]lineEnds, error) {
	var ends []lineEnds
	for _, f := range s.Plan.In(scheme) {
		if f.Kind != plan.Channel {
			continue
		}
		q, err := propose.Asked(ctx, withFirst(s, f.ID), scheme)
		if err != nil || q.Instead != f.ID {
			continue
		}
		e := lineEnds{trf("the ends of %s", titleOf(f)), q}
		if f.ID == w.board.Selected {
			ends = slices.Insert(ends, 0, e)
		} else {
			ends = append(ends, e)
		}
	}
	if n := len(measured); n > 1 {
		q := propose.Question{Scheme: scheme, From: measured[0], To: measured[n-1], Volume: math.NaN()}
		ends = slices.Insert(ends, 0, lineEnds{tr("the ends of the measured line"), q})
	}
	return ends, ctx.Err()
}

// withFirst is a site whose plan has a feature first, so that it is asked about.
func withFirst(s *plan.Site, id plan.ID) *plan.Site {
	other := s.Clone()
	if i := other.Plan.Index(id); i > 0 {
		f := other.Plan.Features[i]
		other.Plan.Features = slices.Insert(slices.Delete(other.Plan.Features, i, i+1), 0, f)
	}
	return &other
}

// A lineForm asks what a line is sought for.
type lineForm struct {
	w      *Window
	ends   []lineEnds
	pick   *picker
	fields []lineField
	// count is how many lines are wanted.
	count *line
	items []*widget.FormItem
	asked propose.Question
}

// A lineField is a number of the question.
type lineField struct {
	plan.Field
	of    func(*propose.Question) *float64
	entry *line
	// shown is what stands in the entry for the number given, until another is typed.
	shown string
	given float64
}

// lineFields are the numbers that are asked for, and between which they lie.
func lineFields() []lineField {
	number := func(label, unit string, low, high float64, of func(*propose.Question) *float64) lineField {
		return lineField{Field: plan.Field{Label: label, Unit: unit, Low: low, High: high, Optional: true}, of: of}
	}
	return []lineField{
		number(tr("Digging"), "m³", 0.1, 100_000, func(q *propose.Question) *float64 { return &q.Volume }),
		number(tr("Fall of the bed"), "%", 0, 20, func(q *propose.Question) *float64 { return &q.Grade }),
		number(trf("%s, across per 1 down", told("Left side slope")), "", 0, 20, func(q *propose.Question) *float64 { return &q.Left }),
		number(trf("%s, across per 1 down", told("Right side slope")), "", 0, 20, func(q *propose.Question) *float64 { return &q.Right }),
		number(tr("Least radius of a bend"), "m", 0, 1000, func(q *propose.Question) *float64 { return &q.Radius }),
		number(tr("From buildings"), "m", 0, 1000, func(q *propose.Question) *float64 { return &q.Setbacks.Building }),
		number(tr("From the boundary"), "m", 0, 1000, func(q *propose.Question) *float64 { return &q.Setbacks.Boundary }),
		number(tr("From wells"), "m", 0, 1000, func(q *propose.Question) *float64 { return &q.Setbacks.Well }),
		number(tr("From septic fields"), "m", 0, 1000, func(q *propose.Question) *float64 { return &q.Setbacks.Septic }),
		number(tr("From trees' crowns"), "m", 0, 1000, func(q *propose.Question) *float64 { return &q.Setbacks.Tree }),
	}
}

// How many lines are sought for, usually and at most.
const (
	usualLines = 3
	mostLines  = 12
)

func (w *Window) newLineForm(ends []lineEnds) *lineForm {
	f := &lineForm{w: w, ends: ends, fields: lineFields()}
	var words []string
	for i := range f.ends {
		f.ends[i].question.Setbacks = propose.UsualSetbacks()
		words = append(words, f.ends[i].word)
	}
	f.pick = w.newPicker(words)
	f.items = []*widget.FormItem{hinted(tr("Between"), f.pick, tr("For other places, measure a line between them with the tape first."))}
	for i := range f.fields {
		field := &f.fields[i]
		typed, _ := w.units.field(field.Field)
		label := typed.Label
		if typed.Unit != "" {
			label = trf("%[1]s, %[2]s", typed.Label, typed.Unit)
		}
		field.entry = w.newLine("")
		f.items = append(f.items, widget.NewFormItem(label, field.entry))
	}
	f.count = w.newLine(strconv.Itoa(usualLines))
	f.items = append(f.items, widget.NewFormItem(tr("Lines, at most"), f.count))
	f.fields[4].entry.SetPlaceHolder(tr("by the width"))
	f.pick.OnChanged = func(string) { f.fill() }
	f.pick.SetSelectedIndex(0)
	return f
}

// fill shows what is usual between the places that are chosen.
func (f *lineForm) fill() {
	q := f.ends[f.pick.SelectedIndex()].question
	if math.IsNaN(q.Volume) {
		q.Volume, q.Left, q.Right = 0, 3, 3
		if f.w.figures.known {
			q.Volume = f.w.figures.scheme.Cut
		}
	}
	for i := range f.fields {
		field := &f.fields[i]
		v := *field.of(&q)
		_, each := f.w.units.field(field.Field)
		words := typedNumber(math.Round(100*v/each) / 100)
		if field.Unit == "m" { // as the cautions say it
			words = typedNumber(math.Round(10*v/each) / 10)
		}
		if v == 0 && field.Unit == "m³" || field.of(&q) == &q.Radius {
			words = ""
		}
		field.shown, field.given = words, v
		field.entry.SetText(words)
	}
}

// take reads the answers.
func (f *lineForm) take() error {
	f.asked = f.ends[f.pick.SelectedIndex()].question
	for _, field := range f.fields {
		if field.shown != "" && field.entry.Text == field.shown {
			*field.of(&f.asked) = field.given
			continue
		}
		typed, each := f.w.units.field(field.Field)
		v, _, err := typed.Parse(field.entry.Text)
		if err != nil {
			return err
		}
		*field.of(&f.asked) = v.Number * each
	}
	count, _, err := plan.Field{Label: tr("Lines, at most"), Low: 1, High: mostLines}.Parse(f.count.Text)
	if err != nil {
		return err
	}
	f.asked.Count = int(count.Number)
	if f.asked.Volume == 0 {
		return errors.New(tr("the digging is not set; say how much may be dug"))
	}
	return nil
}

// askLine asks for the line, in two columns so that all of it is seen.
func (w *Window) askLine(ends []lineEnds) {
	f := w.newLineForm(ends)
	fault := widget.NewLabel("")
	fault.Wrapping, fault.Importance = fyne.TextWrapWord, widget.DangerImportance
	fault.Hide()
	half := 1 + (len(f.items)-1)/2
	content := container.NewVBox(
		paragraph(tr("Seeks lines that touch the most soil for the same digging and keep their distances. Each becomes a scheme of its own beside this one.")),
		paragraph(leftOut()),
		widget.NewForm(f.items[0]),
		container.NewGridWithColumns(2, widget.NewForm(f.items[1:half]...), widget.NewForm(f.items[half:]...)), fault)
	ready := func() bool {
		err := f.take()
		if err != nil {
			fault.SetText(sentence(w.units.told(err.Error())))
			fault.Show()
		}
		return err == nil
	}
	w.ask(prompt{title: tr("Find a better line"), content: content, size: fyne.NewSize(720, 0),
		choices: []choice{{word: tr("Cancel")}, {word: tr("Find lines"), ready: ready, do: func() { w.seekLine(f.asked) }}}})
}
