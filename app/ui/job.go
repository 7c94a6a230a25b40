package ui

import (
	"context"
	"errors"
	"sync"
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
	// whole is set for what cannot be stopped half done, such as a save: a person may
	// go on meanwhile instead.
	whole bool
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
				hide = w.progress(j, cancel)
			}
		})
	})
}

// progress shows that a job is running and for how long it has.
func (w *Window) progress(j job, cancel func()) (hide func()) {
	bar, began := widget.NewProgressBarInfinite(), time.Now()
	sofar := text("", caption)
	ticker := time.NewTicker(time.Second)
	ended := make(chan struct{})
	tick := func() { say(sofar, trf("%.0f s so far", time.Since(began).Seconds())) }
	tick()
	go func() {
		for {
			select {
			case <-ticker.C:
				w.post(tick)
			case <-ended:
				return
			}
		}
	}()
	stop := sync.OnceFunc(func() { bar.Stop(); ticker.Stop(); close(ended) })
	answer := choice{word: tr("Cancel"), do: func() { stop(); cancel() }}
	if j.whole {
		answer = choice{word: tr("Go on meanwhile"), do: stop}
	}
	gone := w.ask(prompt{
		title: j.doing, content: container.NewVBox(bar, sofar),
		size: fyne.NewSize(420, 150), waits: true, choices: []choice{answer},
	})
	return func() { stop(); gone() }
}
