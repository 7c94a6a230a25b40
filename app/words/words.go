// Package words says English sentences in another language.
//
// What lies below the window (errors, cautions, the names of edits, the hints of
// tools) makes English sentences, most from a format. A Book finds the format
// that a sentence was made from, takes out what was filled in, and fills it into
// the same sentence of another language; what was filled in may be such a
// sentence itself. So one place knows of languages, and all that computes stays
// plain.
package words

import (
	"cmp"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A Book holds the sentences of one language by their English. A nil Book is
// English.
type Book struct {
	// Own reports whether what was filled in is a name that a person has given, which
	// is said as it is; nil where there are none.
	Own func(string) bool

	exact   map[string]string
	formats []format
}

// A format is an English sentence with places to fill in.
type format struct {
	// begins is what it begins with, holds the longest of what it says in any case:
	// most formats are told by them to be another sentence's.
	begins, holds string
	shape         *regexp.Regexp
	// verbs are those of the English; said is the sentence in the other language.
	said string
	// told counts the letters that are not filled in: of two formats that both
	// fit, the one that says more is the sentence's own.
	told int
}

// Read takes in a catalogue: a JSON object of sentences by their English.
func Read(catalogue []byte) (*Book, error) {
	b := &Book{}
	if err := json.Unmarshal(catalogue, &b.exact); err != nil {
		return nil, fmt.Errorf("the catalogue of texts is damaged: %w; install the program again", err)
	}
	for english, said := range b.exact {
		english, said = kept(english), kept(said)
		if !verb.MatchString(english) {
			continue
		}
		if f, ok := newFormat(english, said); ok {
			b.formats = append(b.formats, f)
		}
	}
	slices.SortFunc(b.formats, func(f, g format) int {
		return cmp.Or(cmp.Compare(g.told, f.told), cmp.Compare(f.begins, g.begins), cmp.Compare(f.shape.String(), g.shape.String()))
	})
	return b, nil
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
	return f, f.told > 0 || strings.Contains(english, ": ")
}

// percent stands for the two signs that print one, so that they are no place to fill in.
const percent = "\x00"

func kept(format string) string { return strings.ReplaceAll(format, "%%", percent) }

// plain is a literal part of a format as it is printed.
func plain(literal string) string { return strings.ReplaceAll(literal, percent, "%") }

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
	return "(.+?)"
}

// Say returns a sentence in the book's language; one that is not in it stays
// English.
func (b *Book) Say(english string) string {
	if b == nil || english == "" {
		return english
	}
	said, known := b.known(english)
	if !known {
		said, known = b.listed(english)
	}
	if !known {
		return english
	}
	return said
}

// known says what is in the catalogue. An error may have been given the capital and
// the stop of a sentence since it was made.
func (b *Book) known(english string) (string, bool) {
	unstopped := strings.TrimSuffix(english, ".")
	plain := lowered(unstopped)
	again := func(said string) string {
		if unstopped != english {
			said += "."
		}
		if plain != unstopped {
			said = raised(said)
		}
		return said
	}
	for _, way := range []func(string) (string, bool){b.whole, b.numbered} {
		if said, ok := way(english); ok {
			return said, true
		}
		if said, ok := way(plain); ok && plain != english {
			return again(said), true
		}
	}
	for _, f := range b.formats {
		if parts := f.parts(english); parts != nil {
			return b.fill(f.said, parts), true
		}
		for _, way := range []string{unstopped, plain} {
			if parts := f.parts(way); parts != nil && way != english {
				return again(b.fill(f.said, parts)), true
			}
		}
	}
	return "", false
}

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

// whole looks a text up; within a sentence it may begin with a small letter where
// the catalogue has a capital.
func (b *Book) whole(english string) (string, bool) {
	if said := b.exact[english]; said != "" {
		return said, true
	}
	if capital := raised(english); capital != english {
		if said := b.exact[capital]; said != "" {
			return lowered(said), true
		}
	}
	return "", false
}

var withNumber = regexp.MustCompile(`^(.+) (\d+)$`)

// numbered says what has no name but its kind and number, as "Channel 7".
func (b *Book) numbered(english string) (string, bool) {
	parts := withNumber.FindStringSubmatch(english)
	if parts == nil {
		return "", false
	}
	said, ok := b.whole(parts[1])
	return said + " " + parts[2], ok
}

// listed says things that are joined by commas and a last "and".
func (b *Book) listed(english string) (string, bool) {
	and := b.exact[" and "]
	head, last, joined := cutLast(english, " and ")
	if !joined {
		head, last, joined = cutLast(english, ", ")
		and = ", "
	}
	if !joined || and == "" {
		return "", false
	}
	return b.Say(head) + and + b.Say(last), true
}

func cutLast(text, by string) (before, after string, found bool) {
	i := strings.LastIndex(text, by)
	if i <= 0 || i+len(by) == len(text) {
		return text, "", false
	}
	return text[:i], text[i+len(by):], true
}

// raised and lowered give a text a capital or a small letter to begin with; what is
// all capitals, as N, stays.
func raised(s string) string { return begun(s, unicode.ToUpper) }

func lowered(s string) string {
	if letters := []rune(s); len(letters) > 1 && unicode.IsUpper(letters[1]) {
		return s
	}
	return begun(s, unicode.ToLower)
}

func begun(s string, with func(rune) rune) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(with(first)) + s[size:]
}

// fill puts parts of an English sentence, each said in the book's language, into
// the places of a sentence.
func (b *Book) fill(said string, parts []string) string {
	next := 0
	return plain(verb.ReplaceAllStringFunc(said, func(v string) string {
		at := next
		if place := verb.FindStringSubmatch(v)[1]; place != "" {
			fmt.Sscan(place, &at)
			at--
		}
		next = at + 1
		if at < 0 || at >= len(parts) {
			return v
		}
		part := parts[at]
		switch {
		case strings.HasSuffix(v, "q"): // as a file or a person has it
			return "«" + part + "»"
		case b.Own != nil && b.Own(part):
			return part
		}
		return b.Say(part)
	}))
}
