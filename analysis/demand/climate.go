package demand

import (
	"math"

	"runnel/geo/weather"
)

// Coefficients lower than this do not answer to wind and humidity ([Allen1998]).
const leastAdjusted = 0.45

// climateTerm is what a coefficient of the table changes by in a climate of some wind at
// 2 m [m/s] and least humidity [%] for a crop of some height [m]: [Allen1998] equations
// 62 and 65, held to the limits that the book gives them.
func climateTerm(wind, damp, height float64) float64 {
	wind, damp, height = min(6, max(1, wind)), min(80, max(20, damp)), min(10, max(0.1, height))
	return (0.04*(wind-2) - 0.004*(damp-45)) * math.Pow(height/3, 0.3)
}

// inClimate returns a crop with its coefficients for the climate of a record, and whether
// it was known: wind and humidity on half the days or more of each of the last two stages.
func (c Crop) inClimate(r weather.Record, grown []int) (Crop, bool) {
	second := c.Stages[0] + c.Stages[1]
	var middle, late climate
	for i, day := range grown {
		switch {
		case day <= second:
		case day <= second+c.Stages[2]:
			middle.take(r, r.Days[i])
		default:
			late.take(r, r.Days[i])
		}
	}
	if !middle.known() || !late.known() {
		return c, false
	}
	if c.Middle >= leastAdjusted {
		c.Middle += middle.term(c.Height)
	}
	if c.End >= leastAdjusted {
		c.End += late.term(c.Height)
	}
	return c, true
}

// A climate gathers the wind and the least humidity of the days of a stage.
type climate struct {
	wind, damp  float64
	days, asked int
}

func (c *climate) take(r weather.Record, d weather.Day) {
	c.asked++
	if !known(d.Wind, d.DampLow, d.DampHigh) || !warmthKnown(d) {
		return
	}
	damp := d.DampLow
	if d.DampLow == d.DampHigh { // one mean of the day
		damp = leastHumidity(vapourPressure(d.Low, d.High, d.DampLow, d.DampHigh), d.High)
	}
	c.wind += windOf(r, d)
	c.damp += damp
	c.days++
}

func (c *climate) known() bool { return c.days > 0 && 2*c.days >= c.asked }

func (c *climate) term(height float64) float64 {
	return climateTerm(c.wind/float64(c.days), c.damp/float64(c.days), height)
}
