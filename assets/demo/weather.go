package demo

import (
	"math"
	"time"

	"runnel/geo/weather"
)

// The record is invented like the rest of the site: no station's figures are in it. It
// is that of a mild coast with wet winters and dry summers, some 700 mm in a mean year,
// as the site's setting has it. Its figures rest on whole numbers alone that are hashed,
// and on sums and products, so that every machine makes the same record.
const (
	recordYears  = 10
	recordStart  = 2011
	recordName   = "Invented weather"
	recordSource = "no station"
	// siteLatitude is where the site's coordinates lie [degrees north], siteElevation
	// the mean of its ground [m].
	siteLatitude, siteElevation = 43.4528, 84
)

// A season is what the days of one month are like in the mean.
type season struct {
	wet       float64 // the share of days with rain
	rain      float64 // of a day with rain [mm]
	low, high float64 // [°C]
}

var seasons = [12]season{
	{0.60, 5.1, 2.5, 8.0}, {0.52, 5.1, 2.8, 9.5}, {0.50, 4.5, 3.6, 12.0}, {0.42, 4.4, 5.2, 14.5},
	{0.33, 3.9, 8.0, 18.0}, {0.27, 3.7, 10.7, 21.0}, {0.16, 3.6, 12.6, 24.5}, {0.17, 3.8, 12.8, 24.5},
	{0.30, 4.4, 10.6, 21.0}, {0.47, 5.1, 7.3, 15.5}, {0.60, 5.6, 4.4, 10.8}, {0.60, 5.4, 2.6, 8.0},
}

const (
	// spell is how much likelier rain is on the day after a day of rain: a chain of two
	// states, in which each day knows the one before it.
	spell = 0.35
	// swing is how far a year's rain may lie from the mean one, as a share of it.
	swing = 0.1
	// warmth is how much of a warm or a cold day is left on the next.
	warmth = 0.7
	// draw is the first of the layers of chance: of many that were tried, one whose ten
	// years have a mean, a dry and a wet one as such a place has them.
	draw = 192
)

// weatherRecord makes the days.
func weatherRecord() weather.Record {
	r := weather.Record{
		Name: recordName, Source: recordSource, Latitude: siteLatitude, Elevation: siteElevation,
		First: time.Date(recordStart, time.January, 1, 0, 0, 0, 0, time.UTC),
	}
	end := r.First.AddDate(recordYears, 0, 0)
	wet, warm := true, 0.0
	for i := 0; r.Date(i).Before(end); i++ {
		date := r.Date(i)
		s := seasonOn(date)
		chance := s.wet * (1 - spell)
		if wet {
			chance += spell
		}
		wet = chanceOf(i, draw) < chance
		warm = float64(warmth*warm) + float64(2.6*lattice(int64(i), 0, draw+2))
		r.Days = append(r.Days, s.day(i, wet, warm, 1+float64(swing*lattice(int64(date.Year()), 0, draw+3))))
	}
	return r
}

// day makes one day: rain's share of its mean is u²/(1.05-u) of an even chance u, over
// the mean of that: few days have much, as rain has it.
func (s season) day(i int, wet bool, warm, year float64) weather.Day {
	none := math.NaN()
	d := weather.Day{DampLow: none, DampHigh: none, Wind: none, Sun: none, Radiation: none, Level: none}
	low, high := s.low+float64(0.8*warm), s.high+warm
	if wet {
		const mean = 1.8066 // ∫ u²/(1.05-u) du from 0 to 1
		u := chanceOf(i, draw+1)
		d.Rain = max(0.1, tenth(float64(s.rain*year)*float64(u*u)/(1.05-u)/mean))
		low, high = low+0.8, high-1.8 // clouds
	}
	d.Low = tenth(low + float64(1.2*lattice(int64(i), 0, draw+4)))
	d.High = tenth(max(high+float64(1.5*lattice(int64(i), 0, draw+5)), d.Low+1.5))
	return d
}

// seasonOn goes from the middle of one month to that of the next.
func seasonOn(date time.Time) season {
	at := float64(date.YearDay()-1)/365.25*12 - 0.5
	month := int(math.Floor(at))
	t := at - math.Floor(at)
	a, b := seasons[(month+12)%12], seasons[(month+13)%12]
	blend := func(a, b float64) float64 { return a + float64((b-a)*t) }
	return season{blend(a.wet, b.wet), blend(a.rain, b.rain), blend(a.low, b.low), blend(a.high, b.high)}
}

// chanceOf returns an even chance from 0 to 1 for a day.
func chanceOf(day int, layer uint64) float64 { return (lattice(int64(day), 0, layer) + 1) / 2 }

// tenth rounds to a tenth, as gauges are read.
func tenth(v float64) float64 { return math.Round(v*10) / 10 }
