package ui

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"time"
)

// Crashes are written into two files of the window's own folder: the one that the
// running program would write, and the one that the last crash has left.
const (
	crashFile     = "crash.txt"
	lastCrashFile = "last-crash.txt"
)

// watchForCrash has the runtime write down what ends the program, a fault in a C
// library too, and finds out whether the last run ended so. Without a folder to
// write in, the program runs all the same.
func (w *Window) watchForCrash() {
	dir := w.options.folder()
	path, last := filepath.Join(dir, crashFile), filepath.Join(dir, lastCrashFile)
	if info, err := os.Stat(path); err == nil && info.Size() > 0 && os.Rename(path, last) == nil {
		w.crash = last
	}
	if os.MkdirAll(dir, 0o700) != nil {
		return
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return
	}
	defer f.Close() // the runtime holds a copy of its own
	if err := debug.SetCrashOutput(f, debug.CrashOptions{}); err != nil {
		w.trace.say("error", "text", err.Error())
	}
}

// catch ends the program in good order when a callback of the toolkit has run into a
// mistake of the program: the recovery copy is brought up to date, what is known of
// the mistake goes into the crash file, and a person reads one sentence.
func (w *Window) catch() {
	mistake := recover()
	if mistake == nil {
		return
	}
	kept := tr("nothing had been left unsaved")
	if w.keeper != nil && w.doc.Dirty() {
		kept = tr("what was not saved is kept and is offered when Runnel starts again")
		if err := w.keeper.Flush(); err != nil {
			kept = trf("what was not saved could not be kept: %s", told(err.Error()))
		}
	}
	path := filepath.Join(w.options.folder(), crashFile)
	known := fmt.Sprintf("%s\n%v\n\n%s\n", time.Now().Format(time.RFC3339), mistake, debug.Stack())
	if err := os.WriteFile(path, []byte(known), 0o600); err != nil {
		path = err.Error()
	}
	w.trace.say("crashed", "text", fmt.Sprint(mistake))
	fmt.Fprintln(os.Stderr, "runnel:", trf("Runnel ran into a mistake of its own and had to end; %[1]s. What is known of the mistake: %[2]s", kept, path))
	w.options.exit(1)
}
