package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"runnel/analysis/caution"
)

// A row of the table: what is measured, with its unit, and how to read it.
type row struct {
	heading string
	of      func(SchemeFigures) string
}

// straightRow heads the one row that only a Shape tells.
const straightRow = "  times the straight drain it replaces"

var rows = []row{
	{"Contact area [m²]", func(s SchemeFigures) string { return s.ContactArea.With(1) }},
	{"  the same, on the ground's cells [m²]", func(s SchemeFigures) string { return s.ContactOnGround.With(1) }},
	{"  times as it is", func(s SchemeFigures) string { return s.Ratio.With(2) }},
	{straightRow, func(s SchemeFigures) string { return s.straightRatio().With(2) }},
	{"  times the plot", func(s SchemeFigures) string { return s.PlotRatio.With(3) }},
	{"Mean wetted perimeter [m]", func(s SchemeFigures) string { return s.Perimeter.With(2) }},
	{"Wet bank [m]", func(s SchemeFigures) string { return s.WetBank.With(1) }},
	{"Water surface [m²]", func(s SchemeFigures) string { return s.Surface.With(1) }},
	{"Storage [m³]", func(s SchemeFigures) string { return s.Storage.With(1) }},
	{"Length of the lines [m]", func(s SchemeFigures) string { return s.Length.With(1) }},
	{"Greatest depth [m]", func(s SchemeFigures) string { return s.Depth.With(2) }},
	{"Cut [m³]", func(s SchemeFigures) string { return s.Cut.With(1) }},
	{"Fill [m³]", func(s SchemeFigures) string { return s.Fill.With(1) }},
	{"Cautions", func(s SchemeFigures) string { return fmt.Sprint(len(s.Cautions)) }},
}

// WriteTable writes the figures for a person: a table of the schemes, then of their
// channels, then what the figures rest on and the cautions.
func (f Figures) WriteTable(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\n", f.Site)
	b.WriteString(align(schemeCells(f)))
	if !slices.ContainsFunc(f.Schemes, func(s SchemeFigures) bool { return s.PlotRatio.known() }) {
		b.WriteString("How much of the plot is in contact is not told: no boundary is drawn.\n")
	}
	writeSoak(&b, f)
	for _, s := range f.Schemes {
		if len(s.Channels) > 0 {
			fmt.Fprintf(&b, "\n%s", align(channelCells(s)))
			writePools(&b, s.Channels)
			for _, note := range s.WaterNotes {
				fmt.Fprintf(&b, "%s\n", note)
			}
		}
		writeShape(&b, s)
	}
	fmt.Fprintf(&b, "\nThe soil is %s and the drain runs %s, %s or %s days a year; what soaks in is told by `runnel account`.\n",
		f.Setting.Soil, f.Setting.RunDays.Low.With(0), f.Setting.RunDays.Likely.With(0), f.Setting.RunDays.High.With(0))
	writeCautions(&b, f)
	_, err := io.WriteString(w, b.String())
	return err
}

// shaped reports whether the shape of any scheme is told.
func (f Figures) shaped() bool {
	return slices.ContainsFunc(f.Schemes, func(s SchemeFigures) bool { return s.Shape != nil })
}

func (s SchemeFigures) straightRatio() Figure {
	if s.Shape == nil {
		return Figure(math.NaN())
	}
	return s.Shape.StraightRatio
}

func schemeCells(f Figures) [][]string {
	head := []string{""}
	for _, s := range f.Schemes {
		head = append(head, s.Scheme)
	}
	cells := [][]string{head}
	for _, r := range rows {
		if r.heading == straightRow && !f.shaped() {
			continue
		}
		line := []string{r.heading}
		for _, s := range f.Schemes {
			line = append(line, r.of(s))
		}
		cells = append(cells, line)
	}
	return cells
}

func channelCells(s SchemeFigures) [][]string {
	cells := [][]string{{s.Scheme, "water level [m]", "contact area [m²]", "wetted perimeter [m]", "wet bank [m]", "storage [m³]", "depth [m]", "length [m]"}}
	for _, c := range s.Channels {
		cells = append(cells, []string{"  " + c.Name, c.Level.With(2), c.ContactArea.With(1), c.Perimeter.With(2), c.WetBank.With(1),
			c.Storage.With(1), c.Depth.With(2), c.Length.With(1)})
	}
	return cells
}

// writePools lists the levels of channels whose water sills part.
func writePools(b *strings.Builder, channels []ChannelFigures) {
	for _, c := range channels {
		for _, p := range c.Pools {
			fmt.Fprintf(b, "  %s: the pool from %s m to %s m along it stands at %s m.\n", c.Name, p.From.With(1), p.To.With(1), p.Level.With(2))
		}
	}
}

func writeCautions(b *strings.Builder, f Figures) {
	for _, s := range f.Schemes {
		if len(s.Problems) > 0 {
			fmt.Fprintf(b, "\nNot as drawn, %s\n", s.Scheme)
		}
		for _, problem := range s.Problems {
			fmt.Fprintf(b, "  -  %s.\n", problem)
		}
		if len(s.Cautions) == 0 {
			continue
		}
		fmt.Fprintf(b, "\nCautions, %s\n", s.Scheme)
		for i, c := range s.Cautions {
			fmt.Fprintf(b, "%3d  %s\n", i+1, c.Text)
			for _, more := range []string{c.Measured, c.Guidance} {
				if more != "" {
					fmt.Fprintf(b, "     %s\n", more)
				}
			}
		}
	}
	fmt.Fprintf(b, "\n%s\n", caution.Deference)
}

// align sets cells in columns: the first to the left, the others to the right.
func align(cells [][]string) string {
	widths := make([]int, len(cells[0]))
	for _, line := range cells {
		for i, cell := range line {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	var b strings.Builder
	for _, line := range cells {
		var text strings.Builder
		for i, cell := range line {
			space := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell))
			if i == 0 {
				text.WriteString(cell + space)
				continue
			}
			text.WriteString("   " + space + cell)
		}
		b.WriteString(strings.TrimRight(text.String(), " ") + "\n")
	}
	return b.String()
}
