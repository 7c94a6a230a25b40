package ui

import (
	"context"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"runnel/app/site"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

func (w *Window) recoveryFolder() string { return filepath.Join(w.options.folder(), "recovery") }

// keeping says how copies of the open site are kept against a crash.
func (w *Window) keeping() site.Keeping {
	return site.Keeping{
		Dir:    w.recoveryFolder(),
		Save:   gdal.SaveSite,
		Failed: func(err error) { w.post(func() { w.complain(err) }) },
	}
}

// offerRecovery asks about the newest copy that a crash has left.
func (w *Window) offerRecovery() {
	found, err := site.Recoverable(w.recoveryFolder())
	if err != nil || len(found) == 0 {
		w.complain(err)
		return
	}
	left := found[0]
	words := widget.NewLabel("Runnel ended without closing " + orUntitled(left.Name) + where(left.Path) + ". A copy from " +
		left.Time.Local().Format("15:04 on 2 January 2006") + " was kept.")
	words.Wrapping = fyne.TextWrapWord
	w.ask(prompt{title: "Bring back unsaved work?", content: words, size: fyne.NewSize(520, 190), choices: []choice{
		{word: "Not now"},
		{word: "Delete the copy", do: func() { w.complain(left.Discard()) }},
		{word: "Bring it back", do: func() { w.leave(func() { w.recover(left) }) }},
	}})
	w.trace.say("recovery offered", "name", left.Name)
}

// where names the file of a site that has one.
func where(path string) string {
	if path == "" {
		return ", which was in no file yet"
	}
	return ", " + path
}

func orUntitled(name string) string {
	if name == "" {
		return "an untitled site"
	}
	return name
}

// recover opens a kept copy as the site that it is a copy of. The copy goes
// only once the new one is written.
func (w *Window) recover(left site.Left) {
	var opened *plan.Site
	w.start(job{
		doing: "Bringing back " + orUntitled(left.Name),
		run: func(ctx context.Context) (err error) {
			opened, err = w.options.In.Site(ctx, left.Copy)
			return err
		},
		done: func(err error) {
			if err != nil {
				w.complain(err)
				return
			}
			w.put(site.Recovered(*opened, left.Path))
			if err := w.keeper.Flush(); err != nil {
				w.complain(err)
				return
			}
			w.complain(left.Discard())
		},
	})
}
