package view

import (
	"fmt"
	"strings"
)

// A Tongue is the language in which the words of a picture are said and its figures
// written. The nil Tongue is English.
type Tongue struct {
	// Say returns an English text, whole or made from a format, in the language.
	Say func(english string) string
	// Mark parts the decimals of a figure.
	Mark string
}

// say returns an English text in the language.
func (t *Tongue) say(english string) string {
	if t == nil || t.Say == nil {
		return english
	}
	return t.Say(english)
}

// write writes a figure that has a point before its decimals, and perhaps a unit,
// as the language does.
func (t *Tongue) write(figure string) string {
	if rest, below := strings.CutPrefix(figure, "-"); below {
		figure = "−" + rest
	}
	if t == nil || t.Mark == "" {
		return figure
	}
	return strings.Replace(figure, ".", t.Mark, 1)
}

// trf says a format and fills it in, with figures and names that are written already.
func (k *canvas) trf(format string, args ...any) string {
	return fmt.Sprintf(k.look.Tongue.say(format), args...)
}
