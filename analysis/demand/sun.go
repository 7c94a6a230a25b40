package demand

import "math"

// solarConstant is [MJ/m² min].
const solarConstant = 0.0820

// yearAngle is how far round its year the earth is on a day of the year, from 1 [rad].
func yearAngle(day int) float64 { return 2 * math.Pi * float64(day) / 365 }

// relativeDistance is the inverse relative distance between earth and sun: [Allen1998]
// equation 23.
func relativeDistance(day int) float64 { return 1 + 0.033*math.Cos(yearAngle(day)) }

// declination is the sun's [rad]: equation 24.
func declination(day int) float64 { return 0.409 * math.Sin(yearAngle(day)-1.39) }

// sunsetAngle is the hour angle at which the sun sets [rad]: equation 25. Where it does
// not set it is π, where it does not rise nought.
func sunsetAngle(latitude float64, day int) float64 {
	c := -math.Tan(radians(latitude)) * math.Tan(declination(day))
	return math.Acos(min(1, max(-1, c)))
}

// extraterrestrialRadiation is what reaches the top of the air [MJ/m² day]: equation 21.
func extraterrestrialRadiation(latitude float64, day int) float64 {
	phi, delta, omega := radians(latitude), declination(day), sunsetAngle(latitude, day)
	height := omega*math.Sin(phi)*math.Sin(delta) + math.Cos(phi)*math.Cos(delta)*math.Sin(omega)
	return 24 * 60 / math.Pi * solarConstant * relativeDistance(day) * max(0, height)
}

// dayLength is how long the sun can shine [h]: equation 34.
func dayLength(latitude float64, day int) float64 { return 24 / math.Pi * sunsetAngle(latitude, day) }

func radians(degrees float64) float64 { return degrees * math.Pi / 180 }
