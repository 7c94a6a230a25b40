package table

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"

	"runnel/geo/delimited"
)

const (
	// sampleLines is how many lines are looked at to find out what a file is.
	sampleLines = 400
	// firstRows is how many rows a Look shows.
	firstRows = 20
	// mostRows is how many rows a table may have.
	mostRows = 10_000_000
)

// LookAt finds out what the rows of a file look like, from its beginning.
func LookAt(path string) (Look, error) { return delimited.LookAt(path, lookAt) }

// lookAt looks at the beginning of a text of so many bytes.
func lookAt(r io.Reader, size int64) (Look, error) {
	head, err := delimited.HeadOf(r, size)
	if err != nil {
		return Look{}, err
	}
	look, err := sniff(head.Lines)
	if err != nil {
		return Look{}, err
	}
	look.Encoding = head.Encoding
	look.Rows = head.Rows(size)
	if look.Rows -= look.Skip; look.Rows > mostRows+mostRows/2 {
		return Look{}, fmt.Errorf("it has some %d million rows, and a table may have %d million; cut it to the site", look.Rows/1_000_000, mostRows/1_000_000)
	}
	return look, nil
}

// A row is one line cut into fields.
type row struct {
	line    int // from 0
	fields  []string
	numbers int // how many of the fields are numbers
	filled  int // how many are not empty
	// grouped is a number whose thousands are set apart.
	grouped string
}

// rowsOf cuts lines that are no remarks.
func rowsOf(lines [][]byte, st delimited.Style) []row {
	s := delimited.Splitter{Separator: st.Separator}
	var rows []row
	for i, line := range lines {
		if delimited.Comment(line, st.Separator) {
			continue
		}
		r := row{line: i}
		for _, field := range s.Split(line) {
			if _, ok := delimited.Number(field, st.Comma); ok {
				r.numbers++
			} else if delimited.Grouped(field) { // so that it is refused for what it is
				r.numbers++
				r.grouped = cmp.Or(r.grouped, string(field))
			}
			if len(field) > 0 {
				r.filled++
			}
			r.fields = append(r.fields, string(field))
		}
		rows = append(rows, r)
	}
	return rows
}

// score says how well a style makes numbers of rows: the share of their fields
// that are, of rows that have at least two.
func score(rows []row) float64 {
	sum := 0.0
	for _, r := range rows {
		if r.numbers >= 2 {
			sum += float64(r.numbers) / float64(r.filled)
		}
	}
	return sum
}

var errNoRows = errors.New("it has no row with two numbers, so it is no table of points; give rows with a comma, a semicolon, a tab or spaces between the fields")

// sniff finds out what lines look like.
func sniff(lines [][]byte) (Look, error) {
	lines = lines[:min(len(lines), sampleLines)]
	var best []row
	var st delimited.Style
	most := 0.0
	for _, try := range delimited.Styles {
		rows := rowsOf(lines, try)
		if s := score(rows); s > most+1e-9 {
			best, st, most = rows, try, s
		}
	}
	if err := refuseGroups(best); err != nil {
		return Look{}, err
	}
	if best == nil {
		return Look{}, errNoRows
	}
	l := Look{Form: delimited.Form{Separator: st.Separator, DecimalComma: st.Comma}}
	start := firstOf(best)
	header := headerOf(lines, best[:start], st, best[start:])
	l.Skip = best[start].line
	l.Header = header
	body := best[start:]
	for _, r := range body[:min(len(body), firstRows)] {
		l.First = append(l.First, r.fields)
	}
	if err := refuseCommas(l, body); err != nil {
		return Look{}, err
	}
	guess(&l, body)
	return l, nil
}

// usual returns what most of the values are.
func usual(values []int) int {
	counts := map[int]int{}
	for _, v := range values {
		counts[v]++
	}
	most := 0
	for v, n := range counts {
		if n > counts[most] || n == counts[most] && v > most {
			most = v
		}
	}
	return most
}

// fieldsIn returns how many fields most of the rows have.
func fieldsIn(rows []row) int {
	var counts []int
	for _, r := range rows {
		counts = append(counts, len(r.fields))
	}
	return usual(counts)
}

// firstOf returns the first row of numbers: one that lacks at most one of those
// that most have.
func firstOf(rows []row) int {
	var counts []int
	for _, r := range rows {
		if r.numbers >= 2 {
			counts = append(counts, r.numbers)
		}
	}
	enough := max(2, usual(counts)-1)
	return max(0, slices.IndexFunc(rows, func(r row) bool { return r.numbers >= enough }))
}

// headerOf finds the names of the columns in what comes before the rows: a row
// whose names are known, else one of as many fields as the rows have, else the
// same in a remark.
func headerOf(lines [][]byte, before []row, st delimited.Style, body []row) []string {
	fields := fieldsIn(body)
	candidates := slices.Clone(before)
	slices.Reverse(candidates)
	for i := body[0].line - 1; i >= 0; i-- {
		if line := bytes.TrimLeft(bytes.TrimSpace(lines[i]), "#;/ "); delimited.Comment(lines[i], st.Separator) && len(line) > 0 {
			for _, s := range []rune{st.Separator, ',', ' '} {
				candidates = append(candidates, rowsOf([][]byte{line}, delimited.Style{Separator: s, Comma: st.Comma})...)
			}
		}
	}
	for _, c := range candidates {
		if named, _ := byName(c.fields); named.X >= 0 && named.Y >= 0 && named.last() < fields {
			return c.fields
		}
	}
	for i := len(before) - 1; i >= 0; i-- {
		if c := before[i]; len(c.fields) == fields && c.numbers == 0 {
			return c.fields
		}
	}
	return nil
}

// refuseGroups refuses numbers whose thousands are set apart.
func refuseGroups(rows []row) error {
	for _, r := range rows {
		if r.grouped != "" {
			return groupsIn(r.line+1, r.grouped)
		}
	}
	return nil
}

// groupsIn is the error of a number whose thousands are set apart.
func groupsIn(line int, field string) error {
	return fmt.Errorf("the thousands of %q in row %d are set apart, which may be misread; write its numbers without marks between the thousands", delimited.Clip(field), line)
}

// refuseCommas refuses a table whose fields and decimals have commas alike, as
// far as its header tells.
func refuseCommas(l Look, body []row) error {
	fields := fieldsIn(body)
	if names := len(l.Header); l.Separator == ',' && !l.DecimalComma && names >= 2 && fields >= 2*names-1 {
		return fmt.Errorf("its rows have %d fields and its header %d names; where a comma stands before the decimals, put a semicolon or a tab between the fields", fields, names)
	}
	return nil
}
