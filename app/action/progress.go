package action

import (
	"fmt"
	"io"
	"os"
)

// progress returns what tells on one line of a terminal how much of something is done,
// and what wipes that line; both do nothing where messages go elsewhere.
func (s Streams) progress(what string) (tell func(done float64), end func()) {
	if !onTerminal(s.Err) {
		return nil, func() {}
	}
	tell = func(done float64) { fmt.Fprintf(s.Err, "\rrunnel: %s, %.0f %% done", what, 100*done) }
	return tell, func() { fmt.Fprintf(s.Err, "\r%60s\r", "") }
}

// onTerminal reports whether what is written is read on a terminal as it comes.
func onTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
