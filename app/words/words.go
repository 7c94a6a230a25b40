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
)

// A Book holds the sentences of one language by their English. A nil Book is
// English.
type Book struct {
	exact   map[string]string
	formats []format
}

// A format is an English sentence with places to fill in.
type format struct {
	begins string
	shape  *regexp.Regexp
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
		if i == 0 {
			f.begins = literal
		}
		f.told += len(strings.Trim(literal, " :;,"))
		shape.WriteString(regexp.QuoteMeta(literal))
		shape.WriteString(filled(english[at[0]:at[1]]))
		last = at[1]
	}
	f.told += len(strings.Trim(english[last:], " :;,"))
	shape.WriteString(regexp.QuoteMeta(plain(english[last:])) + "$")
	f.shape, f.said = regexp.MustCompile(shape.String()), said
	return f, f.told > 0 || strings.Contains(english, ": ")
}

// plain is a literal part of a format as it is printed.
func plain(literal string) string { return strings.ReplaceAll(literal, "%%", "%") }

// filled is the shape of what a verb prints.
func filled(verb string) string {
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
	if said, ok := b.exact[english]; ok {
		return said
	}
	if lower, ok := b.exact[unstopped(english)]; ok && lower != "" {
		return stopped(lower)
	}
	for _, f := range b.formats {
		if !strings.HasPrefix(english, f.begins) {
			continue
		}
		if parts := f.shape.FindStringSubmatch(english); parts != nil {
			return b.fill(f.said, parts[1:])
		}
	}
	return english
}

// unstopped is a sentence as errors are written: without capital and stop.
func unstopped(s string) string {
	return strings.ToLower(s[:1]) + strings.TrimSuffix(s[1:], ".")
}

// stopped gives an error the look of a sentence.
func stopped(s string) string {
	letters := []rune(s)
	return strings.ToUpper(string(letters[0])) + string(letters[1:]) + "."
}

// fill puts parts of an English sentence, each said in the book's language, into
// the places of a sentence.
func (b *Book) fill(said string, parts []string) string {
	next := 0
	return verb.ReplaceAllStringFunc(said, func(v string) string {
		at := next
		if place := verb.FindStringSubmatch(v)[1]; place != "" {
			fmt.Sscan(place, &at)
			at--
		}
		next = at + 1
		if at < 0 || at >= len(parts) {
			return v
		}
		part := b.Say(parts[at])
		if strings.HasSuffix(v, "q") {
			return "«" + part + "»"
		}
		return part
	})
}
