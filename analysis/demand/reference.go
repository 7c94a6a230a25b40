package demand

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"runnel/geo/weather"
)

// standInWind is the wind where none was measured [m/s]: [Allen1998], the mean of
// two thousand stations.
const standInWind = 2.0

// lowestWind is the least height at which wind may have been measured [m]: lower down
// the profile of wind over grass does not hold.
const lowestWind = 0.5

var errNoTemperature = errors.New("the record has no temperature, so what plants need cannot be worked out; add columns of the day's lowest and highest")

// Reference returns the reference evapotranspiration of every day of a record [mm/day],
// and how it was found, for a person. A day whose temperatures are not known, or the
// wrong way round, is NaN.
func Reference(r weather.Record) (et []float64, how string, err error) {
	if err := check(r); err != nil {
		return nil, "", err
	}
	m := measuredIn(r)
	if m.temperature == 0 {
		return nil, "", errNoTemperature
	}
	penman := max(m.humidity, m.wind, m.sun) >= (m.temperature+1)/2
	et = make([]float64, len(r.Days))
	for i, d := range r.Days {
		switch day := r.Date(i).YearDay(); {
		case !warmthKnown(d):
			et[i] = math.NaN()
		case penman:
			et[i] = penmanMonteith(airOf(r, d, day))
		default:
			et[i] = hargreaves(d.Low, d.High, extraterrestrialRadiation(r.Latitude, day))
		}
	}
	if !penman {
		if m.temperature == len(et) {
			return et, "Hargreaves, from temperature alone", nil
		}
		return et, fmt.Sprintf("Hargreaves, from temperature alone; %d of %d days have no temperature", len(et)-m.temperature, len(et)), nil
	}
	return et, fmt.Sprintf("FAO-56 Penman–Monteith; humidity was not measured on %d days, wind on %d and sunshine on %d, where the usual stand-ins of FAO-56 are taken; %d of %d days have no temperature",
		m.temperature-m.humidity, m.temperature-m.wind, m.temperature-m.sun, len(et)-m.temperature, len(et)), nil
}

func check(r weather.Record) error {
	switch {
	case len(r.Days) == 0:
		return errors.New("there is no record of the weather; read one first")
	case !(r.Latitude >= -90 && r.Latitude <= 90):
		return fmt.Errorf("the latitude of the record is %g°; give it from -90 to 90", r.Latitude)
	case math.IsNaN(r.Elevation):
		return errors.New("the elevation of the record is not known; give it in metres")
	case r.WindHeight != 0 && !(r.WindHeight >= lowestWind):
		return fmt.Errorf("the wind was measured %g m above the ground; give a height of at least %g m", r.WindHeight, lowestWind)
	}
	return nil
}

// measured counts days: those of which temperatures are known, and of them those of which
// each of the rest is known.
type measured struct{ temperature, humidity, wind, sun int }

func measuredIn(r weather.Record) (m measured) {
	for _, d := range r.Days {
		if !warmthKnown(d) {
			continue
		}
		m.temperature++
		if known(d.DampLow, d.DampHigh) {
			m.humidity++
		}
		if known(d.Wind) {
			m.wind++
		}
		if known(d.Sun) || known(d.Radiation) {
			m.sun++
		}
	}
	return m
}

func warmthKnown(d weather.Day) bool { return d.High >= d.Low }

func known(figures ...float64) bool { return !slices.ContainsFunc(figures, math.IsNaN) }

// airOf is what is known of a day, with stand-ins for what is not: air as damp as dew
// at the lowest temperature leaves it (equation 48), wind of 2 m/s, and the radiation
// that the range of temperature speaks of.
func airOf(r weather.Record, d weather.Day, day int) air {
	extraterrestrial := extraterrestrialRadiation(r.Latitude, day)
	clear := clearSky(r.Elevation, extraterrestrial)
	shortwave := d.Radiation
	switch {
	case known(d.Radiation):
	case known(d.Sun):
		shortwave = shortwaveOfSunshine(d.Sun, dayLength(r.Latitude, day), extraterrestrial)
	default:
		shortwave = shortwaveOfRange(d.Low, d.High, extraterrestrial, clear)
	}
	a := air{low: d.Low, high: d.High, vapour: saturationPressure(d.Low), wind: standInWind, pressure: airPressure(r.Elevation)}
	if known(d.DampLow, d.DampHigh) {
		a.vapour = vapourPressure(d.Low, d.High, d.DampLow, d.DampHigh)
	}
	if known(d.Wind) {
		a.wind = windOf(r, d)
	}
	a.net = netShortwave(shortwave) - netLongwave(d.Low, d.High, a.vapour, clearness(shortwave, clear))
	return a
}

// windOf is a day's wind at 2 m [m/s].
func windOf(r weather.Record, d weather.Day) float64 {
	if r.WindHeight == 0 || r.WindHeight == 2 {
		return d.Wind
	}
	return windAtTwoMetres(d.Wind, r.WindHeight)
}
