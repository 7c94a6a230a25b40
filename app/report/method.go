package report

import (
	"fmt"
	"io"
	"strings"
)

// A Method says how a figure that is shown is found.
type Method struct {
	// Key is what the figure is called in the program.
	Key string
	// Figure is what it is called for a person, and How the way to it in two
	// sentences at most.
	Figure, How string
	// Sources are the publications that the way is taken from, by their keys in the
	// list of analysis/doc.go, which gives them in full; none where it is our own.
	Sources []string
}

// ourOwn is said where a way to a figure is taken from no publication.
const ourOwn = "our own"

// Source names the publications for a person, as "Chow 1959; Higdon 2002".
func (m Method) Source() string {
	if len(m.Sources) == 0 {
		return ourOwn
	}
	var named []string
	for _, key := range m.Sources {
		named = append(named, works[key])
	}
	return strings.Join(named, "; ")
}

// MethodOf finds how a figure is found; ok is false where no method has that key.
func MethodOf(key string) (m Method, ok bool) {
	for _, m := range methods {
		if m.Key == key {
			return m, true
		}
	}
	return Method{}, false
}

// Methods lists how every figure is found, those of a scheme first.
func Methods() []Method { return append([]Method{}, methods...) }

// WriteMethods writes them for a person.
func WriteMethods(w io.Writer) error {
	for _, m := range methods {
		if _, err := fmt.Fprintf(w, "%s\n  %s\n  Source: %s.\n\n", m.Figure, m.How, m.Source()); err != nil {
			return err
		}
	}
	return nil
}
