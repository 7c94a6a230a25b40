package ui

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

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
		f, ok := w.doc.Site().Plan.Find(id)
		if !ok {
			return nil
		}
		f.Name = typed
		return n.complain(w.change(f))
	})
	n.question = newQuestion("Name", n.answer, "")
	return n
}

func (n *nameField) content() fyne.CanvasObject { return n.row }

func (n *nameField) show(f plan.Feature) {
	n.answer.SetPlaceHolder(f.Title())
	n.answer.put(f.Name)
}

// A typedField is a number or a text of the selected feature.
type typedField struct {
	*question
	field  plan.Field
	each   float64
	answer *answer
}

func newTypedField(w *Window, id plan.ID, field plan.Field) *typedField {
	t := &typedField{}
	t.field, t.each = w.units.field(field)
	t.answer = newAnswer("", func(typed string) error { return t.complain(t.take(w, id, typed)) })
	label, unit := field.Label, t.field.Unit
	if unit == "H:V" { // what diggers write so is for others to be said in words
		label, unit, t.field.Unit = label+", across per 1 down", "", "across per 1 down"
	}
	t.question = newQuestion(label, t.answer, unit)
	t.answer.SetPlaceHolder("not set")
	return t
}

func (t *typedField) content() fyne.CanvasObject { return t.row }

// take reads what was typed and changes the feature. An empty field goes back
// to the usual value.
func (t *typedField) take(w *Window, id plan.ID, typed string) error {
	f, ok := w.doc.Site().Plan.Find(id)
	if !ok {
		return nil
	}
	if typed == "" {
		return w.change(f.Without(t.field.Name))
	}
	v, ok, err := t.field.Parse(typed)
	if err != nil {
		return err
	}
	if !ok {
		return w.change(f.Without(t.field.Name))
	}
	v.Number *= t.each
	return w.change(f.With(t.field.Name, v))
}

func (t *typedField) show(f plan.Feature) {
	held := ""
	if t.field.Type == plan.Number && !t.field.Optional {
		held = t.field.Format(plan.Value{Number: t.field.Usual})
	}
	if v, ok := f.Fields[t.field.Name]; ok {
		v.Number = roundTo(v.Number/t.each, math.Round)
		held = t.field.Format(v)
	}
	if t.answer.put(held) {
		t.complain(nil)
	}
}

// A choiceField is one of a few words.
type choiceField struct {
	*question
	field  plan.Field
	choice *widget.Select
	w      *Window
	id     plan.ID
}

func newChoiceField(w *Window, id plan.ID, field plan.Field) *choiceField {
	c := &choiceField{field: field, w: w, id: id, choice: widget.NewSelect(field.Of, nil)}
	c.question = newQuestion(field.Label, c.choice, "")
	return c
}

func (c *choiceField) content() fyne.CanvasObject { return c.row }

func (c *choiceField) take(word string) {
	if f, ok := c.w.doc.Site().Plan.Find(c.id); ok && f.Text(c.field.Name) != word {
		c.complain(c.w.change(f.With(c.field.Name, plan.Value{Text: word})))
	}
}

func (c *choiceField) show(f plan.Feature) {
	c.choice.OnChanged = nil
	c.choice.SetSelected(f.Text(c.field.Name))
	c.choice.OnChanged = c.take
}
