package ui

import (
	"math"
	"strconv"
	"strings"

	"runnel/geo"
	"runnel/geo/plan"
)

// units says in which units figures are shown and typed. Inside, all is metric.
type units uint8

// metric is metres; usFeet is international feet.
const (
	metric units = iota
	usFeet
)

// thinSpace parts the thousands of a figure (ISO 80000-1, 7.3.1).
const thinSpace = "\u2009"

// dash stands for a figure that is not known.
const dash = "–"

// decimal writes v with so many places and its thousands parted.
func decimal(v float64, places int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return dash
	}
	text := strconv.FormatFloat(math.Abs(v), 'f', places, 64)
	whole, rest, _ := strings.Cut(text, ".")
	var b strings.Builder
	if v < 0 && strings.Trim(text, "0.") != "" {
		b.WriteString("−")
	}
	for i, digit := range whole {
		if i > 0 && (len(whole)-i)%3 == 0 {
			b.WriteString(thinSpace)
		}
		b.WriteRune(digit)
	}
	if rest != "" {
		b.WriteString("." + rest)
	}
	return b.String()
}

// rounded writes v with as many places as leave it three figures, two places at most.
func rounded(v float64) string {
	switch size := math.Abs(v); {
	case size >= 100:
		return decimal(v, 0)
	case size >= 10:
		return decimal(v, 1)
	}
	return decimal(v, 2)
}

// with adds a unit to a figure, and leaves a figure that is not known alone.
func with(figure, unit string) string {
	if figure == dash {
		return dash
	}
	return figure + "\u00a0" + unit
}

// length writes a length [m].
func (u units) length(v float64) string {
	if u == usFeet {
		return with(rounded(v/geo.Foot), "ft")
	}
	return with(rounded(v), "m")
}

// height writes a level [m] with as many places as a survey gives.
func (u units) height(v float64) string {
	if u == usFeet {
		return with(decimal(v/geo.Foot, 2), "ft")
	}
	return with(decimal(v, 2), "m")
}

// area writes an area [m²].
func (u units) area(v float64) string {
	if u == usFeet {
		return with(rounded(v/(geo.Foot*geo.Foot)), "ft²")
	}
	return with(rounded(v), "m²")
}

// volume writes a volume [m³].
func (u units) volume(v float64) string { return with(rounded(u.cubic(v)), u.cubicUnit()) }

// volumes writes a range of volumes [m³]: low to high.
func (u units) volumes(r geo.Range) string {
	if math.IsNaN(r.Low + r.High) {
		return dash
	}
	return with(rounded(u.cubic(r.Low))+"–"+rounded(u.cubic(r.High)), u.cubicUnit())
}

func (u units) cubic(v float64) float64 {
	if u == usFeet {
		return v / (geo.Foot * geo.Foot * geo.Foot)
	}
	return v
}

func (u units) cubicUnit() string {
	if u == usFeet {
		return "ft³"
	}
	return "m³"
}

// times writes a ratio.
func times(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return dash
	}
	return "×\u00a0" + decimal(v, 2)
}

// field returns a field as it is typed in these units, and how many of the
// field's own unit go into one that is typed.
func (u units) field(f plan.Field) (typed plan.Field, each float64) {
	if u == metric || f.Type != plan.Number || f.Unit != "m" {
		return f, 1
	}
	f.Unit = "ft"
	f.Usual = roundTo(f.Usual/geo.Foot, math.Round)
	f.Low, f.High = roundTo(f.Low/geo.Foot, math.Ceil), roundTo(f.High/geo.Foot, math.Floor)
	return f, geo.Foot
}

// roundTo rounds v to the thousandth that the rule picks.
func roundTo(v float64, rule func(float64) float64) float64 { return rule(v*1000) / 1000 }
