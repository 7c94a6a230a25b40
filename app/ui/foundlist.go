package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A foundList says what of the running water a designer should know, and why flow is
// not given where it is not.
type foundList struct {
	w      *Window
	box    *fyne.Container
	listed string
}

func newFoundList(w *Window) *foundList { return &foundList{w: w, box: container.NewVBox()} }

// show makes the rows anew where they say something else.
func (l *foundList) show() {
	o := l.w.outcomes.flow
	if !o.last() || o.value == nil {
		l.fill("", func() {})
		return
	}
	r := o.value.result
	l.fill(fmt.Sprint(l.w.units, r.Findings, r.Withheld), func() {
		for _, f := range r.Findings {
			l.add(theme.ColorNameWarning, f.Text, f.ID, f.At)
		}
		for _, held := range r.Withheld {
			l.add(theme.ColorNameError, held.Error(), held.ID, held.At)
		}
	})
}

func (l *foundList) fill(listed string, add func()) {
	if listed == l.listed {
		return
	}
	l.listed = listed
	l.box.RemoveAll()
	add()
	l.box.Refresh()
}

// add adds a sentence with the way to its place.
func (l *foundList) add(colour fyne.ThemeColorName, said string, id plan.ID, at orb.Point) {
	body := widget.NewLabel(sentence(l.w.units.told(said)))
	body.Wrapping = fyne.TextWrapWord
	l.box.Add(flagged(colour, body, func() { l.w.showPlace(id, at) }))
}
