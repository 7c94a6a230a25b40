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
	// loose are the formats that say hardly more than "%s of %s": they would fit what is a
	// list of other sentences too.
	loose []format
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
		switch f, ok := newFormat(english, said); {
		case ok && f.loose():
			b.loose = append(b.loose, f)
		case ok:
			b.formats = append(b.formats, f)
		}
	}
	for _, formats := range [][]format{b.formats, b.loose} {
		slices.SortFunc(formats, func(f, g format) int {
			return cmp.Or(cmp.Compare(g.told, f.told), cmp.Compare(f.begins, g.begins), cmp.Compare(f.shape.String(), g.shape.String()))
		})
	}
	return b, nil
}

// Say returns a sentence in the book's language; one that is not in it stays
// English.
func (b *Book) Say(english string) string {
	if b == nil || english == "" {
		return english
	}
	for _, way := range []func(string) (string, bool){
		b.known, func(s string) (string, bool) { return b.formed(b.formats, s) },
		b.listed, func(s string) (string, bool) { return b.formed(b.loose, s) },
	} {
		if said, ok := way(english); ok {
			return said
		}
	}
	return english
}

// bare takes off a sentence the stop, and the capital too, that an error may have been
// given since it was made; again gives them to what is said of it.
func bare(english string) (unstopped, plain string, again func(string) string) {
	unstopped = strings.TrimSuffix(english, ".")
	plain = lowered(unstopped)
	return unstopped, plain, func(said string) string {
		if unstopped != english {
			said += "."
		}
		if plain != unstopped {
			said = raised(said)
		}
		return said
	}
}

// known says what is in the catalogue as it is, or but for a number.
func (b *Book) known(english string) (string, bool) {
	_, plain, again := bare(english)
	for _, way := range []func(string) (string, bool){b.whole, b.numbered} {
		if said, ok := way(english); ok {
			return said, true
		}
		if said, ok := way(plain); ok && plain != english {
			return again(said), true
		}
	}
	return "", false
}

// formed says what was made from one of the formats.
func (b *Book) formed(formats []format, english string) (string, bool) {
	unstopped, plain, again := bare(english)
	for _, f := range formats {
		if parts := b.parts(f, english); parts != nil {
			return b.fill(f.said, parts), true
		}
		for _, way := range []string{unstopped, plain} {
			if parts := b.parts(f, way); parts != nil && way != english {
				return again(b.fill(f.said, parts)), true
			}
		}
	}
	return "", false
}

// parts are what was filled into a format. Where there is more than one way to part them, as
// in "depth of a hole of Soil test 3", the longest beginning that is known by itself is one.
func (b *Book) parts(f format, english string) []string {
	found := f.parts(english)
	if found == nil || f.late == nil {
		return found
	}
	if late := f.late.FindStringSubmatch(english); late != nil {
		if _, ok := b.known(late[1]); ok {
			return late[1:]
		}
	}
	return found
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
