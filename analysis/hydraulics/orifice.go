package hydraulics

import "math"

// orificeShare is the coefficient of a sharp round hole, 0.6 ([Chow1959] and others, from
// memory): the share of the ideal flow that passes.
const orificeShare = 0.6

// OrificeFlow returns the flow [m³/s] through a round hole of a diameter [m] under a
// head [m] above its middle: 0.6 a √(2gh).
func OrificeFlow(diameter, head float64) float64 {
	return orificeShare * math.Pi / 4 * diameter * diameter * math.Sqrt(2*Gravity*max(0, head))
}

// PipeFlow returns the flow [m³/s] into a short level pipe of a diameter [m] from water
// that stands so high above its invert [m], towards water that stands tail above it. A pipe
// that is covered passes what a hole does. In one that is not, the flow falls off as the
// square of the depth, as it does in the lowest part of a round hole: somewhat less than
// would pass, so the water above is shown higher and not lower.
func PipeFlow(diameter, depth, tail float64) float64 {
	if !(diameter > 0 && depth > 0) {
		return 0
	}
	if depth >= diameter {
		return OrificeFlow(diameter, depth-max(diameter/2, tail))
	}
	part := depth / diameter
	return part * part * OrificeFlow(diameter, diameter*(1-max(0.5, tail/depth)))
}
