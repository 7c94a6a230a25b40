package ui

import (
	"io"
	"os"
	"path/filepath"
	"runtime/debug"

	"fyne.io/fyne/v2"

	"runnel/app/intake"
	"runnel/geo/plan"
)

// Options says what the window opens with. The zero Options opens on the start
// screen and writes no trace.
type Options struct {
	// Path names a file to open: a site, or a raster to begin one from.
	Path string
	// Demo opens the demo site.
	Demo bool
	// DemoSite makes the demo site; nil where there is none to offer.
	DemoSite func() plan.Site
	// In reads the files that come from elsewhere; the zero Reader reads them in
	// this process.
	In intake.Reader
	// Trace receives one JSON object a line for each event; nil for none.
	Trace io.Writer
	// Folder is where the window keeps its list of recent files and the
	// recovery copies; empty for the usual place of the person's settings.
	Folder string
	// Exit ends the program with a status after a mistake of its own; nil is os.Exit.
	Exit func(status int)
}

// Run builds the window on a, shows it and returns when it has closed.
func Run(a fyne.App, o Options) {
	debug.SetGCPercent(garbage)
	w := NewWindow(a, o)
	w.watchForCrash()
	defer w.catch()
	a.Lifecycle().SetOnStarted(w.started)
	a.Lifecycle().SetOnStopped(w.stopped)
	w.win.ShowAndRun()
}

// toInterface has f run on the interface's goroutine. While the toolkit (2.7.1) ends,
// it panics on a queue that it has closed, or runs f where it is: there is no one left
// to show anything to then, and what f comes to is of no account.
func toInterface(f func()) {
	defer func() { _ = recover() }()
	fyne.Do(f)
}

// garbage is how much the program lets lie before it clears up, as a per cent of
// what is in use. Grounds are large and quick to look through, as they point at
// nothing, so clearing up often costs little and keeps much memory free.
const garbage = 20

// folder returns where the window keeps what is its own.
func (o Options) folder() string {
	if o.Folder != "" {
		return o.Folder
	}
	if dir, err := os.UserConfigDir(); err == nil {
		return filepath.Join(dir, "runnel")
	}
	return filepath.Join(os.TempDir(), "runnel")
}

func (o Options) exit(status int) {
	if o.Exit != nil {
		o.Exit(status)
		return
	}
	os.Exit(status)
}

// started opens what the program was started with, or offers what a crash left.
func (w *Window) started() {
	w.trace.say("started")
	switch {
	case w.options.Path != "":
		w.openAny(w.options.Path)
	case w.options.Demo:
		w.openDemo()
	}
	w.offerRecovery()
}

// stopped brings the recovery copy up to date when the program is ended from
// outside, so that nothing is lost by that.
func (w *Window) stopped() {
	if w.keeper != nil && w.doc.Dirty() {
		// There is no one left to tell.
		_ = w.keeper.Flush()
	}
	w.trace.say("stopped")
}
