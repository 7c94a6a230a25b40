package table

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"runnel/geo/delimited"
)

// mostBad is how many rows may be no points before it is said that the columns
// are not those that they were taken for.
const mostBad = 10_000

// A Row is one point of a table. Its texts can be had until the next row is read.
type Row struct {
	// Number counts the lines of the file from 1.
	Number int32
	// X is east or longitude, Y north or latitude, Z the height; NaN for none.
	X, Y, Z float64

	from   *reader
	fields [][]byte
}

// Code returns the point's code, the same string for the same code.
func (r Row) Code() string { return r.from.code(r.fields) }

// Fields returns all that stands in the row, its numbers with a point before the
// decimals.
func (r Row) Fields() []string {
	texts := make([]string, len(r.fields))
	for i, field := range r.fields {
		texts[i] = delimited.Readable(string(field))
		if _, ok := delimited.Number(field, true); ok && r.from.look.DecimalComma {
			texts[i] = strings.Replace(texts[i], ",", ".", 1)
		}
	}
	return texts
}

// Read calls each for every point of a file, by what l says of it, in which the
// caller may have set other columns. It goes through the file once and holds one
// row at a time. A row that is not a point is told in bad. Too many such rows, and
// an error of each, end the reading.
func Read(ctx context.Context, path string, l Look, each func(Row) error) (bad []BadRow, err error) {
	file, _, err := delimited.Open(path)
	if err != nil {
		return nil, delimited.Named(path, err)
	}
	defer file.Close()
	bad, err = read(ctx, file, l, each)
	return bad, delimited.Named(path, err)
}

// A reader goes through a table.
type reader struct {
	look  Look
	each  func(Row) error
	split delimited.Splitter
	codes map[string]string // so that a code that comes often is kept once
	bad   []BadRow
}

func read(ctx context.Context, from io.Reader, l Look, each func(Row) error) ([]BadRow, error) {
	if err := l.Columns.Check(); err != nil {
		return nil, err
	}
	text, err := delimited.Decoded(from, l.Encoding)
	if err != nil {
		return nil, err
	}
	r := reader{look: l, each: each, split: delimited.Splitter{Separator: l.Separator}, codes: map[string]string{}}
	lines := delimited.NewLines(text)
	for n := 1; lines.Scan(); n++ {
		if n%4096 == 0 && ctx.Err() != nil {
			return r.bad, ctx.Err()
		}
		if n <= l.Skip || delimited.Comment(lines.Bytes(), l.Separator) {
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
		return r.bad, delimited.LineFault(err)
	}
	return r.bad, nil
}

// row reads one line. Only what ends the reading is an error.
func (r *reader) row(n int, line []byte) error {
	fields := r.split.Split(line)
	if last := r.look.Columns.last(); len(fields) <= last {
		return r.spoilt(n, fmt.Sprintf("it has %d fields, and %d are needed", len(fields), last+1))
	}
	var place [2]float64
	for i, at := range [2]int{r.look.Columns.X, r.look.Columns.Y} {
		v, ok := delimited.Number(fields[at], r.look.DecimalComma)
		if !ok {
			return r.noNumber(n, fields[at])
		}
		place[i] = v
	}
	z := math.NaN()
	if at := r.look.Columns.Z; at >= 0 && at < len(fields) && !noHeight(fields[at]) {
		v, ok := delimited.Number(fields[at], r.look.DecimalComma)
		if !ok {
			return r.noNumber(n, fields[at])
		}
		z = v
	}
	return r.each(Row{int32(n), place[0], place[1], z, r, fields})
}

// code returns a row's code, the same string for the same code.
func (r *reader) code(fields [][]byte) string {
	at := r.look.Columns.Code
	if at < 0 || at >= len(fields) {
		return ""
	}
	if known, ok := r.codes[string(fields[at])]; ok {
		return known
	}
	code := delimited.Readable(string(fields[at]))
	if len(r.codes) < 1<<16 {
		r.codes[string(fields[at])] = code
	}
	return code
}

// noNumber tells of a field that should be a number.
func (r *reader) noNumber(n int, field []byte) error {
	if delimited.Grouped(field) {
		return groupsIn(n, string(field))
	}
	if len(field) == 0 {
		return r.spoilt(n, errNoCoordinate.Error())
	}
	return r.spoilt(n, fmt.Sprintf("%q is not a number", delimited.Clip(string(field))))
}

var errNoCoordinate = errors.New("a coordinate is missing")

// spoilt notes a row that is not a point.
func (r *reader) spoilt(n int, says string) error {
	r.bad = append(r.bad, BadRow{int32(n), says})
	if len(r.bad) > mostBad {
		return fmt.Errorf("more than %d of its rows are no points, the first of them row %d: %s; look at which column is which", mostBad, r.bad[0].Row, r.bad[0].Says)
	}
	return nil
}
