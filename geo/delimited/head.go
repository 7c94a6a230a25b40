package delimited

import (
	"bufio"
	"bytes"
	"errors"
	"io"
)

// A Head is the beginning of a text.
type Head struct {
	Encoding string
	// Lines are its whole lines, Bytes how many of the text they were taken from.
	Lines [][]byte
	Bytes int
}

// HeadOf reads the beginning of a text of so many bytes.
func HeadOf(r io.Reader, size int64) (Head, error) {
	head := make([]byte, HeadBytes)
	n, err := io.ReadFull(r, head)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		return Head{}, LineFault(err)
	}
	head = head[:n]
	encoding, err := EncodingOf(head)
	if err != nil {
		return Head{}, err
	}
	lines, err := linesOf(head, encoding, size > int64(n))
	return Head{encoding, lines, n}, err
}

// Rows is about how many lines a text of so many bytes has.
func (h Head) Rows(size int64) int {
	return int(float64(size) / float64(max(1, h.Bytes)) * float64(len(h.Lines)))
}

// linesOf returns the lines of the beginning of a text; cut says that the last
// is not whole.
func linesOf(head []byte, encoding string, cut bool) ([][]byte, error) {
	r, err := Decoded(bytes.NewReader(head), encoding)
	if err != nil {
		return nil, err
	}
	var lines [][]byte
	s := NewLines(r)
	for s.Scan() {
		lines = append(lines, bytes.Clone(s.Bytes()))
	}
	if err := s.Err(); err != nil && (errors.Is(err, bufio.ErrTooLong) || !cut) {
		return nil, LineFault(err)
	}
	if !cut {
		return lines, nil
	}
	if len(lines) < 2 {
		return nil, LineFault(bufio.ErrTooLong)
	}
	return lines[:len(lines)-1], nil
}

// A Style is how a line is cut into numbers.
type Style struct {
	Separator rune
	Comma     bool
}

// Styles are those that are tried; of two that do as well the first is taken.
var Styles = []Style{
	{'\t', false}, {';', false}, {'|', false}, {',', false}, {' ', false},
	{'\t', true}, {';', true}, {'|', true}, {' ', true}, {',', true},
}

// Clip shortens what a file holds to what a sentence can quote.
func Clip(text string) string {
	text = Readable(text)
	if runes := []rune(text); len(runes) > 40 {
		return string(runes[:40]) + "…"
	}
	return text
}
