package soil

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"

	"runnel/geo"
)

// A Reading is how deep water stood in a hole or a ring [m] some minutes into a test.
type Reading struct{ Minutes, Depth float64 }

// minutesEach and metresEach are the units that may follow a figure.
var (
	minutesEach = map[string]float64{"min": 1, "s": 1.0 / 60, "h": 60}
	metresEach  = map[string]float64{"m": 1, "cm": 0.01, "mm": 0.001, "ft": geo.Foot, "in": geo.Foot / 12}
)

const howToType = "type pairs of minutes and depth in metres, such as 0 0.30; 10 0.24; 20 0.20"

// ParseReadings reads pairs of minutes and the depth of water [m] as a person types them:
// "0 0.30; 10 0.24". Semicolons, commas and new lines may part the pairs, a comma may
// stand for the point, and units may follow: "10 min 24 cm". A minute that is given again with
// deeper water is a refill.
func ParseReadings(text string) ([]Reading, error) {
	var figures []float64
	for _, word := range words(text) {
		number, unit := parted(word)
		if number != "" {
			v, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
			if err != nil || math.IsInf(v, 0) {
				return nil, fmt.Errorf("%q in the readings is no number; %s", word, howToType)
			}
			figures = append(figures, v)
		}
		if unit == "" {
			continue
		}
		units := minutesEach
		if len(figures)%2 == 0 {
			units = metresEach
		}
		each, ok := units[strings.ToLower(unit)]
		if !ok || len(figures) == 0 {
			return nil, fmt.Errorf("%q in the readings is no unit that is known; %s", unit, howToType)
		}
		figures[len(figures)-1] *= each
	}
	if len(figures)%2 != 0 {
		return nil, fmt.Errorf("the readings have %d figures, so that a minute has no depth; %s", len(figures), howToType)
	}
	var readings []Reading
	for i := 0; i < len(figures); i += 2 {
		readings = append(readings, Reading{figures[i], figures[i+1]})
	}
	return readings, check(readings)
}

// words parts a text at spaces, semicolons and new lines, and at commas that are not
// within a number.
func words(text string) []string {
	var all []string
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || r == ';' }) {
		word = strings.Trim(word, ",")
		if strings.Contains(word, ".") || strings.Count(word, ",") > 1 {
			all = append(all, strings.Split(word, ",")...)
		} else if word != "" {
			all = append(all, word)
		}
	}
	return all
}

// parted parts a figure from a unit that sticks to it.
func parted(word string) (number, unit string) {
	end := strings.LastIndexFunc(word, func(r rune) bool { return !unicode.IsLetter(r) }) + 1
	return word[:end], word[end:]
}

// check reports readings that are no test: fewer than two, out of order, or of water that
// rises by itself.
func check(readings []Reading) error {
	if len(readings) < 2 {
		return fmt.Errorf("there are fewer than two readings; %s", howToType)
	}
	for i, r := range readings {
		if r.Depth < 0 || r.Minutes < 0 {
			return fmt.Errorf("reading %d is below nought; give minutes since the start, and the depth of the water", i+1)
		}
		if i == 0 {
			continue
		}
		switch before := readings[i-1]; {
		case r.Minutes < before.Minutes:
			return fmt.Errorf("reading %d is of an earlier minute than the one before it; give them in order", i+1)
		case r.Depth > before.Depth && r.Minutes > before.Minutes:
			return fmt.Errorf("the water rises from reading %d to %d; where it was filled up give that minute twice, before and after", i, i+1)
		}
	}
	return nil
}

// A fall is how the water went down between two readings [m], [h].
type fall struct{ from, to, start, hours float64 }

// falls lists those between refills. Where there are three at least, those that begin in
// the first half of the test are left out: they only wet the soil. Readings of a
// hole that is empty already say nothing.
func falls(readings []Reading) []fall {
	const minutes = 60
	var all, late []fall
	for i := 1; i < len(readings); i++ {
		a, b := readings[i-1], readings[i]
		if b.Minutes > a.Minutes && a.Depth > 0 {
			all = append(all, fall{a.Depth, b.Depth, a.Minutes / minutes, (b.Minutes - a.Minutes) / minutes})
		}
	}
	if len(all) < 3 {
		return all
	}
	last := all[len(all)-1]
	half := (all[0].start + last.start + last.hours) / 2
	for _, f := range all {
		if f.start >= half-1e-9 {
			late = append(late, f)
		}
	}
	if late == nil { // one long fall at last
		late = all[len(all)-1:]
	}
	return late
}
