package compare

import (
	"context"
	"math"

	"runnel/analysis/channel"
)

var leastBed, mostBed = bedWidths()

// dugAlike widens or narrows the beds of the straights until as much is dug as
// wanted [m³], or as near as the limits of the field allow. The dug volume grows with
// the beds' width: the width is bracketed, and found by regula falsi with the end
// that stays halved, the Illinois method ([DahlquistBjorck1974]).
func (y *system) dugAlike(ctx context.Context, wanted float64, asDrawn trial) (trial, error) {
	best := asDrawn
	off := func(by float64) (float64, error) {
		t, err := y.account.try(ctx, y.drawn(by))
		if err == nil && math.Abs(t.dug-wanted) < math.Abs(best.dug-wanted) {
			best = t
		}
		return t.dug - wanted, err
	}
	a, fa := 0.0, asDrawn.dug-wanted
	b, fb, err := y.bracket(fa, off)
	for i := 0; err == nil && i < 30 && math.Abs(best.dug-wanted) > alike*wanted/10 && fa*fb < 0; i++ {
		c := b - fb*(b-a)/(fb-fa)
		var fc float64
		if fc, err = off(c); fc*fb < 0 {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		b, fb = c, fc
	}
	return best, err
}

// bracket looks for a change of width at which the sign of what is dug too much has
// turned from that of no change.
func (y *system) bracket(start float64, off func(float64) (float64, error)) (by, value float64, err error) {
	if start == 0 {
		return 0, 0, nil
	}
	end := mostBed
	if start > 0 {
		end = -mostBed
	}
	for width := 0.25; width < 2*mostBed; width *= 2 {
		by = math.Copysign(min(width, mostBed), end)
		if value, err = off(by); err != nil || value*start < 0 {
			return by, value, err
		}
		if start > 0 && width > y.widest() {
			break
		}
	}
	return by, value, nil
}

// widest is the width of the widest bed as it is drawn at the ends [m].
func (y *system) widest() float64 {
	w := 0.0
	for _, s := range y.straights {
		w = max(w, s.first.Bed, s.last.Bed)
		for _, x := range []channel.Section{s.first, s.last} {
			if n := len(x.Line); n > 0 {
				w = max(w, x.Line[n-1].Off-x.Line[0].Off)
			}
		}
	}
	return w
}
