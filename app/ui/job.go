package ui

import (
	"context"
	"errors"
	"math"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/app/work"
)

// patience is how long a job may run before it shows that it is running.
const patience = 500 * time.Millisecond

// mapPatience is how long a map may be in the making before a newer one cancels it: on
// a large ground and a slow machine a thing that is dragged without rest should still
// be seen to move.
const mapPatience = 4 * time.Second

// A job is work that a person has asked for and waits for.
type job struct {
	// doing says what is going on, such as "Reading the raster".
	doing string
	// run does it, off the interface's goroutine.
	run func(context.Context) error
	// done takes the outcome, on the interface's goroutine. It is not called
	// for a job that was cancelled.
	done func(error)
}

// start runs a job. After a moment it shows the progress with a way to cancel.
func (w *Window) start(j job) {
	finished := false
	var hide func()
	cancel := work.Start(work.Long[struct{}]{
		Do: func(ctx context.Context, _ func(work.Progress)) (struct{}, error) { return struct{}{}, j.run(ctx) },
		Done: func(_ struct{}, err error) {
			w.post(func() {
				finished = true
				if hide != nil {
					hide()
				}
				w.trace.say("job", "doing", j.doing, "ok", err == nil)
				if !errors.Is(err, context.Canceled) {
					j.done(err)
				}
			})
		},
	})
	time.AfterFunc(patience, func() {
		w.post(func() {
			if !finished {
				hide = w.progress(j.doing, cancel)
			}
		})
	})
}

func (w *Window) progress(doing string, cancel func()) (hide func()) {
	bar := widget.NewProgressBarInfinite()
	gone := w.ask(prompt{
		title: doing, content: container.NewVBox(widget.NewLabel("This may take a moment."), bar),
		size: fyne.NewSize(420, 160), waits: true, choices: []choice{{word: "Cancel", do: func() { bar.Stop(); cancel() }}},
	})
	return func() { bar.Stop(); gone() }
}

// complain shows an error as one sentence. What was cancelled needs none.
func (w *Window) complain(err error) {
	if err == nil || errors.Is(err, context.Canceled) {
		return
	}
	w.trace.say("error", "text", err.Error())
	w.tell("That did not work", sentence(err.Error()))
}

// tell shows a text under a title.
func (w *Window) tell(title, text string) {
	label := widget.NewLabel(text)
	label.Wrapping = fyne.TextWrapWord
	lines := math.Ceil(float64(len(text)) / 70)
	w.ask(prompt{
		title: title, content: container.NewVScroll(label), choices: closing,
		size: fyne.NewSize(560, float32(min(560, 140+20*lines))),
	})
}
