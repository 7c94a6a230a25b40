package table

import (
	"context"
	"fmt"
	"io"
	"math"
)

// mostBad is how many rows may be no points before it is said that the columns
// are not those that they were taken for.
const mostBad = 10_000

// Read calls each for every point of a file, by what l says of it and in the
// columns c. It goes through the file once and holds one row at a time. A row
// that is not a point is told in bad. Too many such rows, and an error of each,
// end the reading.
func Read(ctx context.Context, path string, l Look, c Columns, each func(row int32, name string, x, y, z float64, code string) error) (bad []BadRow, err error) {
	file, _, err := open(path)
	if err != nil {
		return nil, named(path, err)
	}
	defer file.Close()
	bad, err = read(ctx, file, l, c, each)
	return bad, named(path, err)
}

// A reader goes through a table.
type reader struct {
	look    Look
	columns Columns
	each    func(row int32, name string, x, y, z float64, code string) error
	split   splitter
	codes   map[string]string // so that a code that comes often is kept once
	bad     []BadRow
}

func read(ctx context.Context, from io.Reader, l Look, c Columns, each func(row int32, name string, x, y, z float64, code string) error) ([]BadRow, error) {
	if err := c.Check(); err != nil {
		return nil, err
	}
	text, err := decoded(from, l.Encoding)
	if err != nil {
		return nil, err
	}
	r := reader{look: l, columns: c, each: each, split: splitter{separator: l.Separator}, codes: map[string]string{}}
	lines := newLines(text)
	for n := 1; lines.Scan(); n++ {
		if n%4096 == 0 && ctx.Err() != nil {
			return r.bad, ctx.Err()
		}
		if n <= l.Skip || comment(lines.Bytes(), l.Separator) {
			continue
		}
		if n-l.Skip > mostRows {
			return r.bad, fmt.Errorf("it has more than %d million rows; cut it to the site", mostRows/1_000_000)
		}
		if err := r.row(n, lines.Bytes()); err != nil {
			return r.bad, err
		}
	}
	if err := lines.Err(); err != nil {
		return r.bad, lineFault(err)
	}
	return r.bad, nil
}

// row reads one line. Only what ends the reading is an error.
func (r *reader) row(n int, line []byte) error {
	fields := r.split.split(line)
	if last := r.columns.last(); len(fields) <= last {
		return r.spoilt(n, fmt.Sprintf("it has %d fields, and %d are needed", len(fields), last+1))
	}
	var place [2]float64
	for i, at := range [2]int{r.columns.X, r.columns.Y} {
		v, ok := number(fields[at], r.look.DecimalComma)
		if !ok {
			return r.noNumber(n, fields[at])
		}
		place[i] = v
	}
	z := math.NaN()
	if at := r.columns.Z; at >= 0 && at < len(fields) && !noHeight(fields[at]) {
		v, ok := number(fields[at], r.look.DecimalComma)
		if !ok {
			return r.noNumber(n, fields[at])
		}
		z = v
	}
	name := ""
	if at := r.columns.Name; at >= 0 && at < len(fields) {
		name = Readable(string(fields[at]))
	}
	return r.each(int32(n), name, place[0], place[1], z, r.code(fields))
}

// code returns a row's code, the same string for the same code.
func (r *reader) code(fields [][]byte) string {
	at := r.columns.Code
	if at < 0 || at >= len(fields) {
		return ""
	}
	if known, ok := r.codes[string(fields[at])]; ok {
		return known
	}
	code := Readable(string(fields[at]))
	if len(r.codes) < 1<<16 {
		r.codes[string(fields[at])] = code
	}
	return code
}

// noNumber tells of a field that should be a number.
func (r *reader) noNumber(n int, field []byte) error {
	if grouped(field) {
		return groupsIn(n, string(field))
	}
	if len(field) == 0 {
		return r.spoilt(n, "a coordinate is missing")
	}
	return r.spoilt(n, fmt.Sprintf("%q is not a number", clip(string(field))))
}

// spoilt notes a row that is not a point.
func (r *reader) spoilt(n int, says string) error {
	r.bad = append(r.bad, BadRow{int32(n), says})
	if len(r.bad) > mostBad {
		return fmt.Errorf("more than %d of its rows are no points, the first of them row %d: %s; look at which column is which", mostBad, r.bad[0].Row, r.bad[0].Says)
	}
	return nil
}
