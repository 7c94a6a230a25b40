package action

import (
	"errors"
	"io"
	"os"
)

// Window opens the window.
type Window struct {
	Site  string `arg:"" optional:"" help:"A site (.gpkg), or an elevation or drawing file to begin one with."`
	Demo  bool   `help:"Open the demo site."`
	Trace bool   `hidden:"" help:"Write what happens in the window to standard output, as JSON lines."`
}

// Opening is what the window opens with.
type Opening struct {
	// Path names a file; empty for none.
	Path string
	// Demo opens the demo site.
	Demo bool
	// Trace receives events as JSON lines; nil for none.
	Trace io.Writer
}

// An Opener opens the window and returns when it has closed. It reports a
// computer that has no display.
type Opener func(Opening) error

// Run opens the window.
func (w *Window) Run(s Streams, open Opener) error {
	o := Opening{Path: w.Site, Demo: w.Demo}
	if w.Trace {
		o.Trace = s.Out
	}
	if w.Site != "" {
		if w.Demo {
			return mistyped("give a site or --demo, not both")
		}
		if err := regular(w.Site); err != nil {
			return err
		}
	}
	return open(o)
}

// regular reports a path that names no file to open.
func regular(path string) error {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, os.ErrNotExist) && unknownCommand(path) != "":
		return &MistypedError{unknownCommand(path)}
	case errors.Is(err, os.ErrNotExist):
		return sentence("there is no file %s; look at the path", path)
	case err != nil:
		return sentence("%s cannot be opened: %v; look at the path", path, reason(err))
	case info.IsDir():
		return sentence("%s is a folder; give a file", path)
	}
	return nil
}
