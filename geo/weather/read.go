package weather

import (
	"context"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"runnel/geo/delimited"
)

// Read reads a file by what l says of it, in which the caller may have set other
// columns, units or another order. The record's place is not known from the file: its
// latitude and elevation are NaN.
func Read(ctx context.Context, path string, l Look) (Record, Report, error) {
	file, _, err := delimited.Open(path)
	if err != nil {
		return Record{}, Report{}, delimited.Named(path, err)
	}
	defer file.Close()
	record, report, err := read(ctx, file, l)
	if err != nil {
		return Record{}, Report{}, delimited.Named(path, err)
	}
	record.Source = filepath.Base(path)
	record.Name = strings.TrimSuffix(record.Source, filepath.Ext(path))
	return record, report, nil
}

// An entry is one row that has a date.
type entry struct {
	day, row int
	figures  Day
}

// A tally counts what is wrong with the figures of one quantity.
type tally struct {
	// marks are figures that stand for none, negative those below nought where there can
	// be none, outside those that no place has had, wrong what is no number, great those that
	// hardly any place has had, greatest the greatest of them.
	marks, negative, outside, wrong, trace, great rows
	mark, first, word                             string
	greatest                                      float64
}

// A reader gathers the rows of a file.
type reader struct {
	look    Look
	scales  []scale
	entries []entry
	rows    int
	undated rows
	date    string // as it stands in the first row without one
	tallies []tally
}

func read(ctx context.Context, from io.Reader, l Look) (Record, Report, error) {
	if err := l.Columns.Check(); err != nil {
		return Record{}, Report{}, err
	}
	r := reader{look: l, tallies: make([]tally, len(quantities))}
	for _, q := range quantities {
		s, err := q.scaleOf(l.Units)
		if err != nil {
			return Record{}, Report{}, err
		}
		r.scales = append(r.scales, s)
	}
	if err := r.take(ctx, from); err != nil {
		return Record{}, Report{}, err
	}
	return r.record()
}

// take reads the rows.
func (r *reader) take(ctx context.Context, from io.Reader) error {
	text, err := delimited.Decoded(from, r.look.Encoding)
	if err != nil {
		return err
	}
	split := delimited.Splitter{Separator: r.look.Separator}
	lines := delimited.NewLines(text)
	for n := 1; lines.Scan(); n++ {
		if n%4096 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if n <= r.look.Skip || delimited.Comment(lines.Bytes(), r.look.Separator) {
			continue
		}
		if r.rows++; r.rows > mostRows {
			return tooManyRows()
		}
		r.row(n, split.Split(lines.Bytes()))
	}
	if err := lines.Err(); err != nil {
		return delimited.LineFault(err)
	}
	return nil
}

// row takes one row.
func (r *reader) row(n int, fields [][]byte) {
	day, ok := r.day(fields)
	if !ok {
		if r.undated.count == 0 {
			var parts []string
			for _, at := range r.look.Columns.dates() {
				if at < len(fields) {
					parts = append(parts, string(fields[at]))
				}
			}
			r.date = delimited.Clip(strings.Join(parts, " "))
		}
		r.undated.add(n)
		return
	}
	e := entry{day: day, row: n, figures: blank()}
	for i, q := range quantities {
		if at := *q.Column(&r.look.Columns); at >= 0 && at < len(fields) {
			*q.Of(&e.figures) = r.figure(i, n, fields[at])
		}
	}
	r.entries = append(r.entries, e)
}

// day returns the number of a row's day.
func (r *reader) day(fields [][]byte) (number int, ok bool) {
	c := r.look.Columns
	if c.Date >= 0 {
		if c.Date >= len(fields) {
			return 0, false
		}
		p, ok := partsOf(string(fields[c.Date]))
		if !ok {
			return 0, false
		}
		return p.day(r.look.Order)
	}
	var n [3]int
	dates := c.dates()
	for i, at := range dates {
		if at >= len(fields) {
			return 0, false
		}
		v, ok := delimited.Number(fields[at], r.look.DecimalComma)
		if !ok || v != math.Trunc(v) || math.Abs(v) > 10_000 {
			return 0, false
		}
		n[i] = int(v)
	}
	if len(dates) == 2 {
		return dayOfYear(n[0], n[1])
	}
	return dayOf(n[0], n[1], n[2])
}

// figure reads one figure in the record's own unit; NaN for none, and for what can be
// none.
func (r *reader) figure(i, row int, field []byte) float64 {
	t, q := &r.tallies[i], quantities[i]
	v, ok := delimited.Number(field, r.look.DecimalComma)
	if !ok {
		switch text := strings.ToLower(string(field)); {
		case i == rainAt && (text == "t" || text == "tr" || text == "trace"):
			t.trace.add(row)
			return 0
		case !unknown(text):
			if t.wrong.count == 0 {
				t.word = delimited.Clip(string(field))
			}
			t.wrong.add(row)
		}
		return math.NaN()
	}
	own := v*r.scales[i].by + r.scales[i].plus
	outside := !(own >= q.low && own <= q.high)
	switch {
	case blankFigure(v) && (v < 0 || outside || i == rainAt):
		if t.marks.count == 0 {
			t.mark = string(field)
		}
		t.marks.add(row)
	case outside && v < 0 && q.low == 0:
		t.negative.add(row)
	case outside:
		if t.outside.count == 0 {
			t.first = string(field)
		}
		t.outside.add(row)
	default:
		if i == rainAt && own > greatRain {
			t.great.add(row)
			t.greatest = max(t.greatest, own)
		}
		return own
	}
	return math.NaN()
}

// blankFigures are those that files have for none, without their signs.
var blankFigures = []float64{99, 99.9, 99.99, 999, 999.9, 999.99, 9999, 9999.9, 9999.99, 99999, 99999.9, 999999}

// blankFigure reports whether a figure is one that may stand for none: -99 is, and 999
// where it is out of reason.
func blankFigure(v float64) bool {
	return slices.Contains(blankFigures, math.Abs(v)) && (v < 0 || v >= 999)
}

// blankNumber is blankFigure of a text.
func blankNumber(text string) bool {
	v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	return err == nil && blankFigure(v)
}

// record makes a record of the rows.
func (r *reader) record() (Record, Report, error) {
	report := Report{Rows: r.rows}
	if 2*r.undated.count > r.rows || len(r.entries) == 0 {
		return Record{}, report, r.noDates()
	}
	if r.undated.count > 0 {
		report.note("The date %q cannot be read, nor can any in %s; those rows are left out.", r.date, r.undated.named())
	}
	r.tellOrder(&report)
	slices.SortStableFunc(r.entries, func(a, b entry) int { return a.day - b.day })
	if err := r.single(&report); err != nil {
		return Record{}, report, err
	}
	r.dropStrays(&report)
	if len(r.entries) < 2 {
		return Record{}, report, fmt.Errorf("it has one day only, %s; give a record of a year at least", dateText(r.entries[0].day))
	}
	if err := r.totals(); err != nil {
		return Record{}, report, err
	}
	record := r.fill(&report)
	r.tellFigures(&report)
	record.mend(r, &report)
	if _, days := record.Mean(func(d *Day) *float64 { return &d.Rain }); days == 0 && r.look.Columns.Rain >= 0 {
		return Record{}, report, fmt.Errorf("the column of the rain holds no figure; say which column the rain is in")
	}
	record.doubt(r.look.Units, &report)
	report.Days = len(record.Days)
	return record, report, nil
}

func (r *reader) noDates() error {
	if r.rows == 0 {
		return fmt.Errorf("it has no rows; give a record of one row a day")
	}
	return fmt.Errorf("most of its dates cannot be read as %v, the first of them %q in row %d; say which column is the date and in what order it is written",
		r.look.Order, r.date, r.undated.first[0])
}

func dateText(day int) string { return timeOf(day).Format("2006-01-02") }
