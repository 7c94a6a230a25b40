package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
	"runnel/analysis/earthwork"
)

// A pnezd is a row of the file of points.
type pnezd struct {
	number int
	at     orb.Point
	level  float64
	text   string
}

// WritePoints writes a row for each bed peg, top of a bank and offset stake: number,
// northing, easting, elevation and description, with no heading. A point whose level
// or place is not known is left out.
func (s SetOut) WritePoints(w io.Writer) error {
	var b strings.Builder
	for _, p := range s.Pegs {
		for _, row := range pointsOf(p) {
			if math.IsNaN(row.at[0] + row.at[1] + row.level) {
				continue
			}
			fmt.Fprintf(&b, "%d,%s,%s,%s,%s\r\n", row.number, fixed(row.at[1]), fixed(row.at[0]), fixed(row.level), described(row.text))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// perPeg is what a peg's number is multiplied by for the numbers of its points.
const perPeg = 10

// pointsOf lists the points of a peg.
func pointsOf(p earthwork.Peg) []pnezd {
	number := p.Number * perPeg
	here := fmt.Sprintf("%s %s", p.Title, Figure(p.Chainage).With(2))
	stake := func(side string, s earthwork.PegSide) string {
		return fmt.Sprintf("%s %s stake %s out cut %s", here, side, Figure(s.StakeOff).With(2), Figure(s.StakeCut).With(2))
	}
	return []pnezd{
		{number, p.At, p.Bed, fmt.Sprintf("%s bed cut %s %s", here, Figure(p.Cut).With(2), PegMarks(p))},
		{number + 1, p.Left.Top, p.Left.Level, fmt.Sprintf("%s left bank top", here)},
		{number + 2, p.Right.Top, p.Right.Level, fmt.Sprintf("%s right bank top", here)},
		{number + 3, p.Left.Stake, p.Left.StakeGround, stake("left", p.Left)},
		{number + 4, p.Right.Stake, p.Right.StakeGround, stake("right", p.Right)},
	}
}

func fixed(v float64) string { return strconv.FormatFloat(v, 'f', 3, 64) }

// described makes a description fit for a row: no comma, no quote, no sign of
// equality, one line, and no sign at its start that a spreadsheet takes for a formula.
func described(text string) string {
	text = strings.NewReplacer(",", " ", `"`, "'", "–", "-", "=", "").Replace(text)
	return strings.TrimLeft(strings.Join(strings.Fields(text), " "), "=+-@ ")
}

// WriteNote writes what must go with the points, since their file cannot say it.
func (s SetOut) WriteNote(w io.Writer) error {
	_, err := fmt.Fprintf(w, "%s\n%s", pointsRead, s.note())
	return err
}

const pointsRead = `The file of points has rows of number, northing, easting, elevation, description, with no
heading. A point's number is ten times its peg's, and one digit more: 0 the peg on the line,
with the level of the bed; 1 and 2 the tops of the left and the right bank, with their
level; 3 and 4 the left and the right offset stake, with the ground there as it is. The
description names the line, the chainage and which of these it is; "cut" is how far the bed
lies below the ground at the peg or the stake. A point whose level is not known is left out.
In a drawing: CENTRELINE, BED_EDGE, BANK_TOP and CREST are lines, PEGS and STAKES points, and
LABELS the numbers of the pegs with the bed's level.
`

// WriteSheet writes all columns for a spreadsheet, with a heading. What is not known
// is empty.
func (s SetOut) WriteSheet(w io.Writer) error {
	columns := PegColumns()
	out := csv.NewWriter(w)
	out.UseCRLF = true
	head := make([]string, len(columns))
	for i, c := range columns {
		head[i] = c.Head()
	}
	rows := [][]string{head}
	for _, p := range s.Pegs {
		row := make([]string, len(columns))
		for i, c := range columns {
			row[i] = c.forSheet(p)
		}
		rows = append(rows, row)
	}
	return out.WriteAll(rows)
}

func (c PegColumn) forSheet(p earthwork.Peg) string {
	if c.Text == nil {
		if v := c.Value(p); math.IsNaN(v) || math.IsInf(v, 0) {
			return ""
		}
		return fixed(c.Value(p))
	}
	text := c.Text(p)
	if strings.IndexAny(text, "=+-@\t\r") == 0 {
		return "'" + text // which keeps a spreadsheet from taking it for a formula
	}
	return text
}
