package delimited

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
)

// longestLine is the longest line that a table may have [bytes].
const longestLine = 1 << 20

// NewLines returns a scanner of lines, which end by a line feed, a carriage
// return or both.
func NewLines(r io.Reader) *bufio.Scanner {
	s := bufio.NewScanner(r)
	s.Buffer(make([]byte, 0, HeadBytes), longestLine)
	s.Split(splitLine)
	return s
}

func splitLine(data []byte, atEnd bool) (advance int, token []byte, err error) {
	i := bytes.IndexByte(data, '\n')
	within := data
	if i >= 0 {
		within = data[:i]
	}
	if j := bytes.IndexByte(within, '\r'); j >= 0 {
		switch {
		case j+1 < len(data) && data[j+1] == '\n':
			return j + 2, data[:j], nil
		case j+1 < len(data) || atEnd:
			return j + 1, data[:j], nil
		}
		return 0, nil, nil // what follows says whether it is one end or two
	}
	switch {
	case i >= 0:
		return i + 1, data[:i], nil
	case atEnd && len(data) > 0:
		return len(data), data, nil
	}
	return 0, nil, nil
}

// LineFault says what a scanner's error means.
func LineFault(err error) error {
	if errors.Is(err, bufio.ErrTooLong) {
		return errors.New("one of its lines is very long, so it is no table; give a table of one line a row")
	}
	return fmt.Errorf("it cannot be read to its end; copy it again from where it came")
}

// Comment reports a line that is a remark or is blank.
func Comment(line []byte, separator rune) bool {
	line = bytes.TrimSpace(line)
	switch {
	case len(line) == 0, line[0] == '#', bytes.HasPrefix(line, []byte("//")):
		return true
	}
	return line[0] == ';' && separator != ';'
}

// A Splitter cuts lines into fields. What it returns holds until the next line.
type Splitter struct {
	// Separator stands between fields; ' ' is any run of spaces and tabs.
	Separator rune

	fields [][]byte
}

// Split returns the fields of a line.
func (s *Splitter) Split(line []byte) [][]byte {
	s.fields = s.fields[:0]
	if bytes.IndexByte(line, '"') >= 0 {
		if s.quoted(line) {
			return s.fields
		}
		s.fields = s.fields[:0]
	}
	if s.Separator == ' ' {
		s.fields = append(s.fields, bytes.Fields(line)...)
		return s.fields
	}
	mark := byte(s.Separator)
	for {
		i := bytes.IndexByte(line, mark)
		if i < 0 {
			break
		}
		s.fields = append(s.fields, trimmed(line[:i]))
		line = line[i+1:]
	}
	s.fields = append(s.fields, trimmed(line))
	return s.fields
}

// trimmed is bytes.TrimSpace without looking for spaces that are rare.
func trimmed(b []byte) []byte {
	for len(b) > 0 && (b[0] == ' ' || b[0] == '\t') {
		b = b[1:]
	}
	for len(b) > 0 && (b[len(b)-1] == ' ' || b[len(b)-1] == '\t') {
		b = b[:len(b)-1]
	}
	return b
}

// quoted cuts a line with quotes; it reports whether they make sense.
func (s *Splitter) quoted(line []byte) bool {
	r := csv.NewReader(bytes.NewReader(line))
	r.Comma = s.Separator
	r.LazyQuotes = true // 4" is a pipe
	r.FieldsPerRecord = -1
	r.TrimLeadingSpace = s.Separator != '\t'
	record, err := r.Read()
	if err != nil {
		return false
	}
	for _, field := range record {
		if field == "" && s.Separator == ' ' {
			continue // one of a run of spaces
		}
		s.fields = append(s.fields, bytes.TrimSpace([]byte(field)))
	}
	return true
}
