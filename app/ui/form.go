package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// An answer is a text field that gives its text when Return is pressed and
// when the keyboard leaves it, and takes Escape as a change of mind.
type answer struct {
	entry
	// given is what the field held when it was last in agreement with the site.
	given string
	// give takes the text, or says why it cannot.
	give func(string) error
	// turn takes back, or does again, what the field's page did last, while nothing is
	// being typed; nil leaves that to the field.
	turn func(fyne.Shortcut)
}

// TypedShortcut turns the page's last step back where nothing is being typed.
func (a *answer) TypedShortcut(s fyne.Shortcut) {
	if a.turn != nil && a.Text == a.given {
		switch s.(type) {
		case *fyne.ShortcutUndo, *fyne.ShortcutRedo:
			a.turn(s)
			return
		}
	}
	a.entry.TypedShortcut(s)
}

func newAnswer(given string, give func(string) error) *answer {
	a := &answer{given: given, give: give}
	a.ExtendBaseWidget(a)
	a.Text = given
	a.OnSubmitted = func(string) { a.settle() }
	return a
}

// put shows what the site holds now, unless the field is being typed in; it
// reports whether the field and the site agree.
func (a *answer) put(given string) bool {
	if a.Text != a.given && a.Text != given {
		return false
	}
	a.given = given
	if a.Text != given {
		a.SetText(given)
	}
	return true
}

func (a *answer) settle() {
	if a.Text == a.given {
		return
	}
	before := a.given
	a.given = a.Text // so that put may write what is held in the site's own way
	if err := a.give(a.given); err != nil {
		a.given = before
	}
}

// FocusLost gives the text.
func (a *answer) FocusLost() {
	a.entry.FocusLost()
	a.settle()
}

// TypedKey brings back on Escape what was there before, and lets the keyboard go to
// the map.
func (a *answer) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeyEscape {
		a.SetText(a.given)
		if c := fyne.CurrentApp().Driver().CanvasForObject(a); c != nil {
			c.Unfocus()
		}
		return
	}
	a.Entry.TypedKey(e)
}

// A line is a text field of a dialog: Return and Escape are the dialog's.
type line struct {
	entry
	keys func(*fyne.KeyEvent) bool
}

func (w *Window) newLine(words string) *line {
	l := &line{keys: w.dialogKey}
	l.ExtendBaseWidget(l)
	l.Text = words
	return l
}

// TypedKey answers the dialog.
func (l *line) TypedKey(e *fyne.KeyEvent) {
	if !l.keys(e) {
		l.Entry.TypedKey(e)
	}
}

// A question is a row of the ledger: a label, a field with its unit, and
// beneath them what is wrong with the answer.
type question struct {
	row   *fyne.Container
	fault *widget.Label
}

// questionShares are the widths of label, field and unit.
var questionShares = columns{11, 9, 5}

func newQuestion(label string, field fyne.CanvasObject, unit string) *question {
	name := widget.NewLabel(label)
	name.Wrapping = fyne.TextWrapWord
	return newAskedQuestion(flush(name), field, unit)
}

// newAskedQuestion is a question whose label is more than words.
func newAskedQuestion(name, field fyne.CanvasObject, unit string) *question {
	q := &question{fault: widget.NewLabel("")}
	q.fault.Wrapping = fyne.TextWrapWord
	q.fault.Importance = widget.DangerImportance
	q.fault.Hide()
	shares := questionShares
	cells := []fyne.CanvasObject{name, field, text(unit, caption)}
	if unit == "" {
		shares, cells = columns{shares[0], shares[1] + shares[2]}, cells[:2]
	}
	q.row = container.NewVBox(container.New(shares, cells...), flush(q.fault))
	return q
}

// complain shows under the field what is wrong, which it gives back; nil takes
// it away.
func (q *question) complain(err error) error {
	if err == nil {
		q.fault.Hide()
		return nil
	}
	q.fault.SetText(sentence(told(err.Error())))
	q.fault.Show()
	return err
}
