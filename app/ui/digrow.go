package ui

import (
	"math"

	"runnel/analysis/earthwork"
)

// digRows are the figures of what is dug, in the order in which they are read.
func digRows() []outcomeKind {
	return []outcomeKind{
		{tr("Cut, by sections"), "earth-sections", strong, dug(func(u units, d dig) (string, string) {
			e := d.earth
			return u.volume(e.AverageEnd.Cut), byCells(u, e.Grid.Cut+e.Sills.Cut)
		})},
		{tr("Fill, by sections"), "earth-sections", body, dug(func(u units, d dig) (string, string) {
			e := d.earth
			return u.volume(e.AverageEnd.Fill), byCells(u, e.Grid.Fill+e.Sills.Fill)
		})},
		{tr("Spoil to cart away"), "spoil", strong, dug(writeSpoil)},
	}
}

// byCells says what the other way to a volume gives [m³].
func byCells(u units, v float64) string { return trf("%s by the ground's cells", u.volume(v)) }

// dug writes a figure of what is dug: a dash, and why, where it is not known.
func dug(write func(u units, d dig) (figure, note string)) func(*Window) outcomeFigure {
	return func(w *Window) outcomeFigure {
		o := w.outcomes.dig
		switch {
		case !o.last():
			return outcomeFigure{figure: dash}
		case o.why != "":
			return outcomeFigure{figure: dash, note: sentence(w.units.told(o.why)), stale: !o.current()}
		}
		figure, note := write(w.units, o.value)
		return outcomeFigure{figure, note, !o.current()}
	}
}

// writeSpoil writes what is left of the cut once the fill is made of it, as it lies on
// the cart; the fill takes the cut rammed.
func writeSpoil(u units, d dig) (figure, note string) {
	left := spoilLeft(d.earth.AverageEnd, d.change)
	factors := trf("%[1]s: dug out × %[2]s, rammed into a fill × %[3]s", told(d.change.Soil), factor(d.change.Loose), factor(d.change.Compacted))
	if left < 0 {
		return u.volume(0), trf("%[1]s of earth is lacking for the fill. %[2]s.", u.volume(-left), factors)
	}
	return u.volume(left * d.change.Loose), trf("Loose, as it lies on the cart; in the ground it was %[1]s. %[2]s.", u.volume(left), factors)
}

// factor writes a number that a volume is multiplied by, without noughts at its end.
func factor(v float64) string { return typedNumber(roundTo(v, math.Round)) }

// spoilLeft is how much of a cut is left, in place, once a fill is made of it [m³].
func spoilLeft(v earthwork.Volumes, c earthwork.Change) float64 {
	if !(c.Compacted > 0) {
		return v.Cut - v.Fill
	}
	return v.Cut - v.Fill/c.Compacted
}
