package ui

import (
	"fmt"

	"fyne.io/fyne/v2/lang"
)

// tr returns a text in the language that is set. The English text is its name in
// the catalogue.
func tr(text string) string { return lang.L(text) }

// trf is tr of a format, filled in. Another language may take the arguments in
// another order, as %[2]s.
func trf(format string, args ...any) string { return fmt.Sprintf(lang.L(format), args...) }
