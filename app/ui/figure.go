package ui

import (
	"math"
	"strings"

	"runnel/analysis/compare"
	"runnel/geo"
)

// A figure is one of those that a scheme comes to, as the ledger, the comparison
// and its files name it.
type figure struct {
	// key is that of its method, label what it is called.
	key, label string
	value      func(*compare.Account) float64
	// span is its range; nil where it has none.
	span func(*compare.Spread) geo.Range
	// write gives a value with its unit.
	write func(units, float64) string
	// counts marks the figures that the work is about, checks one that only checks
	// another and stands in the comparison alone.
	counts, checks bool
}

// accountFigures are in the order in which they are read.
func accountFigures() []figure {
	return []figure{
		{key: "contact", label: tr("Contact area"), counts: true, write: units.area,
			value: func(a *compare.Account) float64 { return a.Contact }, span: func(s *compare.Spread) geo.Range { return s.Contact }},
		{key: "contact-on-cells", label: tr("Contact area by cells"), checks: true, write: units.area,
			value: func(a *compare.Account) float64 { return a.ContactOnGround }},
		{key: "perimeter", label: tr("Mean wetted perimeter"), write: units.length,
			value: func(a *compare.Account) float64 { return a.Perimeter }},
		{key: "wet-bank", label: tr("Wet bank"), write: units.length,
			value: func(a *compare.Account) float64 { return a.WetBank }, span: func(s *compare.Spread) geo.Range { return s.WetBank }},
		{key: "surface", label: tr("Water surface"), write: units.area,
			value: func(a *compare.Account) float64 { return a.Surface }, span: func(s *compare.Spread) geo.Range { return s.Surface }},
		{key: "depth", label: tr("Deepest water"), write: units.length,
			value: func(a *compare.Account) float64 { return a.Depth }, span: func(s *compare.Spread) geo.Range { return s.Depth }},
		{key: "storage", label: tr("Storage"), counts: true, write: units.volume,
			value: func(a *compare.Account) float64 { return a.Storage }, span: func(s *compare.Spread) geo.Range { return s.Storage }},
		{key: "length", label: tr("Length of water"), write: units.length,
			value: func(a *compare.Account) float64 { return a.WetLength }},
		{key: "plot-ratio", label: tr("Contact over plot"), write: func(_ units, v float64) string { return share(v) },
			value: func(a *compare.Account) float64 { return a.PlotRatio }},
		{key: "cut", label: tr("Cut"), write: units.volume,
			value: func(a *compare.Account) float64 { return a.Cut }, span: func(s *compare.Spread) geo.Range { return s.Cut }},
		{key: "fill", label: tr("Fill"), write: units.volume,
			value: func(a *compare.Account) float64 { return a.Fill }, span: func(s *compare.Spread) geo.Range { return s.Fill }},
	}
}

// between writes a range from low to high with its unit once; a dash where it is
// not known, and nothing where there is none.
func (f figure) between(u units, r geo.Range) string {
	switch {
	case math.IsNaN(r.Low + r.High):
		return dash
	case r.Low == r.High:
		return ""
	}
	low, unit := cutUnit(f.write(u, r.Low))
	high, _ := cutUnit(f.write(u, r.High))
	if low == high { // nearer than the figures tell
		return with("≈\u00a0"+low, unit)
	}
	return with(low+"–"+high, unit)
}

// cutUnit parts a figure from its unit.
func cutUnit(written string) (number, unit string) {
	number, unit, _ = strings.Cut(written, "\u00a0")
	return number, unit
}

// difference writes how much more or less a value is than another, with its unit;
// empty where what is written of them is the same.
func (f figure) difference(u units, now, was float64) string {
	more := now - was
	written := f.write(u, math.Abs(more))
	number, _ := cutUnit(written)
	switch {
	case math.IsNaN(more):
		return dash
	case strings.Trim(number, "0.,") == "":
		return tr("no difference")
	case more < 0:
		return "−" + written
	}
	return "+" + written
}

// differenceAndRatio adds to the difference of a figure that counts how many times
// the other it is.
func (f figure) differenceAndRatio(u units, now, was float64) string {
	said := f.difference(u, now, was)
	if !f.counts || !(was > 0) || said == dash {
		return said
	}
	return said + " · " + times(now/was)
}

// disjoint reports whether the ranges of two values do not meet: then they differ by
// more than either is unsure.
func disjoint(a, b geo.Range) bool { return a.Low > b.High || b.Low > a.High }

// share writes a share of one as per cent.
func share(v float64) string { return with(rounded(100*v), "%") }
