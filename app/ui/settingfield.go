package ui

import (
	"math"

	"runnel/geo/plan"
)

// A settingField is a number of the site's setting.
type settingField struct {
	*question
	w      *Window
	field  plan.Field
	each   float64
	answer *answer
	of     func(*plan.Setting) *float64
}

func newSettingField(w *Window, label, unit string, of func(*plan.Setting) *float64) *settingField {
	f := &settingField{w: w, of: of}
	// What a setting may be is for the edit to say.
	f.field, f.each = w.units.field(plan.Field{Label: label, Unit: unit, Low: math.Inf(-1), High: math.Inf(1)})
	f.answer = newAnswer("", func(typed string) error { return f.complain(f.take(typed)) })
	f.question = newQuestion(label, f.answer, f.field.Unit)
	return f
}

func (f *settingField) take(typed string) error {
	v, _, err := f.field.Parse(typed)
	if err != nil {
		return err
	}
	return f.w.setSetting(func(s *plan.Setting) { *f.of(s) = v.Number * f.each })
}

// update shows what the site holds.
func (f *settingField) update() {
	setting := f.w.doc.Site().Setting
	held := roundTo(*f.of(&setting)/f.each, math.Round)
	if f.answer.put(f.field.Format(plan.Value{Number: held})) {
		f.complain(nil)
	}
}
