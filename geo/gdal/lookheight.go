package gdal

import (
	"math"
	"slices"
	"strings"

	"runnel/geo/table"
)

// guess chooses what holds the heights: a field with a name of heights, else the
// third coordinate, else a field whose numbers come often and in even steps.
func (t *tally) guess() {
	t.guessed = true
	best, most := "", 0.0
	for _, f := range t.fields {
		if s := f.likely(); s > most {
			best, most = f.Name, s
		}
	}
	switch {
	case most >= namedHeight:
		t.Height = best
	case t.HasZ:
		t.Height = ZHeight
	case most >= steppedHeight && t.Lines > 0:
		t.Height = best
	}
}

// How likely a field is one of heights.
const (
	steppedHeight = 2 // its numbers come often and in even steps
	namedHeight   = 4 // its name says so
)

// heightParts are in names of fields of heights, and notHeightsBehind end names that
// hold such a part and say something else.
var (
	heightParts      = []string{"elev", "height", "altitude", "contour", "hoehe", "höhe", "cota", "quota"}
	notHeightsBehind = []string{"id", "no", "nr", "type", "code", "acc", "accuracy", "error", "unit", "count", "mode", "geoidheight"}
)

// notHeights begin names of fields that are in even steps for other reasons.
var notHeights = []string{"id", "fid", "gid", "pk", "oid", "objectid", "no", "nr", "num", "type", "code", "class", "layer", "length", "shape", "len", "perimeter", "year", "date",
	"color", "colour", "width", "index", "row", "col", "order", "scale", "accuracy", "entity"}

// likely says how likely a field is one of heights; 0 for not at all.
func (f *fieldTally) likely() float64 {
	if 2*f.texts >= f.Set {
		return 0
	}
	name := strings.ToLower(f.Name)
	score := f.evenness()
	switch {
	case table.HeightName(f.Name):
		return score + namedHeight + 0.5
	case slices.ContainsFunc(notHeightsBehind, func(end string) bool { return strings.HasSuffix(name, end) }):
		return 0
	case slices.ContainsFunc(heightParts, func(part string) bool { return strings.Contains(name, part) }):
		return score + namedHeight
	}
	if slices.ContainsFunc(notHeights, func(n string) bool {
		return strings.TrimRight(name, "_0123456789") == n || strings.HasPrefix(name, n+"_")
	}) {
		return 0
	}
	if f.texts > 0 || f.many || len(f.distinct) < 2 || float64(len(f.distinct)) > 0.8*float64(f.Set) {
		return 0
	}
	return score
}

// evenness is 2 where all values are whole multiples of a usual interval of
// contours, 1 where they are in steps of another length, and else 0.
func (f *fieldTally) evenness() float64 {
	if f.many || len(f.distinct) < 2 {
		return 0
	}
	values := make([]float64, 0, len(f.distinct))
	for v := range f.distinct {
		values = append(values, v)
	}
	slices.Sort(values)
	step := math.Inf(1)
	for i, v := range values[1:] {
		step = min(step, v-values[i])
	}
	even := func(v float64) bool { return math.Abs(v/step-math.Round(v/step)) < 1e-3 }
	for _, v := range values {
		if !even(v - values[0]) {
			return 0
		}
	}
	if !even(values[0]) || !slices.ContainsFunc(intervals, func(i float64) bool { return math.Abs(step/i-1) < 1e-6 }) {
		return 1
	}
	return 2
}

// intervals are the usual ones of contours.
var intervals = []float64{0.05, 0.1, 0.2, 0.25, 0.5, 1, 2, 2.5, 4, 5, 10, 20, 25, 40, 50, 80, 100, 200, 500}
