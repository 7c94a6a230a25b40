// Package hush keeps the log quiet while the program's packages start.
//
// The window toolkit writes a fault to the log as it starts when the
// computer's language is "C.UTF-8", as it is on servers: on every command, with or
// without a window. Go starts packages in the order of their paths, each after
// those it imports, and the toolkit imports text/template; so a package of this
// path that imports little starts first.
package hush

import (
	"io"
	"log"
	"os"
)

func init() { log.SetOutput(io.Discard) }

// Lift lets the log be heard again, on standard error.
func Lift() { log.SetOutput(os.Stderr) }
