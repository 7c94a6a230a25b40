package words

import (
	"regexp"
	"strings"
)

// A format is an English sentence with places to fill in.
type format struct {
	// begins is what it begins with, holds the longest of what it says in any case:
	// most formats are told by them to be another sentence's.
	begins, holds string
	shape         *regexp.Regexp
	// late is the shape with as much as may be in the first place; nil where it has no two.
	late *regexp.Regexp
	// verbs are those of the English; said is the sentence in the other language.
	said string
	// told counts the letters that are not filled in: of two formats that both
	// fit, the one that says more is the sentence's own.
	told int
}

// verb is a place to fill in, as fmt writes it.
var verb = regexp.MustCompile(`%(?:\[(\d+)\])?[-+# 0]*\d*(?:\.\d+)?[sdqgfvwdc]`)

// newFormat compiles an English format. One that is nothing but places to fill in
// would fit everything, and is none.
func newFormat(english, said string) (f format, ok bool) {
	var shape strings.Builder
	shape.WriteString("(?s)^")
	last := 0
	for i, at := range verb.FindAllStringIndex(english, -1) {
		literal := plain(english[last:at[0]])
		if len(literal) > len(f.holds) {
			f.holds = literal
		}
		if i == 0 {
			f.begins = literal
		}
		f.told += len(strings.Trim(literal, " :;,"))
		shape.WriteString(regexp.QuoteMeta(literal))
		shape.WriteString(printed(english[at[0]:at[1]]))
		last = at[1]
	}
	if tail := plain(english[last:]); len(tail) > len(f.holds) {
		f.holds = tail
	}
	f.told += len(strings.Trim(english[last:], " :;,"))
	shape.WriteString(regexp.QuoteMeta(plain(english[last:])) + "$")
	f.shape, f.said = regexp.MustCompile(shape.String()), said
	if f.loose() && strings.Count(shape.String(), anything) > 1 {
		f.late = regexp.MustCompile(strings.Replace(shape.String(), anything, "(.+)", 1))
	}
	return f, f.told > 0 || strings.Contains(english, ": ")
}

// percent stands for the two signs that print one, so that they are no place to fill in.
const percent = "\x00"

func kept(format string) string { return strings.ReplaceAll(format, "%%", percent) }

// plain is a literal part of a format as it is printed.
func plain(literal string) string { return strings.ReplaceAll(literal, percent, "%") }

// anything is the shape of a text.
const anything = "(.+?)"

// printed is the shape of what a verb prints.
func printed(verb string) string {
	switch verb[len(verb)-1] {
	case 'd':
		return `([-−+]?\d+)`
	case 'q':
		return `"(.*?)"`
	case 'g', 'f':
		return `([-−+]?(?:[\d.]+(?:e[-+]?\d+)?|NaN|Inf))`
	}
	return anything
}

// fewLetters is how many letters a loose format has at most beside what is filled in.
const fewLetters = 3

// loose reports whether a format says hardly more than "%s of %s". What stands in brackets
// is one thing, whatever it holds.
func (f format) loose() bool { return f.told <= fewLetters && !strings.ContainsAny(f.holds, "([") }

// parts are what was filled into the format to make a sentence; nil where it is not
// made from it.
func (f format) parts(english string) []string {
	if !strings.HasPrefix(english, f.begins) || !strings.Contains(english, f.holds) {
		return nil
	}
	found := f.shape.FindStringSubmatch(english)
	if found == nil {
		return nil
	}
	return found[1:]
}
