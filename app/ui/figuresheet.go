package ui

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/geo"
	"runnel/geo/plan"
)

// A figureSheet is a table of figures as it stands on a page and in a file.
type figureSheet struct {
	columns []figureColumn
	rows    int
	// heavy marks a row that stands out; nil for none.
	heavy func(row int) bool
	// place is where a row is on the ground; nil where rows have no place.
	place func(row int) sheetPlace
	// stale is set while newer figures are worked out.
	stale bool
}

// A sheetPlace is where a row is on the ground, of which thing, and what it is called.
type sheetPlace struct {
	at   orb.Point
	id   plan.ID
	name string
}

// A figureColumn holds words, or numbers of one unit with so many decimals.
type figureColumn struct {
	head, unit string
	words      func(row int) string
	value      func(row int) float64
	decimals   int
	// right sets words at the right, as numbers are; raw is what a program reads in
	// their place, nil for the words themselves.
	right bool
	raw   func(row int) string
}

// title is the head with its unit.
func (c figureColumn) title() string {
	if c.unit == "" {
		return c.head
	}
	return trf("%s [%s]", c.head, c.unit)
}

// cell is what stands in a row, a dash where a number is not known.
func (c figureColumn) cell(row int) string {
	if c.words != nil {
		return c.words(row)
	}
	return decimal(c.value(row), c.decimals)
}

// plain is what stands in a row for a program: a point before the decimals, and
// nothing where a number is not known.
func (c figureColumn) plain(row int) string {
	if c.words == nil {
		return plainNumber(c.value(row))
	}
	if c.raw != nil {
		return c.raw(row)
	}
	words := c.words(row)
	if words == dash {
		return ""
	}
	if strings.IndexAny(words, "=+-@\t\r") == 0 {
		return "'" + words // which keeps a spreadsheet from taking it for a formula
	}
	return words
}

// records are the rows for a program, the heads first.
func (s figureSheet) records() [][]string {
	head := make([]string, len(s.columns))
	for i, c := range s.columns {
		head[i] = c.title()
	}
	rows := [][]string{head}
	for r := range s.rows {
		row := make([]string, len(s.columns))
		for i, c := range s.columns {
			row[i] = c.plain(r)
		}
		rows = append(rows, row)
	}
	return rows
}

// joinedRecords are the rows of some tables below each other, all of one width.
func joinedRecords(sheets []figureSheet) [][]string {
	var rows [][]string
	width := 0
	for _, s := range sheets {
		width = max(width, len(s.columns))
	}
	for _, s := range sheets {
		for _, row := range s.records() {
			rows = append(rows, append(row, slices.Repeat([]string{""}, width-len(row))...))
		}
	}
	return rows
}

// A yardstick writes a column of numbers that are a power of a length [m, m², m³].
type yardstick struct {
	unit string
	each float64
}

// yard is the yardstick of a power of a length in these units.
func (u units) yard(power int) yardstick {
	unit, each := "m", 1.0
	if u == usFeet {
		unit, each = "ft", math.Pow(geo.Foot, float64(power))
	}
	switch power {
	case 2:
		unit += "²"
	case 3:
		unit += "³"
	}
	return yardstick{unit, each}
}

// column is a column of numbers in the yardstick's unit.
func (y yardstick) column(head string, decimals int, of func(row int) float64) figureColumn {
	return figureColumn{head: head, unit: y.unit, decimals: decimals, value: func(row int) float64 { return of(row) / y.each }}
}

// wordColumn is a column of words.
func wordColumn(head string, of func(row int) string) figureColumn {
	return figureColumn{head: head, words: of}
}

// countColumn is a column of whole numbers that name things.
func countColumn(head string, of func(row int) int) figureColumn {
	return wordColumn(head, func(row int) string { return strconv.Itoa(of(row)) })
}
