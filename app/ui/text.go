package ui

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// sentence gives a text its capital and its full stop. The name of a file at
// its head stays as it is.
func sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" {
		return ""
	}
	word, _, _ := strings.Cut(text, " ")
	if first, size := utf8.DecodeRuneInString(text); !strings.ContainsAny(strings.TrimRight(word, ".:,"), "./\\") {
		text = string(unicode.ToUpper(first)) + text[size:]
	}
	if !strings.ContainsAny(text[len(text)-1:], ".!?") {
		text += "."
	}
	return text
}
