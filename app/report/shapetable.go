package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// writeShape writes what is worked out of a scheme's shape for a person.
func writeShape(b *strings.Builder, s SchemeFigures) {
	f := s.Shape
	if f == nil {
		return
	}
	fmt.Fprintf(b, "\nWhat the shape buys, %s\n", s.Scheme)
	f.Gain.write(b)
	f.Sensitivity.write(b)
	b.WriteString("\n" + align(f.Earth.cells()) + f.Earth.Sills.sentence())
	if len(f.Barriers) > 0 {
		b.WriteString("\n" + align(barrierCells(f.Barriers)))
		b.WriteString("Water all round keeps running roots on an island, or off it, only as long as it stands there. It is taken to go when the drain stops; water that a pool keeps for longer shortens the dry days.\n")
	}
	writeFlows(b, f.Flow, f.FlowFull)
}

func (g GainFigures) write(b *strings.Builder) {
	if g.Why == "" {
		ways := []*LedFigures{g.Winding, g.Straight, g.Equal}
		cells := [][]string{{"", "winding", "straight as drawn", "straight, same dig"}}
		for _, r := range []struct {
			heading string
			of      func(*LedFigures) string
		}{
			{"  contact area of the channels [m²]", func(l *LedFigures) string { return l.Contact.With(1) }},
			{"  wet bank [m]", func(l *LedFigures) string { return l.WetBank.With(1) }},
			{"  storage [m³]", func(l *LedFigures) string { return l.Storage.With(1) }},
			{"  length [m]", func(l *LedFigures) string { return l.Length.With(1) }},
			{"  dug, by sections [m³]", func(l *LedFigures) string { return l.Dug.With(1) }},
			{"  bed width [m]", func(l *LedFigures) string { return l.BedWidth.With(2) }},
		} {
			line := []string{r.heading}
			for _, way := range ways {
				line = append(line, r.of(way))
			}
			cells = append(cells, line)
		}
		b.WriteString(align(cells))
	}
	for _, sentence := range append([]string{g.Sentence, g.Bank, g.Stores}, g.Notes...) {
		if sentence != "" {
			fmt.Fprintf(b, "%s\n", sentence)
		}
	}
}

func (s SensitivityFigures) write(b *strings.Builder) {
	if s.Why != "" {
		fmt.Fprintf(b, "\nWhat one more metre buys is not told: %s.\n", s.Why)
		return
	}
	cells := [][]string{{"One more metre of", "contact area [m²]", "dug [m³]", "contact for each m³ dug [m²]"}}
	// Where the water stays the sentence below says so.
	moves := slices.ContainsFunc(s.Rows, func(r LeverFigures) bool { return math.Abs(float64(r.Level)) >= 0.005 })
	if moves {
		cells[0] = append(cells[0], "water level rises by [m]")
	}
	for _, r := range s.Rows {
		row := []string{"  " + r.Lever, r.Contact.With(1), r.Dig.With(1), r.PerDig.With(2)}
		if moves {
			row = append(row, r.Level.With(2))
		}
		cells = append(cells, row)
	}
	fmt.Fprintf(b, "\n%s%s\n", align(cells), s.Level)
	fmt.Fprintln(b, "These are rates at a small step; what is far from what is drawn differs.")
}

func (e EarthFigures) cells() [][]string {
	cells := [][]string{{"Earth in place [m³]", "cut", "fill"}}
	for _, r := range []struct {
		heading string
		MovedFigures
	}{
		{"  average end area", e.AverageEnd}, {"  prismoidal", e.Prismoidal},
		{"  on the ground's cells", e.Cells},
	} {
		cells = append(cells, []string{r.heading, r.Cut.With(1), r.Fill.With(1)})
	}
	return cells
}

func barrierCells(barriers []BarrierFigures) [][]string {
	cells := [][]string{{"Root barriers", "water all round", "narrowest [m]", "shallowest [m]", "stands dry [days a year]"}}
	for _, b := range barriers {
		round, dry := "no", "–"
		if b.Closed {
			round = "yes"
		}
		if b.Dry != nil {
			dry = b.Dry.span()
		}
		cells = append(cells, []string{"  " + b.Name, round, b.Narrowest.With(2), b.Shallowest.With(2), dry})
	}
	return cells
}

// sentence says how sills change the earth on the ground's cells; empty where they do
// not.
func (m MovedFigures) sentence() string {
	if m.Cut.With(1) == "0.0" && m.Fill.With(1) == "0.0" {
		return ""
	}
	change := func(f Figure, what string) string {
		switch {
		case f.With(1) == "0.0":
			return "as much " + what
		case f < 0:
			return fmt.Sprintf("%s m³ less %s", (-f).With(1), what)
		}
		return fmt.Sprintf("%s m³ more %s", f.With(1), what)
	}
	return fmt.Sprintf("The sills change that on the ground's cells: %s, %s.\n", change(m.Cut, "cut"), change(m.Fill, "fill"))
}

// span writes a range of whole numbers, its middle in between.
func (r RangeFigures) span() string {
	if r.Low == r.High {
		return r.Low.With(0)
	}
	return fmt.Sprintf("%s–%s, likely %s", r.Low.With(0), r.High.With(0), r.Likely.With(0))
}
