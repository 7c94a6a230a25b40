// Package hush keeps the log quiet while the program's packages start, and of
// one complaint of the window toolkit's for as long as it runs.
//
// The window toolkit writes a fault to the log as it starts when the
// computer's language is "C.UTF-8", as it is on servers: on every command, with or
// without a window. Go starts packages in the order of their paths, each after
// those it imports, and the toolkit imports text/template; so a package of this
// path that imports little starts first.
//
// The toolkit also watches its file of preferences, and reads it while it is being
// written: it finds it empty, says so in three lines, and reads it again a moment
// later. Nothing is lost by that, and no one can do anything about it.
package hush

import (
	"bytes"
	"io"
	"log"
	"os"
)

func init() { log.SetOutput(io.Discard) }

// Lift lets the log be heard again, on standard error.
func Lift() { log.SetOutput(&sieve{to: os.Stderr}) }

// A sieve passes on lines of a log, but for those of a fault that says that the
// preferences were found empty. The log hands it one line at a time.
type sieve struct {
	to io.Writer
	// held is the first line of such a fault, until its cause is known;
	// dropping is set while the last line of one is still to come.
	held     []byte
	dropping bool
}

// Write takes one line.
func (s *sieve) Write(line []byte) (int, error) {
	empty := s.held != nil && bytes.HasSuffix(bytes.TrimSpace(line), []byte("Cause: EOF"))
	last := s.dropping && bytes.Contains(line, []byte("  At: "))
	held := s.held
	s.held, s.dropping = nil, empty
	switch {
	case empty || last:
		return len(line), nil
	case bytes.Contains(line, []byte("Preferences load error:")):
		s.held = bytes.Clone(line)
		line = nil
	}
	if _, err := s.to.Write(append(held, line...)); err != nil {
		return 0, err
	}
	return max(len(line), len(s.held)), nil
}
