// Package printed reads the tables of published figures that the program carries: a
// heading, then one row a thing, its name first.
package printed

import (
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
)

// A Table has at least one row, and every row as many cells as the heading.
type Table struct {
	Heading []string
	Rows    [][]string
}

// Read reads a table of some columns.
func Read(text string, columns int) (Table, error) {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return Table{}, err
	}
	if len(rows) < 2 || len(rows[0]) != columns {
		return Table{}, fmt.Errorf("it has no figures; give a heading of %d columns and one row a thing", columns)
	}
	return Table{rows[0], rows[1:]}, nil
}

// Figures are some columns of a table, from the first to before the end, and between
// which limits their figures lie.
type Figures struct {
	First, End int
	Low, High  float64
}

// In reads the figures of a row. The error names the row and the column.
func (f Figures) In(t Table, row []string) ([]float64, error) {
	var all []float64
	for i := f.First; i < f.End; i++ {
		v, err := strconv.ParseFloat(row[i], 64)
		if err != nil || !(v >= f.Low && v <= f.High) {
			return nil, fmt.Errorf("%s of %s is %q; give a figure from %g to %g", t.Heading[i], row[0], row[i], f.Low, f.High)
		}
		all = append(all, v)
	}
	return all, nil
}

// Named finds a thing by its name, whatever its case; where there is none of that name it
// returns the names that there are, as a sentence lists them.
func Named[T any](all []T, name string, of func(T) string) (found T, ok bool, names string) {
	var list []string
	for _, t := range all {
		if strings.EqualFold(of(t), strings.TrimSpace(name)) {
			return t, true, ""
		}
		list = append(list, of(t))
	}
	return found, false, strings.Join(list, ", ")
}
