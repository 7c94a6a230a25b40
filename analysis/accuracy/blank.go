package accuracy

import (
	"github.com/paulmach/orb/planar"

	"runnel/geo/survey"
)

// besideBlank reports whether a line without a height lies beside another line. Heights
// that are missing leave a step in those around, so that less can be said of one there.
func (k *check) besideBlank(l survey.Line) bool {
	near := 3 * k.gap
	reach := l.At.Bound().Pad(near)
	for _, i := range k.blank {
		other := k.Lines[i].At
		if !reach.Intersects(other.Bound()) {
			continue
		}
		for j := 0; j < len(l.At); j += len(l.At)/30 + 1 {
			if planar.DistanceFrom(other, l.At[j]) <= near {
				return true
			}
		}
	}
	return false
}
