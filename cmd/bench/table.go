package main

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
)

// The rows below those of the router's stages.
const (
	rate            = " [Mcell/s]"
	speed           = "all" + rate
	nsACell         = "all [ns a cell]"
	growth          = "cost a cell, of that at 1 Mcell"
	bytesACell      = "memory [bytes a cell]"
	secondCore      = "two cores, of one's speed"
	ofHillshade     = "time, of gdaldem hillshade's"
	onceOfHillshade = "read and route, of hillshade's"
	editDelay       = "all routed after an edit, p95 [ms]"
	updateDelay     = "the edited part, p95 [ms]"
	treeSpeed       = "tree of hollows" + rate
	stormDelay      = "another storm, p95 [ms]"
	sureDelay       = "certainty, 100 draws [s]"
)

// order is that of the rows.
var order = []string{
	speed, nsACell, growth, bytesACell, secondCore, ofHillshade, onceOfHillshade,
	editDelay, updateDelay, treeSpeed, stormDelay, sureDelay,
}

// A target is what a row is to reach.
type target struct {
	// least is set where more is better.
	least bool
	// at holds the limit by the size of the ground [Mcell]; that of size 0 is for all
	// that are not named.
	at map[int]float64
}

var targets = map[string]target{
	growth:          {at: map[int]float64{0: 1.5}},
	bytesACell:      {at: map[int]float64{0: 18}},
	secondCore:      {least: true, at: map[int]float64{0: 1.7}},
	ofHillshade:     {at: map[int]float64{25: 0.6, 100: 0.65}},
	onceOfHillshade: {at: map[int]float64{100: 1}},
	editDelay:       {at: map[int]float64{1: 12, 4: 40}},
	updateDelay:     {at: map[int]float64{1: 12, 4: 40, 25: 60}},
	treeSpeed:       {least: true, at: map[int]float64{0: 40}},
	stormDelay:      {at: map[int]float64{4: 10}},
	sureDelay:       {at: map[int]float64{1: 10}},
}

// verdict is a mark for a figure: met, missed, or blank where nothing is asked.
func (t target) verdict(mcell int, figure float64) string {
	limit, asked := t.at[mcell]
	if !asked {
		limit, asked = t.at[0]
	}
	switch {
	case !asked:
		return " "
	case figure == limit, (figure > limit) == t.least:
		return "+"
	}
	return "-"
}

func (t target) String() string {
	sign := "≤"
	if t.least {
		sign = "≥"
	}
	var parts []string
	for _, mcell := range slices.Sorted(maps.Keys(t.at)) {
		part := fmt.Sprintf("%s %g", sign, t.at[mcell])
		if mcell > 0 {
			part += fmt.Sprintf(" at %d", mcell)
		}
		parts = append(parts, part)
	}
	return strings.Join(parts, ", ")
}

// A table holds the figures of the grounds, one a column.
type table struct{ columns []*column }

// A column is what was measured on one ground, by the name of the row.
type column struct {
	kind    string
	mcell   int
	figures map[string]float64
	stages  []string // the rows of the router's stages, as they run
}

func (t *table) column(kind string, mcell int) *column {
	c := &column{kind: kind, mcell: mcell, figures: map[string]float64{}}
	t.columns = append(t.columns, c)
	return c
}

func (c *column) set(row string, figure float64) { c.figures[row] = figure }

// compare sets each ground's cost a cell beside that of the smallest of its kind.
func (t *table) compare() {
	smallest := map[string]float64{}
	for _, c := range t.columns {
		if c.mcell == 1 {
			smallest[c.kind] = c.figures[nsACell]
		} else if first, ok := smallest[c.kind]; ok {
			c.set(growth, c.figures[nsACell]/first)
		}
	}
}

// write prints the table: + behind a figure says that it meets its target, - that
// it does not.
func (t *table) write(w io.Writer) error {
	if len(t.columns) == 0 {
		return errors.New("there is no ground so small; ask for 1 million cells or more")
	}
	t.compare()
	var b strings.Builder
	fmt.Fprintf(&b, "%-32s", "ground, Mcell")
	for _, c := range t.columns {
		fmt.Fprintf(&b, "%9s ", fmt.Sprintf("%s %d", c.kind, c.mcell))
	}
	b.WriteString("  target\n")
	for _, row := range slices.Concat(t.columns[0].stages, order) {
		fmt.Fprintf(&b, "%-32s", row)
		for _, c := range t.columns {
			b.WriteString(c.cell(row))
		}
		fmt.Fprintf(&b, "  %v\n", targets[row])
	}
	b.WriteString("+ meets its target, - misses it. Memory is what is held, the ground included, and what a warm run takes besides.\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// cell writes a figure with its verdict, or blanks for one that was not taken.
func (c *column) cell(row string) string {
	figure, measured := c.figures[row]
	if !measured {
		return strings.Repeat(" ", 10)
	}
	return fmt.Sprintf("%9s%s", short(figure), targets[row].verdict(c.mcell, figure))
}

// short writes a figure to three digits or more.
func short(v float64) string {
	switch {
	case v >= 100:
		return fmt.Sprintf("%.0f", v)
	case v >= 10:
		return fmt.Sprintf("%.1f", v)
	}
	return fmt.Sprintf("%.2f", v)
}
