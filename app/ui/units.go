package ui

import (
	"math"
	"regexp"
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
		b.WriteString(spoken().mark + rest)
	}
	return b.String()
}

// typedNumber writes v as a person types it in the language that is set.
func typedNumber(v float64) string {
	return spoken().marked(strconv.FormatFloat(v, 'f', -1, 64))
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

// litresPerCubicFoot is exact.
const litresPerCubicFoot = 1000 * geo.Foot * geo.Foot * geo.Foot

// metres is how many metres the unit of a length is.
func (u units) metres() float64 {
	if u == usFeet {
		return geo.Foot
	}
	return 1
}

// areaPerVolume writes an area for a volume [m²/m³].
func (u units) areaPerVolume(v float64) string {
	if u == usFeet {
		return with(rounded(v*geo.Foot), "ft²/ft³")
	}
	return with(rounded(v), "m²/m³")
}

// flow writes how much water runs [m³/s].
func (u units) flow(v float64) string {
	if u == usFeet {
		return with(rounded(u.cubic(v)), "ft³/s")
	}
	return with(rounded(1000*v), "L/s")
}

// speed writes how fast water runs [m/s].
func (u units) speed(v float64) string {
	if u == usFeet {
		return with(decimal(v/geo.Foot, 2), "ft/s")
	}
	return with(decimal(v, 2), "m/s")
}

// rain writes a depth of rain [mm].
func (u units) rain(v float64) string {
	if u == usFeet {
		return with(decimal(v/millimetresPerInch, 2), "in")
	}
	return with(decimal(v, 0), "mm")
}

// rate writes how fast water soaks in [mm/h].
func (u units) rate(v float64) string {
	if u == usFeet {
		return with(rounded(v/millimetresPerInch), "in/h")
	}
	return with(rounded(v), "mm/h")
}

// millimetresPerInch is exact: the international inch.
const millimetresPerInch = 25.4

// metricFigure finds a figure with its metric unit in a sentence.
var metricFigure = regexp.MustCompile(`(\d+)(\.\d+)?([ \x{00a0}])(m³|m²|[mL]/s|m)([^\p{L}\p{N}²³/]|$)`)

// usOf is what a metric unit is shown as in feet, and how many of it go into one of those.
var usOf = map[string]yardstick{
	"m": usFeet.yard(1), "m²": usFeet.yard(2), "m³": usFeet.yard(3), "m/s": {"ft/s", geo.Foot}, "L/s": {"ft³/s", litresPerCubicFoot},
}

// sentence writes the metric lengths, areas, volumes, speeds and flows of a sentence in
// these units. A figure gets as few decimals as leave it within what it was rounded
// from, so that 15.2 m, which was 50 ft, is 50 ft again.
func (u units) sentence(text string) string {
	if u == metric {
		return text
	}
	return metricFigure.ReplaceAllStringFunc(text, func(found string) string {
		p := metricFigure.FindStringSubmatch(found)
		v, err := strconv.ParseFloat(p[1]+p[2], 64)
		if err != nil {
			return found
		}
		us := usOf[p[4]]
		slack := 0.5 * math.Pow10(-max(0, len(p[2])-1)) / us.each
		// The toolkit would break a line between thousands.
		return with(strings.ReplaceAll(coarsest(v/us.each, slack), thinSpace, ""), us.unit) + p[5]
	})
}

// coarsest writes v with the fewest decimals, three at most, that leave it within
// the slack.
func coarsest(v, slack float64) string {
	for places := range 3 {
		scale := math.Pow10(places)
		if math.Abs(math.Round(v*scale)/scale-v) <= slack {
			return decimal(v, places)
		}
	}
	return decimal(v, 3)
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
	typed, each = f, 1
	if u == usFeet && f.Type == plan.Number {
		switch f.Unit {
		case "m":
			typed.Unit, each = "ft", geo.Foot
		case "mm":
			typed.Unit, each = "in", millimetresPerInch
		case "mm/h":
			typed.Unit, each = "in/h", millimetresPerInch
		case "m/day":
			typed.Unit, each = "ft/day", geo.Foot
		case "L/s":
			typed.Unit, each = "ft³/s", litresPerCubicFoot
		case "m³":
			typed.Unit, each = "ft³", geo.Foot*geo.Foot*geo.Foot
		case "m³/s":
			typed.Unit, each = "ft³/s", geo.Foot*geo.Foot*geo.Foot
		}
	}
	if each != 1 {
		typed.Usual = inField(f.Usual, each)
		typed.Low, typed.High = roundTo(f.Low/each, math.Ceil), roundTo(f.High/each, math.Floor)
	}
	return typed, each
}

// roundTo rounds v to the thousandth that the rule picks.
func roundTo(v float64, rule func(float64) float64) float64 { return rule(v*1000) / 1000 }

// inField is a value as a field shows it, of which each is so many of the value's own
// unit. What is of another unit has two decimals, where it is not less than 1.
func inField(v, each float64) float64 {
	if v /= each; each != 1 && math.Abs(v) >= 1 {
		return math.Round(v*100) / 100
	}
	return roundTo(v, math.Round)
}
