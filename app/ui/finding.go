package ui

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
)

// A find is a command that fits what was typed, the better the lower its rank.
type find struct {
	command command
	rank    int
}

// How a typed word may fit a command's name, the best first.
const (
	fitsWhole    = iota // it is the name, or what the name has after a colon
	fitsStart           // the name begins with it
	fitsWord            // a word of the name does
	fitsInitials        // the first letters of the name's words are it
	fitsAlso            // another word for the command begins with it
	fitsInside          // it stands somewhere in the name
	fitsNot
)

// finds lists the commands that fit what was typed: every typed word must fit. With
// nothing typed it lists all, in their order.
func finds(commands []command, typed string) []find {
	wanted := strings.Fields(strings.ToLower(typed))
	var found []find
	for _, c := range commands {
		if rank, ok := c.rank(wanted); ok {
			found = append(found, find{c, rank})
		}
	}
	if len(wanted) > 0 {
		slices.SortStableFunc(found, func(a, b find) int {
			return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(len(a.command.name), len(b.command.name)))
		})
	}
	return found
}

// rank says how well a command fits the typed words, and whether it does.
func (c command) rank(wanted []string) (rank int, ok bool) {
	name := strings.ToLower(c.name)
	for i, w := range wanted {
		fit := fitOf(name, strings.ToLower(c.also), w)
		if fit == fitsNot {
			return 0, false
		}
		if fit < fitsWord && i > 0 {
			fit = fitsWord
		}
		rank += fit
	}
	return rank, true
}

func fitOf(name, also, word string) int {
	words := wordsOf(name)
	initials := ""
	for _, w := range words {
		initials += string([]rune(w)[:1])
	}
	begins := func(w string) bool { return strings.HasPrefix(w, word) }
	_, last, _ := strings.Cut(name, ":")
	whole := []string{word}
	switch {
	case slices.Equal(words, whole), slices.Equal(wordsOf(last), whole):
		return fitsWhole
	case begins(name):
		return fitsStart
	case slices.ContainsFunc(words, begins):
		return fitsWord
	case len(word) > 1 && begins(initials):
		return fitsInitials
	case slices.ContainsFunc(wordsOf(also), begins):
		return fitsAlso
	case strings.Contains(name, word):
		return fitsInside
	}
	return fitsNot
}

func wordsOf(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}
