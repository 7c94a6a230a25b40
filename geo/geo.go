// Package geo holds the small vocabulary that every layer above shares: a
// figure that is known only as a range, and the units people type.
//
// Positions are orb points in a projected frame, east then north, in metres.
// Levels are metres above the ground's own datum. NaN stands for "not known"
// and is never treated as a height.
package geo

import "fmt"

// A Range is a figure known as low, likely and high, all in one unit.
// The zero Range is nought, known exactly.
type Range struct{ Low, Likely, High float64 }

// Scale returns r multiplied by k, which must not be negative.
func (r Range) Scale(k float64) Range { return Range{r.Low * k, r.Likely * k, r.High * k} }

// Check reports a range whose figures are out of order.
func (r Range) Check() error {
	if !(r.Low <= r.Likely && r.Likely <= r.High) {
		return fmt.Errorf("the range %g, %g, %g is out of order; give low, likely, high", r.Low, r.Likely, r.High)
	}
	return nil
}
