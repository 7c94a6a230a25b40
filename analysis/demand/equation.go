package demand

import "math"

// waterOfRadiation is the water that one MJ/m² evaporates [mm].
const waterOfRadiation = 0.408

// An air is what the Penman–Monteith equation needs to know of a day.
type air struct {
	// low and high are temperatures [°C], vapour is the pressure of what the air
	// holds [kPa], wind that at 2 m [m/s].
	low, high, vapour, wind float64
	// pressure of the air is [kPa]; net radiation and the heat that goes into the ground
	// are [MJ/m² day].
	pressure, net, ground float64
}

// penmanMonteith is the reference evapotranspiration [mm/day]: [Allen1998] equation 6.
// Dew is no evaporation.
func penmanMonteith(a air) float64 {
	t := (a.low + a.high) / 2
	delta, gamma := slope(t), psychrometricConstant(a.pressure)
	lack := meanSaturationPressure(a.low, a.high) - a.vapour
	et := (waterOfRadiation*delta*(a.net-a.ground) + gamma*900/(t+273)*a.wind*lack) / (delta + gamma*(1+0.34*a.wind))
	return max(0, et)
}

// hargreaves is the reference evapotranspiration [mm/day] by temperature [°C] and the
// radiation above the air [MJ/m² day] alone: equation 52.
func hargreaves(low, high, extraterrestrial float64) float64 {
	t := (low + high) / 2
	return max(0, 0.0023*(t+17.8)*math.Sqrt(high-low)*waterOfRadiation*extraterrestrial)
}
