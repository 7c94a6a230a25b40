// Package weather holds a daily record of rain and temperature, and reads one from
// delimited text with columns of any name.
//
// Rain is millimetres a day, temperatures degrees Celsius, wind metres a second at a
// height above the ground that the record states, humidity per cent, sunshine hours and radiation MJ/m² a
// day. NaN is a figure that is not known: it is never nought. A record has one Day for
// every day of the calendar from its first to its last, 29 February too.
package weather

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
)

// A Day is what was measured on one day; NaN where it was not.
type Day struct {
	// Rain [mm]; Low, High the least and the greatest temperature [°C].
	Rain, Low, High float64
	// DampLow, DampHigh are the least and the greatest relative humidity [%]; one mean
	// is in both.
	DampLow, DampHigh float64
	// Wind is the mean at the record's WindHeight [m/s], Sun the hours of bright sunshine
	// [h], Radiation the shortwave from the sky [MJ/m² day].
	Wind, Sun, Radiation float64
	// Level is that of the drain's water [m above datum], where it was read.
	Level float64
}

// A Record is days without a gap. The zero Record has none.
type Record struct {
	// Name says what it is, for a person; Source what file it came from.
	Name, Source string
	// Latitude [degrees, north positive] and Elevation [m] of the place; NaN where they
	// are not known.
	Latitude, Elevation float64
	// WindHeight is how high above the ground wind was measured [m]; 2 m where nought.
	WindHeight float64
	// First is the first day, at midnight UTC.
	First time.Time
	Days  []Day
}

// Date returns the date of day i.
func (r Record) Date(i int) time.Time { return r.First.AddDate(0, 0, i) }

// Mean returns the mean of a figure over the days on which it is known, and how many
// they are; NaN where there are none.
func (r Record) Mean(of func(*Day) *float64) (mean float64, days int) {
	sum := 0.0
	for i := range r.Days {
		if v := *of(&r.Days[i]); !math.IsNaN(v) {
			sum += v
			days++
		}
	}
	return sum / float64(days), days
}

// Years returns how long the record is [years].
func (r Record) Years() float64 { return float64(len(r.Days)) / daysInYear }

// Empty reports whether there is no record.
func (r Record) Empty() bool { return len(r.Days) == 0 }

// Same reports whether two records say the same; what is not known is alike.
func (r Record) Same(o Record) bool {
	same := func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
	if r.Name != o.Name || r.Source != o.Source || !same(r.Latitude, o.Latitude) || !same(r.Elevation, o.Elevation) ||
		r.WindHeight != o.WindHeight || !r.First.Equal(o.First) {
		return false
	}
	return slices.EqualFunc(r.Days, o.Days, alike)
}

// Lowest and Highest are between what elevations a record may be of [m].
const Lowest, Highest = -500, 9000

// mostDays is how long a record may be.
const mostDays = (lastYear - firstYear + 1) * 366

// Check reports what cannot be in a record.
func (r Record) Check() error {
	switch {
	case r.Empty():
		return nil
	case len(r.Days) == 1:
		return fmt.Errorf("the record has one day only; give one of a year at least")
	case len(r.Days) > mostDays || r.First.Year() < firstYear || r.Date(len(r.Days)-1).Year() > lastYear:
		return fmt.Errorf("the record runs from %d over %d days; give one between the years %d and %d", r.First.Year(), len(r.Days), firstYear, lastYear)
	case !r.First.Equal(r.First.UTC().Truncate(secondsInDay * time.Second)):
		return fmt.Errorf("the record begins at %s; let it begin at midnight UTC", r.First.Format(time.RFC3339))
	case math.Abs(r.Latitude) > 90:
		return fmt.Errorf("the latitude of the record is %g; give degrees from -90 to 90", r.Latitude)
	case r.Elevation < Lowest || r.Elevation > Highest:
		return fmt.Errorf("the elevation of the record is %g; give metres from -500 to 9000", r.Elevation)
	case !(r.WindHeight >= 0 && r.WindHeight <= 300):
		return fmt.Errorf("the height at which wind is measured is %g; give metres from 0 to 300", r.WindHeight)
	}
	return r.checkDays()
}

func (r Record) checkDays() error {
	for i := range r.Days {
		d := &r.Days[i]
		for _, q := range quantities {
			if v := *q.Of(d); !math.IsNaN(v) && !(v >= q.low && v <= q.high) {
				return fmt.Errorf("on %s the %s is %g; give a figure from %g to %g %s, or none", r.Date(i).Format(time.DateOnly), strings.ToLower(q.Label), v, q.low, q.high, q.Units[0])
			}
		}
		if d.Low > d.High || d.DampLow > d.DampHigh {
			return fmt.Errorf("on %s a least figure is above the greatest; interchange the two or give neither", r.Date(i).Format(time.DateOnly))
		}
	}
	return nil
}
