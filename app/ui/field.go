package ui

import (
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"runnel/app/site"
	"runnel/geo/plan"
)

// A nameField is the feature's own name.
type nameField struct {
	*question
	answer *answer
}

func newNameField(w *Window, id plan.ID) *nameField {
	n := &nameField{}
	n.answer = newAnswer("", func(typed string) error {
		return n.complain(w.changeField([]plan.ID{id}, tr("Name"), func(f plan.Feature) plan.Feature {
			f.Name = typed
			return f
		}))
	})
	n.answer.turn = w.turn
	n.question = newQuestion(tr("Name"), n.answer, "")
	return n
}

func (n *nameField) content() fyne.CanvasObject { return n.row }

func (n *nameField) show(all []plan.Feature) {
	n.answer.SetPlaceHolder(titleOf(all[0]))
	n.answer.put(all[0].Name)
}

// several stands in a field where those selected differ.
func several() string { return tr("several values") }

// changeField changes a field of features in one step, named after the field.
func (w *Window) changeField(ids []plan.ID, label string, change func(plan.Feature) plan.Feature) error {
	var after []plan.Feature
	for _, id := range ids {
		if f, ok := w.doc.Site().Plan.Find(id); ok {
			after = append(after, change(f))
		}
	}
	what := toldLater("change %s of %d things", strings.ToLower(label), len(after))
	if len(after) == 1 {
		before, _ := w.doc.Site().Plan.Find(after[0].ID)
		what = toldLater("change %s of %s", strings.ToLower(label), before.Title())
	}
	return w.doc.Do(&site.Alter{After: after, What: what})
}

// A typedField is a number or a text of what is selected.
type typedField struct {
	*question
	w      *Window
	field  plan.Field
	each   float64
	answer *answer
	// idle says why what is typed would change nothing.
	idle *widget.RichText
}

func newTypedField(w *Window, ids []plan.ID, field plan.Field) *typedField {
	t := &typedField{w: w}
	t.field, t.each = w.units.field(field)
	t.answer = newAnswer("", func(typed string) error { return t.complain(t.take(w, ids, typed)) })
	t.answer.turn = w.turn
	label, unit := told(field.Label), told(t.field.Unit)
	if unit == "H:V" { // what diggers write so is for others to be said in words
		label, unit, t.field.Unit = trf("%s, across per 1 down", label), "", tr("across per 1 down")
	}
	t.question = newQuestion(label, t.answer, unit)
	t.idle = quiet("")
	t.row.Add(flush(t.idle))
	t.idle.Hide()
	return t
}

func (t *typedField) content() fyne.CanvasObject { return t.row }

// take reads what was typed and changes all. An empty field goes back to the
// usual value.
func (t *typedField) take(w *Window, ids []plan.ID, typed string) error {
	v, ok := plan.Value{}, false
	if typed != "" {
		var err error
		if v, ok, err = t.field.Parse(typed); err != nil {
			return err
		}
	}
	v.Number *= t.each
	return w.changeField(ids, t.field.Label, func(f plan.Feature) plan.Feature {
		if !ok {
			return f.Without(t.field.Name)
		}
		return f.With(t.field.Name, v)
	})
}

func (t *typedField) show(all []plan.Feature) {
	held := t.held(all[0])
	t.answer.SetPlaceHolder(t.inUse(all))
	for _, f := range all[1:] {
		if t.held(f) != held {
			held = ""
			t.answer.SetPlaceHolder(several())
			break
		}
	}
	if t.answer.put(held) {
		t.complain(nil)
	}
	t.rest(t.w.whyIdle(all, t.field.Name))
}

// rest greys the field and says why it does nothing; no reason wakes it.
func (t *typedField) rest(why string) {
	setQuiet(t.idle, why)
	shown(t.idle, why != "")
	if t.answer.Disabled() == (why != "") {
		return
	}
	if why == "" {
		t.answer.Enable()
		return
	}
	t.answer.Disable()
}

// inUse is what is in use in place of a field of one feature that is not set, as far
// as it is known.
func (t *typedField) inUse(all []plan.Feature) string {
	if m, ok := t.w.measureOf(all[0].ID); ok && len(all) == 1 && t.field.Name == "water_level" && dry(m) {
		return tr("holds no water")
	}
	if u, ok := t.w.usualOf(all[0], t.field.Name); ok && len(all) == 1 {
		from := sourceWord(u.From)
		if math.IsNaN(u.Level) {
			return from
		}
		return trf("%[1]s %[2]s", decimal(u.Level/t.each, 2), from)
	}
	if v, from := t.w.standsIn(all[0], t.field.Name); len(all) == 1 && !math.IsNaN(v) {
		return trf("%[1]s %[2]s", decimal(v/t.each, 2), from)
	}
	return tr("not set")
}

// held is what the field of a feature holds, as it is typed.
func (t *typedField) held(f plan.Feature) string {
	v, set := f.Fields[t.field.Name]
	if !set && t.field.Type == plan.Number && !t.field.Optional {
		v, set = plan.Value{Number: f.Num(t.field.Name)}, true
	}
	if !set {
		return ""
	}
	v.Number = inField(v.Number, t.each)
	return spoken().typed(t.field, v)
}

// A choiceField is one of a few words.
type choiceField struct {
	*question
	choice *pick
	// words are those of the choice, as the site holds them; read tells that of a
	// feature, and take changes what is selected.
	words []string
	read  func(plan.Feature) string
	take  func(word string) error
}

func newChoiceField(w *Window, ids []plan.ID, field plan.Field) *choiceField {
	c := &choiceField{words: field.Of, read: func(f plan.Feature) string { return f.Text(field.Name) }}
	c.take = func(word string) error {
		return w.changeField(ids, field.Label, func(f plan.Feature) plan.Feature { return f.With(field.Name, plan.Value{Text: word}) })
	}
	return c.lay(w, told(field.Label))
}

// The words of the choice between straight sides and a curve.
var straightWord, curvedWord = toldLater("straight sides"), toldLater("smooth curve")

// newCourseField is the choice between straight sides and a smooth curve.
func newCourseField(w *Window, ids []plan.ID) *choiceField {
	c := &choiceField{words: []string{straightWord, curvedWord}, read: func(f plan.Feature) string {
		if f.Curved() {
			return curvedWord
		}
		return straightWord
	}}
	c.take = func(word string) error {
		change := plan.Feature.Straight
		if word == curvedWord {
			change = plan.Feature.Smooth
		}
		return w.changeField(ids, "Course", change)
	}
	return c.lay(w, tr("Course"))
}

func (c *choiceField) lay(w *Window, label string) *choiceField {
	shown := make([]string, len(c.words))
	for i, word := range c.words {
		shown[i] = told(word)
	}
	c.choice = w.newPick(shown)
	c.question = newQuestion(label, c.choice, "")
	return c
}

func (c *choiceField) content() fyne.CanvasObject { return c.row }

func (c *choiceField) show(all []plan.Feature) {
	c.choice.OnChanged = nil
	word := c.read(all[0])
	for _, f := range all[1:] {
		if c.read(f) != word {
			word = ""
		}
	}
	if i := slices.Index(c.words, word); i >= 0 {
		c.choice.SetSelectedIndex(i)
	} else {
		c.choice.ClearSelected()
	}
	c.choice.OnChanged = func(string) { c.chosen(word) }
}

// chosen takes another word than the one before.
func (c *choiceField) chosen(before string) {
	if i := c.choice.SelectedIndex(); i >= 0 && c.words[i] != before {
		c.complain(c.take(c.words[i]))
	}
}
