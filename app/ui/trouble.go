package ui

import (
	"context"
	"errors"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"
)

// A trouble is what a person is told when something did not work.
type trouble struct {
	// what says what happened, as a title.
	what string
	// err says in a sentence what is wrong and what to do.
	err error
	// kept says what was kept, as whole sentences; empty where nothing was at stake.
	kept string
}

// complain shows an error as one sentence. What was cancelled needs none.
func (w *Window) complain(err error) { w.report(trouble{what: tr("That did not work"), err: err}) }

// report shows a trouble, with a way to copy its text for someone who can help.
func (w *Window) report(t trouble) {
	if t.err == nil || errors.Is(t.err, context.Canceled) {
		return
	}
	w.trace.say("error", "text", t.err.Error())
	said := sentence(w.units.told(t.err.Error()))
	body := container.NewVBox(wrappedLabel(said))
	if t.kept != "" {
		body.Add(wrappedLabel(t.kept))
	}
	copied := newButton(tr("Copy the text"), nil)
	copied.OnTapped = func() {
		w.app.Clipboard().SetContent(t.what + "\n" + said + "\n" + t.kept)
		copied.SetText(tr("Copied"))
	}
	copied.keys = w.dialogKey
	w.ask(prompt{title: t.what, content: container.NewBorder(nil, container.NewHBox(layout.NewSpacer(), copied), nil, nil, container.NewVScroll(body)),
		choices: []choice{{word: tr("Close")}}, size: w.sizeFor(said + t.kept)})
}

// sizeFor is how large a prompt is that holds a text to be read.
func (w *Window) sizeFor(words string) fyne.Size {
	lines := math.Ceil(float64(len(words))/70) + 2
	size := w.win.Canvas().Size()
	return fyne.NewSize(min(scaled(560), size.Width-80), min(scaled(float32(140+20*lines)), size.Height-80))
}

// tell shows a text under a title.
func (w *Window) tell(title, words string) {
	w.ask(prompt{title: title, content: container.NewVScroll(wrappedLabel(words)), choices: []choice{{word: tr("Close")}}, size: w.sizeFor(words)})
}

func wrappedLabel(words string) *widget.Label {
	l := widget.NewLabel(words)
	l.Wrapping = fyne.TextWrapWord
	return l
}
