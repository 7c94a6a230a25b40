package hydraulics

import (
	"math"

	"runnel/analysis/channel"
)

// Gravity is standard gravity [m/s²], exact by definition (3rd CGPM, 1901).
const Gravity = 9.80665

// waterWeight is the weight of a cubic metre of water [N/m³].
const waterWeight = 1000 * Gravity

// Conveyance returns A R^(2/3) / n [m³/s] at depth y [m]: what Manning's formula
// gives at a slope of 1 ([Chow1959] section 6-2). roughness is Manning's n, in the
// form that goes with metres.
func Conveyance(s channel.Section, y, roughness float64) float64 {
	area, around := s.Area(y), s.WettedPerimeter(y)
	if !(area > 0) {
		return 0
	}
	r := math.Cbrt(area / around)
	return area * r * r / roughness
}

// Discharge returns Manning's flow [m³/s] at depth y [m] down a slope [m/m].
func Discharge(s channel.Section, y, roughness, slope float64) float64 {
	return Conveyance(s, y, roughness) * math.Sqrt(max(0, slope))
}

// FrictionSlope returns how fast a flow [m³/s] at depth y [m] loses head [m/m].
func FrictionSlope(s channel.Section, y, roughness, flow float64) float64 {
	v := flow / Conveyance(s, y, roughness)
	return v * v
}

// Velocity returns the mean velocity of a flow [m/s]; nought where there is none.
func Velocity(s channel.Section, y, flow float64) float64 {
	if flow == 0 {
		return 0
	}
	return flow / s.Area(y)
}

// Froude returns the Froude number: below 1 the flow is subcritical, and what
// stands downstream sets its depth. The depth in it is area over top width.
func Froude(s channel.Section, y, flow float64) float64 {
	if flow == 0 {
		return 0
	}
	area := s.Area(y)
	return math.Abs(flow) / area * math.Sqrt(s.TopWidth(y)/(Gravity*area))
}

// MeanShear returns the mean shear that water puts on its bed and banks [Pa]: the
// weight of water × hydraulic radius × the slope of its head.
func MeanShear(s channel.Section, y, slope float64) float64 {
	return waterWeight * s.HydraulicRadius(y) * slope
}

// Shear returns the greatest shear on the bed [Pa]: the weight of water × depth ×
// the slope of its head.
func Shear(depth, slope float64) float64 { return waterWeight * max(0, depth) * slope }

// SpecificEnergy returns the head above the bed [m]: depth and velocity head.
func SpecificEnergy(s channel.Section, y, flow float64) float64 {
	v := Velocity(s, y, flow)
	return y + v*v/(2*Gravity)
}
