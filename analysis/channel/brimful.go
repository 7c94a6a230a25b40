package channel

import (
	"errors"
	"slices"

	"runnel/geo/plan"
)

// A brimful is that the water of a line would run out, so that it is measured at the
// brim; bare is the same without how it is measured.
type brimful struct {
	of plan.ID
	error
	bare error
}

// unmeasured leaves out how water is measured where it is not.
func (n *Network) unmeasured(all []Problem) []Problem {
	for i, p := range all {
		var e brimful
		if errors.As(p.Err, &e) && slices.ContainsFunc(n.lines, func(f feature) bool { return f.ID == e.of && f.withheld }) {
			all[i].Err = e.bare
		}
	}
	return all
}
