// Package sortable turns heights into whole numbers that sort as the heights do, so
// that a height and an index compare in one instruction and sort by their digits.
package sortable

import "math"

// Key returns a number that grows with z, which must not be NaN; those of -0 and 0
// are one. IEEE 754 magnitudes sort as whole numbers, so the sign bit is set on
// positives and negatives are turned about.
func Key(z float32) uint32 {
	if z == 0 {
		z = 0 // which has no sign
	}
	b := math.Float32bits(z)
	if b>>31 != 0 {
		return ^b
	}
	return b | 1<<31
}

// Height returns the height of a key.
func Height(key uint32) float32 {
	if key>>31 != 0 {
		return math.Float32frombits(key ^ 1<<31)
	}
	return math.Float32frombits(^key)
}
