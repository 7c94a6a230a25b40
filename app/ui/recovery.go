package ui

import (
	"context"
	"path/filepath"

	"runnel/app/site"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

func (w *Window) recoveryFolder() string { return filepath.Join(w.options.folder(), "recovery") }

// keeping says how copies of the open site are kept against a crash.
func (w *Window) keeping() site.Keeping {
	return site.Keeping{
		Dir:  w.recoveryFolder(),
		Save: gdal.SaveSite,
		Failed: func(err error) {
			w.post(func() {
				w.report(trouble{tr("No recovery copy is kept now"), err,
					tr("The site is open and nothing is lost. But if Runnel were to end without warning, what has changed since the last save would be gone. Save the site now, and see that this disk has room.")})
			})
		},
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
	words := w.recoveryWords(left)
	w.ask(prompt{title: tr("Bring back unsaved work?"), content: wrappedLabel(words), size: w.sizeFor(words), choices: []choice{
		{word: tr("Not now")},
		{word: tr("Delete the copy"), do: func() { w.complain(left.Discard()) }},
		{word: tr("Bring it back"), do: func() { w.leave(func() { w.recover(left) }) }},
	}})
	w.trace.say("recovery offered", "name", left.Name)
}

// recoveryWords say what ended, what was kept and what each answer does.
func (w *Window) recoveryWords(left site.Left) string {
	said := trf("Runnel ended before %[1]s was closed. A copy was kept at %[2]s.", orUntitled(left.Name), left.Time.Local().Format("15:04, 2006-01-02"))
	if left.Path == "" {
		said += "\n" + tr("It was in no file yet. Bring it back, then save it.")
	} else {
		said += "\n" + trf("Its file, %s, stays as it was last saved until you save over it.", left.Path)
	}
	if w.crash != "" {
		said += "\n" + trf("The cause was a mistake in the program. What is known of it is written in %s.", w.crash)
	}
	return said
}

func orUntitled(name string) string {
	if name == "" {
		return tr("an untitled site")
	}
	return name
}

// recover opens a kept copy as the site that it is a copy of. The copy goes
// only once the new one is written.
func (w *Window) recover(left site.Left) {
	var opened *plan.Site
	still := tr("The copy is still kept, and is offered again when Runnel starts.")
	w.start(job{
		doing: trf("Bringing back %s", orUntitled(left.Name)),
		run: func(ctx context.Context) (err error) {
			opened, err = w.options.In.Site(ctx, left.Copy)
			return err
		},
		done: func(err error) {
			if err != nil {
				w.report(trouble{tr("The copy was not brought back"), err, still})
				return
			}
			w.put(site.Recovered(*opened, left.Path))
			if err := w.keeper.Flush(); err != nil {
				w.report(trouble{tr("No recovery copy is kept now"), err, still})
				return
			}
			w.complain(left.Discard())
		},
	})
}
