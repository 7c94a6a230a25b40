package demand

import "math"

// saturationPressure is the vapour pressure of air that can hold no more [kPa], at a
// temperature [°C]: [Allen1998] equation 11.
func saturationPressure(t float64) float64 { return 0.6108 * math.Exp(17.27*t/(t+237.3)) }

// meanSaturationPressure is that of a day: equation 12.
func meanSaturationPressure(low, high float64) float64 {
	return (saturationPressure(low) + saturationPressure(high)) / 2
}

// slope is how the saturation pressure rises with temperature [kPa/°C]: equation 13.
func slope(t float64) float64 { return 4098 * saturationPressure(t) / ((t + 237.3) * (t + 237.3)) }

// airPressure is the mean at an elevation [kPa]: equation 7.
func airPressure(elevation float64) float64 {
	return 101.3 * math.Pow((293-0.0065*elevation)/293, 5.26)
}

// psychrometricConstant is [kPa/°C] at an air pressure [kPa]: equation 8.
func psychrometricConstant(pressure float64) float64 { return 0.665e-3 * pressure }

// windAtTwoMetres is what a wind [m/s] at some height above grass [m] is at 2 m:
// equation 47.
func windAtTwoMetres(wind, height float64) float64 { return wind * 4.87 / math.Log(67.8*height-5.42) }

// vapourPressure is what the air of a day holds [kPa], by its least and greatest
// humidity [%]: equation 17. One mean in both is read by equation 19.
func vapourPressure(low, high, dampLow, dampHigh float64) float64 {
	if dampLow == dampHigh {
		return dampLow / 100 * meanSaturationPressure(low, high)
	}
	return (saturationPressure(low)*dampHigh + saturationPressure(high)*dampLow) / 200
}

// leastHumidity is that of a day's warmest hour [%], where only what the air holds is
// known [kPa]: equation 63.
func leastHumidity(vapour, high float64) float64 {
	return min(100, 100*vapour/saturationPressure(high))
}
