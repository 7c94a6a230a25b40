package ui

import (
	"runnel/app/site"
	"runnel/geo"
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
	return newLabelledSetting(w, figure, figure.Label)
}

func newLabelledSetting(w *Window, figure site.Figure, label string) *settingField {
	f := &settingField{w: w, figure: figure}
	f.field, f.each = w.units.field(figure.Field)
	return f.lay(label)
}

// newShortSetting is a field under a head that says what its figures are of, so that a
// shorter label does.
func newShortSetting(w *Window, name, label string) *settingField {
	return newLabelledSetting(w, plan.SettingFigureNamed(name), label)
}

// newPriceField is what one cubic metre costs, in the currency of the site; with feet
// what one cubic foot does.
func newPriceField(w *Window, name, label string) *settingField {
	f := &settingField{w: w, figure: plan.SettingFigureNamed(name), each: 1}
	f.field = f.figure.Field
	if w.units == usFeet {
		f.each = 1 / (geo.Foot * geo.Foot * geo.Foot)
		f.field.High /= f.each
	}
	f.field.Unit = w.priceUnit(w.units.cubicUnit())
	return f.lay(label)
}

// priceUnit writes the unit of a price for a unit of something; empty for one thing.
func (w *Window) priceUnit(per string) string {
	currency := w.doc.Site().Setting.Costs.Currency
	switch {
	case per == "":
		return currency
	case currency == "":
		return trf("per %s", per)
	}
	return currency + "/" + per
}

// lay makes the row of the field.
func (f *settingField) lay(label string) *settingField {
	f.answer = newAnswer("", func(typed string) error { return f.complain(f.take(typed)) })
	f.answer.turn = f.w.turn
	f.question = newQuestion(told(label), f.answer, told(f.field.Unit))
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

// A settingWord is one of a few words of the site's setting.
type settingWord struct {
	*question
	w    *Window
	of   plan.SettingText
	pick *pick
}

// settingText finds a text of the setting by its name in files.
func settingText(name string) plan.SettingText {
	for _, t := range plan.SettingTexts() {
		if t.Name == name {
			return t
		}
	}
	panic("ui: no text of the setting is called " + name)
}

func newSettingWord(w *Window, name, label string) *settingWord {
	f := &settingWord{w: w, of: settingText(name)}
	f.pick = w.newPick(toldAll(f.of.Field.Of))
	f.question = newQuestion(told(label), f.pick, "")
	return f
}

// update shows what the site holds.
func (f *settingWord) update() {
	setting := f.w.doc.Site().Setting
	f.pick.OnChanged = nil
	f.pick.SetSelected(told(*f.of.Of(&setting)))
	f.pick.OnChanged = func(said string) {
		f.complain(f.w.setSetting(func(s *plan.Setting) { *f.of.Of(s) = untold(f.of.Field.Of, said) }))
	}
}

// A settingLine is a text of the site's setting.
type settingLine struct {
	*question
	w      *Window
	of     plan.SettingText
	answer *answer
}

// newSettingLine asks for a text, of which check says what is wrong with it; nil takes all.
func newSettingLine(w *Window, name, label string, check func(string) error) *settingLine {
	f := &settingLine{w: w, of: settingText(name)}
	f.answer = newAnswer("", func(typed string) error {
		if check != nil {
			if err := check(typed); err != nil {
				return f.complain(err)
			}
		}
		return f.complain(w.setSetting(func(s *plan.Setting) { *f.of.Of(s) = typed }))
	})
	f.answer.turn = w.turn
	f.question = newQuestion(told(label), f.answer, "")
	return f
}

// update shows what the site holds.
func (f *settingLine) update() {
	setting := f.w.doc.Site().Setting
	if f.answer.put(*f.of.Of(&setting)) {
		f.complain(nil)
	}
}
