package weather

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"runnel/geo/delimited"
)

// A Look is what a file of days looks like, and how it is to be read.
type Look struct {
	delimited.Form
	// Columns, Order and Units are a guess, and Why says in sentences what it rests on.
	Columns Columns
	Order   DateOrder
	Units   Units
	// WindHeight is how high above the ground wind is measured [m]; 2 m where nought.
	WindHeight float64
	Why        []string
}

const (
	// sampleLines is how many lines are looked at, firstRows how many are shown.
	sampleLines, firstRows = 1000, 20
	// mostRows is how many rows a file of days may have: some thousand years.
	mostRows = 400_000
)

// LookAt finds out what the rows of a file look like, from its beginning.
func LookAt(path string) (Look, error) { return delimited.LookAt(path, lookAt) }

func lookAt(from io.Reader, size int64) (Look, error) {
	head, err := delimited.HeadOf(from, size)
	if err != nil {
		return Look{}, err
	}
	l, err := sniff(head.Lines[:min(len(head.Lines), sampleLines)])
	if err != nil {
		return Look{}, err
	}
	l.Encoding, l.Rows = head.Encoding, head.Rows(size)-l.Skip
	if l.Rows > 2*mostRows {
		return Look{}, tooManyRows()
	}
	return l, nil
}

func tooManyRows() error {
	return fmt.Errorf("it has more than %d rows, too many for one a day; give a record of one row a day", mostRows)
}

// A line is one that is no remark, cut into fields.
type line struct {
	number int // of the file, from 0
	fields []string
	// told is how many of the fields are dates, numbers or marks of none.
	told, dates, numbers int
}

func linesOf(text [][]byte, st delimited.Style) []line {
	s := delimited.Splitter{Separator: st.Separator}
	var lines []line
	for i, raw := range text {
		if delimited.Comment(raw, st.Separator) {
			continue
		}
		l := line{number: i}
		for _, field := range s.Split(raw) {
			text := string(field)
			_, number := delimited.Number(field, st.Comma)
			date := isDate(text)
			switch {
			case date:
				l.dates++
				l.told++
			case number:
				l.numbers++
				l.told++
			case unknown(text):
				l.told++
			}
			l.fields = append(l.fields, text)
		}
		lines = append(lines, l)
	}
	return lines
}

// day reports a line that may be one of a day: a date and a figure, or the three numbers
// of a date and a figure, or the year, its day and a figure.
func (l line) day() bool {
	return l.dates > 0 && l.told > 1 || l.numbers >= 3
}

var errNoDays = errors.New("it has no row with a date and a figure, so it is no record of days; give rows with a comma, a semicolon, a tab or spaces between the fields")

// sniff finds out what lines look like.
func sniff(text [][]byte) (Look, error) {
	var best []line
	var style delimited.Style
	most := 0.0
	for _, try := range delimited.Styles {
		lines, score := linesOf(text, try), 0.0
		for _, l := range lines {
			if l.day() {
				score += float64(l.told) / float64(len(l.fields))
			}
		}
		if score > most+1e-9 {
			best, style, most = lines, try, score
		}
	}
	start := slices.IndexFunc(best, line.day)
	if start < 0 {
		return Look{}, errNoDays
	}
	l := Look{Form: delimited.Form{Separator: style.Separator, DecimalComma: style.Comma, Skip: best[start].number}, Columns: None}
	days := slices.DeleteFunc(slices.Clone(best[start:]), func(l line) bool { return !l.day() })
	if start > 0 && len(best[start-1].fields) >= len(days[0].fields)-1 && best[start-1].dates == 0 {
		l.Header = best[start-1].fields
	} else {
		l.Header = remarked(text, style, days[0])
	}
	for _, d := range days[:min(len(days), firstRows)] {
		l.First = append(l.First, d.fields)
	}
	guess(&l, days)
	return l, nil
}

// remarked finds the names of the columns in a remark just above the days.
func remarked(text [][]byte, st delimited.Style, first line) []string {
	for i := first.number - 1; i >= 0 && delimited.Comment(text[i], st.Separator); i-- {
		stripped := slices.Clone(text[i])
		for len(stripped) > 0 && (stripped[0] == '#' || stripped[0] == ';' || stripped[0] == '/' || stripped[0] == ' ') {
			stripped = stripped[1:]
		}
		if names := linesOf([][]byte{stripped}, st); len(names) == 1 && len(names[0].fields) == len(first.fields) && names[0].numbers == 0 {
			return names[0].fields
		}
	}
	return nil
}

func (l *Look) note(format string, values ...any) {
	l.Why = append(l.Why, fmt.Sprintf(format, values...))
}

// title names a column for a sentence.
func (l *Look) title(at int) string {
	if at < len(l.Header) && l.Header[at] != "" {
		return fmt.Sprintf("%q", delimited.Clip(l.Header[at]))
	}
	return fmt.Sprintf("column %d", at+1)
}
