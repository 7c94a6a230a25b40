package ui

import (
	"math"
	"strings"

	"runnel/analysis/earthwork"
)

// A totalRow is a way to the volumes of earth [m³].
type totalRow struct {
	word       string
	cut, fill  float64
	comparable bool
}

// totals are the volumes by each way, the first being that which others are held to.
func (s *stationPart) totalRows() []totalRow {
	dig := s.w.outcomes.dig
	if !dig.last() || dig.why != "" {
		none := math.NaN()
		return []totalRow{{tr("By sections, average end area"), none, none, true}}
	}
	e := dig.value.earth
	row := func(word string, v earthwork.Volumes) totalRow { return totalRow{word, v.Cut, v.Fill, true} }
	rows := []totalRow{
		row(tr("By sections, average end area"), e.AverageEnd), row(tr("By sections, prismoidal"), e.Prismoidal), row(tr("By the ground's cells"), e.Grid),
	}
	if e.Sills != (earthwork.Volumes{}) {
		rows = append(rows, totalRow{tr("Sills change that by"), e.Sills.Cut, e.Sills.Fill, false})
	}
	return rows
}

func (s *stationPart) totalSheet() figureSheet {
	rows, three := s.totalRows(), s.w.units.yard(3)
	off := func(of func(totalRow) float64) func(int) float64 {
		return func(row int) float64 {
			first := of(rows[0])
			if row == 0 || !rows[row].comparable || !(first > 0) {
				return math.NaN()
			}
			return 100 * (of(rows[row])/first - 1)
		}
	}
	cut, fill := func(r totalRow) float64 { return r.cut }, func(r totalRow) float64 { return r.fill }
	percent := yardstick{"%", 1}
	return figureSheet{
		rows: len(rows), stale: !s.w.outcomes.dig.current(),
		columns: []figureColumn{
			wordColumn(tr("Way"), func(row int) string { return rows[row].word }),
			three.column(tr("Cut"), 2, func(row int) float64 { return rows[row].cut }),
			percent.column(tr("Difference from the first"), 2, off(cut)),
			three.column(tr("Fill"), 2, func(row int) float64 { return rows[row].fill }),
			percent.column(tr("Difference from the first"), 2, off(fill)),
		},
	}
}

// said is what belongs to the figures of the stations, and why some are dashes.
func (s *stationPart) said() []string {
	u := s.w.units
	var said []string
	dig, flow := s.w.outcomes.dig, s.w.outcomes.flow
	switch {
	case dig.last() && dig.why != "":
		said = append(said, sentence(u.told(dig.why)))
	case dig.last():
		figure, note := writeSpoil(u, dig.value)
		said = append(said, trf("Spoil, on the cart: %[1]s. %[2]s", figure, sentence(note)))
	}
	if s.profiles.why != "" {
		said = append(said, sentence(u.told(s.profiles.why)))
	}
	if !flow.last() {
		return said
	}
	if flow.why != "" {
		return append(said, trf("Velocity is a dash because: %s", sentence(u.told(flow.why))))
	}
	told := map[string]bool{}
	for _, r := range flow.value.result.Reaches {
		if words := sentence(u.told(r.Still)); r.Still != "" && !told[words] {
			told[words] = true
			said = append(said, words)
		}
	}
	for _, w := range flow.value.result.Withheld {
		said = append(said, sentence(u.told(w.Error())))
	}
	return said
}

// runOn puts sentences one behind the other.
func runOn(said []string) string { return strings.Join(said, " ") }
