package ui

import (
	"fmt"
	"regexp"
	"slices"

	"fyne.io/fyne/v2/lang"

	"runnel/geo/crs"
)

// tr returns a text in the language that is set. The English text is its name in
// the catalogue.
func tr(text string) string { return lang.L(text) }

// trf is tr of a format, filled in. Another language may take the arguments in
// another order, as %[2]s.
func trf(format string, args ...any) string {
	for i, arg := range args {
		if system, ok := arg.(crs.CRS); ok && !system.Known() && system.String() == (crs.CRS{}).String() {
			args = slices.Clone(args)
			args[i] = tr("no reference system")
		}
	}
	return fmt.Sprintf(lang.L(format), args...)
}

// told returns an English text that was made below the window, whole or from a
// format, in the language that is set.
func told(english string) string { return spoken().said(english) }

// told returns an English text that was made below the window as a person reads it:
// in the language that is set, in these units, and its figures as the language
// writes them.
func (u units) told(english string) string {
	text, names := shielded(told(english))
	return names.Replace(spoken().marked(u.sentence(belowNought.ReplaceAllString(text, "${1}−${2}"))))
}

// belowNought is a figure with a hyphen for a minus before it.
var belowNought = regexp.MustCompile(`(^|[\s(\[])-(\d)`)

// pointed is a figure with a point before its decimals; the dots of names of files
// and of numbers of versions are none.
var pointed = regexp.MustCompile(`(^|[^\pL\pN._/\\-])([−-]?\d+)\.(\d+)($|[^\pL\pN./\\_-]|\.$)`)

// marked writes the figures of a text as the language does.
func (t *tongue) marked(text string) string {
	if t.mark == "." {
		return text
	}
	return pointed.ReplaceAllString(text, "${1}${2}"+t.mark+"${3}${4}")
}

// toldLater fills in a format that is told only when it is shown, as the names of edits
// are: a person may set another language meanwhile.
func toldLater(format string, args ...any) string { return fmt.Sprintf(format, args...) }

// toldAll is told of each of some texts.
func toldAll(english []string) []string {
	said := make([]string, len(english))
	for i, text := range english {
		said[i] = told(text)
	}
	return said
}

// untold returns which of some texts was said so.
func untold(english []string, said string) string {
	for _, text := range english {
		if told(text) == said {
			return text
		}
	}
	return said
}
