package report

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"runnel/analysis/caution"
	"runnel/analysis/channel"
	"runnel/analysis/earthwork"
	"runnel/geo/plan"
)

// A SetOut is the setting out of one scheme, as it is written.
type SetOut struct {
	Site    *plan.Site
	Scheme  string
	Options earthwork.SetOutOptions
	Network *channel.Network
	Pegs    []earthwork.Peg
	// Problems is what is not as it is drawn.
	Problems []channel.Problem
	// Day is when it was worked out.
	Day time.Time
}

// NewSetOut sets out a scheme of a site.
func NewSetOut(ctx context.Context, s *plan.Site, scheme plan.SchemeID, o earthwork.SetOutOptions) (SetOut, error) {
	n, problems := channel.NewNetwork(s, scheme)
	pegs, err := earthwork.SetOut(ctx, s, n, o)
	return SetOut{s, s.Plan.SchemeName(scheme), o, n, pegs, problems, time.Now()}, err
}

// A PegColumn is one of the table of pegs: a number with its unit and decimals, or
// text, whose Text is set. Brief ones stand in the narrow table too.
type PegColumn struct {
	Label, Unit string
	// Short is the label in a narrow table.
	Short    string
	Decimals int
	Value    func(earthwork.Peg) float64
	Text     func(earthwork.Peg) string
	Brief    bool
}

// Head is the label with the unit.
func (c PegColumn) Head() string {
	if c.Unit == "" {
		return c.Label
	}
	return fmt.Sprintf("%s [%s]", c.Label, c.Unit)
}

// Cell writes a peg's text or number, a dash where that is not known.
func (c PegColumn) Cell(p earthwork.Peg) string {
	if c.Text != nil {
		return c.Text(p)
	}
	return Figure(c.Value(p)).With(c.Decimals)
}

// PegColumns lists the columns of the table of pegs, in metres.
func PegColumns() []PegColumn {
	word := func(label string, of func(earthwork.Peg) string) PegColumn {
		return PegColumn{Label: label, Text: of, Brief: true}
	}
	brief := func(label string, decimals int, of func(earthwork.Peg) float64) PegColumn {
		return PegColumn{Label: label, Unit: "m", Decimals: decimals, Value: of, Brief: true}
	}
	columns := []PegColumn{
		word("Peg", func(p earthwork.Peg) string { return strconv.Itoa(p.Number) }),
		word("Line", func(p earthwork.Peg) string { return p.Title }),
		brief("Chainage", 2, func(p earthwork.Peg) float64 { return p.Chainage }),
		word("Marks", PegMarks),
		brief("Easting", 3, func(p earthwork.Peg) float64 { return p.At[0] }),
		brief("Northing", 3, func(p earthwork.Peg) float64 { return p.At[1] }),
		brief("Ground", 2, func(p earthwork.Peg) float64 { return p.Ground }),
		brief("Bed", 2, func(p earthwork.Peg) float64 { return p.Bed }),
		brief("Cut", 2, func(p earthwork.Peg) float64 { return p.Cut }),
		brief("Drop", 2, func(p earthwork.Peg) float64 { return p.Drop }),
		brief("Water", 2, func(p earthwork.Peg) float64 { return p.Water }),
		brief("Bed width", 2, func(p earthwork.Peg) float64 { return p.BedWidth }),
	}
	columns = append(columns, sideColumns("Left", func(p earthwork.Peg) earthwork.PegSide { return p.Left })...)
	return append(columns, sideColumns("Right", func(p earthwork.Peg) earthwork.PegSide { return p.Right })...)
}

// sideColumns are those of one bank.
func sideColumns(name string, of func(earthwork.Peg) earthwork.PegSide) []PegColumn {
	column := func(format, short string, decimals int, value func(earthwork.PegSide) float64) PegColumn {
		return PegColumn{
			Label: fmt.Sprintf(format, name), Short: fmt.Sprintf(short, name[:1]), Unit: "m", Decimals: decimals,
			Value: func(p earthwork.Peg) float64 { return value(of(p)) }, Brief: short != "%s",
		}
	}
	return []PegColumn{
		column("%s bank top", "%s top", 2, func(s earthwork.PegSide) float64 { return s.Level }),
		column("%s bank top from line", "%s out", 2, func(s earthwork.PegSide) float64 { return s.Off }),
		column("%s stake outside bank top", "%s stake", 2, func(s earthwork.PegSide) float64 { return s.StakeOff }),
		column("%s stake to bed", "%s to bed", 2, func(s earthwork.PegSide) float64 { return s.StakeCut }),
		column("%s bank top easting", "%s", 3, func(s earthwork.PegSide) float64 { return s.Top[0] }),
		column("%s bank top northing", "%s", 3, func(s earthwork.PegSide) float64 { return s.Top[1] }),
		column("%s stake easting", "%s", 3, func(s earthwork.PegSide) float64 { return s.Stake[0] }),
		column("%s stake northing", "%s", 3, func(s earthwork.PegSide) float64 { return s.Stake[1] }),
		column("%s stake ground", "%s", 2, func(s earthwork.PegSide) float64 { return s.StakeGround }),
	}
}

// PegMarks names what a peg marks.
func PegMarks(p earthwork.Peg) string {
	var marks []string
	for _, r := range p.What {
		marks = append(marks, r.String())
	}
	return strings.Join(marks, "; ")
}

// WriteTable writes the pegs for a person, a table for each line, then what the
// table says and what to heed.
func (s SetOut) WriteTable(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %s\n", s.Site.Name, s.Scheme)
	for i := 0; i < len(s.Pegs); {
		k := i
		for k < len(s.Pegs) && s.Pegs[k].ID == s.Pegs[i].ID {
			k++
		}
		fmt.Fprintf(&b, "\n%s\n%s", s.Pegs[i].Title, pegLines(s.Pegs[i:k]))
		i = k
	}
	fmt.Fprintf(&b, "\n%s", s.note())
	_, err := io.WriteString(w, b.String())
	return err
}

// pegLines sets the pegs of one line in columns, what they mark at the end.
func pegLines(pegs []earthwork.Peg) string {
	cells := make([][]string, len(pegs)+1)
	for _, c := range PegColumns() {
		if !c.Brief || c.Label == "Line" || c.Label == "Marks" {
			continue
		}
		cells[0] = append(cells[0], cmp.Or(c.Short, c.Label))
		for i, p := range pegs {
			cells[i+1] = append(cells[i+1], c.Cell(p))
		}
	}
	var b strings.Builder
	i := 0
	for line := range strings.Lines(align(cells)) {
		marks := "Marks"
		if i > 0 {
			marks = PegMarks(pegs[i-1])
		}
		fmt.Fprintf(&b, "%s   %s\n", strings.TrimSuffix(line, "\n"), marks)
		i++
	}
	return b.String()
}

// Beware stands with every setting out.
const Beware = "Have buried services located, and marked on the ground, before anything is dug. Levels and places are no better than the survey: check them on the ground against its bench marks. Local codes, and the practice of those licensed to survey, design and build, govern."

// note says what a setting out rests on and how it is read.
func (s SetOut) note() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Site: %s\nScheme: %s\nDate: %s\n", s.Site.Name, s.Scheme, s.Day.Format(time.DateOnly))
	fmt.Fprintf(&b, "Reference system: %s\nUnit: metre\nHeights: above the datum of the site's survey\n", s.Site.CRS)
	fmt.Fprintf(&b, "Pegs: %d\n\n", len(s.Pegs))
	b.WriteString(pegsRead)
	if len(s.Problems) > 0 {
		b.WriteString("\nNot as drawn\n")
	}
	for _, p := range s.Problems {
		fmt.Fprintf(&b, "  -  %s.\n", p.Err)
	}
	fmt.Fprintf(&b, "\n%s\n%s\n", Beware, caution.Deference)
	return b.String()
}

const pegsRead = `Lengths and levels are metres. Left and right are as seen down the line; round an island
left is its crest and right the bank across the water. Chainage runs along the line from its
start, round an island along its outline. Cut is the ground less the bed at the peg, less
than nought where the bed lies above the ground. A drop is how much higher the bed lies
just before the peg. A stake stands outside the top of the bank on ground that is left as it
is; "stake to bed" is how far the bed at the peg lies below the ground at the stake. In a
narrow table L and R are left and right: the top of the bank, how far out from the line it
is, how far the stake is outside it, and the stake to the bed. A bend has pegs where it begins, where half of it is turned and where it ends; a corner has one.
At an end of a channel the digging goes on as a half round, as far out as the banks.
A dash or nothing: not known, or no bank, as where another channel opens, which the marks
then name. A bank inside a bend may lie further out than its own section has it. On the
crest of an island that is raised in a ring, the bed is the crest, to be filled to, and
right is the toe of its bank.
`
