package weather

import (
	"fmt"
	"strings"
)

// A Report is what was found in reading a file.
type Report struct {
	// Rows is how many rows were read, Days how many days the record has of them.
	Rows, Days int
	// Findings are what was wrong and what was done about it, a sentence each.
	Findings []string
}

func (r *Report) note(format string, values ...any) {
	r.Findings = append(r.Findings, fmt.Sprintf(format, values...))
}

// mostNamed is how many rows a sentence names one by one.
const mostNamed = 5

// rows are those of which one thing is wrong, by their numbers in the file.
type rows struct {
	first []int
	count int
}

func (r *rows) add(number int) {
	if r.count++; len(r.first) < mostNamed {
		r.first = append(r.first, number)
	}
}

// named writes the rows, as "row 3", "rows 3, 5 and 9" or "rows 3, 5, 9, 12, 13 and 40 others".
func (r *rows) named() string {
	if r.count == 1 {
		return fmt.Sprintf("row %d", r.first[0])
	}
	texts := make([]string, len(r.first))
	for i, n := range r.first {
		texts[i] = fmt.Sprint(n)
	}
	switch others := r.count - len(r.first); {
	case others == 1:
		return fmt.Sprintf("rows %s and 1 other", strings.Join(texts, ", "))
	case others > 1:
		return fmt.Sprintf("rows %s and %d others", strings.Join(texts, ", "), others)
	}
	last := len(texts) - 1
	return fmt.Sprintf("rows %s and %s", strings.Join(texts[:last], ", "), texts[last])
}
