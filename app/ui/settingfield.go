package ui

import (
	"runnel/app/site"
	"runnel/geo/plan"
)

// A settingField is a number of the site's setting.
type settingField struct {
	*question
	w      *Window
	figure site.Figure
	// field is the figure as it is typed, and each how many of its own unit go
	// into one that is typed.
	field  plan.Field
	each   float64
	answer *answer
}

func newSettingField(w *Window, figure site.Figure) *settingField {
	f := &settingField{w: w, figure: figure}
	f.field, f.each = w.units.field(figure.Field)
	f.answer = newAnswer("", func(typed string) error { return f.complain(f.take(typed)) })
	f.answer.turn = w.turn
	f.question = newQuestion(told(figure.Label), f.answer, f.field.Unit)
	return f
}

func (f *settingField) take(typed string) error {
	v, _, err := f.field.Parse(typed)
	if err != nil {
		return err
	}
	return f.w.setSetting(func(s *plan.Setting) { *f.figure.Of(s) = v.Number * f.each })
}

// update shows what the site holds.
func (f *settingField) update() {
	setting := f.w.doc.Site().Setting
	held := inField(*f.figure.Of(&setting), f.each)
	if f.answer.put(spoken().typed(f.field, plan.Value{Number: held})) {
		f.complain(nil)
	}
}
