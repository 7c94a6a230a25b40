package hydrograph

import (
	"math"

	"runnel/analysis/fate"
)

// The figures of the time of concentration.
const (
	// shortest is the least time of concentration that is worked with [h]: 5 min, as
	// many drainage manuals have it (from memory).
	shortest = 5.0 / 60
	// leastSlope is what level ground is taken to fall [m/m]; no formula holds on it
	// (common practice, no source).
	leastSlope = 0.001
)

// Concentration returns how long water takes from the far end of a catchment, by its
// longest way and the fall on it [m]: Kirpich's, 5 min at least; [h].
func Concentration(length, fall float64) float64 {
	if !(length > 0) {
		return shortest
	}
	return max(shortest, Kirpich(length, max(leastSlope, fall/length)))
}

// Kirpich returns the time of concentration of a way of some length [m] and slope
// [m/m] by [Kirpich1940], from memory; [h]. It is of small farmed catchments with
// channels; water that runs over grass in a sheet takes longer.
func Kirpich(length, slope float64) float64 {
	return 0.0195 * math.Pow(length, 0.77) * math.Pow(slope, -0.385) / 60
}

// Rational returns the peak of what runs off an area [m²] by the rational method, of
// a share of the rain and its intensity [mm/h]; [m³/s].
func Rational(share, intensity, area float64) float64 {
	return share * intensity * millimetre * area / secondsAnHour
}

// RationalOf returns the peak by the rational method: the likely runoff coefficients
// by area, and the hardest rain of the storm within the time of concentration.
func RationalOf(ground []fate.Ground, tc float64, storm Storm) float64 {
	sheds := 0.0
	for _, g := range ground {
		sheds += g.Coefficient.Likely * g.Area
	}
	if !(storm.Hours > 0 && tc > 0) {
		return 0
	}
	return Rational(1, storm.Hardest(tc)/tc, sheds)
}
