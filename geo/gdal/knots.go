package gdal

import (
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// knotsText writes knots with all their digits, as "x y, x y".
func knotsText(knots orb.LineString) string {
	var b strings.Builder
	for i, p := range knots {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(strconv.FormatFloat(p[0], 'g', -1, 64) + " " + strconv.FormatFloat(p[1], 'g', -1, 64))
	}
	return b.String()
}

// knotsIn reads knots as knotsText writes them, or as JSON's list of pairs; nil
// where the text holds anything else.
func knotsIn(text string) orb.LineString {
	words := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,[]", r) })
	if len(words)%2 != 0 {
		return nil
	}
	var knots orb.LineString
	for i := 0; i < len(words); i += 2 {
		x, err := strconv.ParseFloat(words[i], 64)
		y, other := strconv.ParseFloat(words[i+1], 64)
		if err != nil || other != nil {
			return nil
		}
		knots = append(knots, orb.Point{x, y})
	}
	return knots
}
