package demand

import "math"

// albedo is the share of the light that grass throws back.
const albedo = 0.23

// rangeFactor makes radiation of the range of temperature inland; by a coast it is 0.19.
const rangeFactor = 0.16

// shortwaveOfSunshine is the radiation [MJ/m² day] of so many hours of sun in a day of
// some length [h]: [Allen1998] equation 35 with its usual factors.
func shortwaveOfSunshine(sun, length, extraterrestrial float64) float64 {
	if length == 0 {
		return 0
	}
	return (0.25 + 0.50*min(1, sun/length)) * extraterrestrial
}

// shortwaveOfRange is the radiation [MJ/m² day] that a day's range of temperature
// speaks of [°C]: equation 50. It is at most that of a clear sky.
func shortwaveOfRange(low, high, extraterrestrial, clear float64) float64 {
	return min(clear, rangeFactor*math.Sqrt(high-low)*extraterrestrial)
}

// clearSky is the shortwave radiation without clouds [MJ/m² day]: equation 37.
func clearSky(elevation, extraterrestrial float64) float64 {
	return (0.75 + 2e-5*elevation) * extraterrestrial
}

// netShortwave is what grass keeps of it: equation 38.
func netShortwave(shortwave float64) float64 { return (1 - albedo) * shortwave }

// netLongwave is the warmth that goes back to the sky [MJ/m² day]: equation 39. Where
// the sun does not rise the sky is taken as clear.
func netLongwave(low, high, vapour, clearness float64) float64 {
	const stefanBoltzmann, freezing = 4.903e-9, 273.16
	warmth := (math.Pow(high+freezing, 4) + math.Pow(low+freezing, 4)) / 2
	return stefanBoltzmann * warmth * (0.34 - 0.14*math.Sqrt(vapour)) * (1.35*clearness - 0.35)
}

// clearness is how much of a clear sky's radiation arrives, at most all of it.
func clearness(shortwave, clear float64) float64 {
	if clear == 0 {
		return 1
	}
	return min(1, shortwave/clear)
}
