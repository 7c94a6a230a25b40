package weather

import "strings"

// Means that no place with a garden has, by our own judgement; the most rain in a mean
// year anywhere is 11.9 m (from memory: Mawsynram), on about 180 days.
const (
	fewDays     = 300
	leastRain   = 40     // [mm in a year]
	littleRain  = 125    // if it is in mm [mm in a year]
	muchRain    = 12_000 // [mm in a year]
	wetDay      = 50     // the mean of days with 1 mm and more [mm]
	greatRain   = 500    // in a day [mm]
	strongWind  = 15     // the mean of a record [m/s]
	hotHighs    = 45     // the mean of the greatest temperatures [°C]
	coldLows    = -35    // the mean of the least [°C]
	daysInYear  = 365.25
	yearAtLeast = 365
)

// doubt tells what of a record is missing altogether, or hard to believe.
func (r *Record) doubt(u Units, report *Report) {
	r.doubtRain(u, report)
	r.doubtAir(report)
	if len(r.Days) < yearAtLeast {
		report.note("It has %d days, less than a year, so that its seasons are no measure of others.", len(r.Days))
	}
	for _, q := range quantities {
		if _, n := r.Mean(q.Of); n > 0 && n < len(r.Days) {
			report.note("The %s is known on %d of %d days.", strings.ToLower(q.Label), n, len(r.Days))
		}
	}
}

// doubtRain tells it of rain.
func (r *Record) doubtRain(u Units, report *Report) {
	rain, days := r.Mean(quantities[rainAt].Of)
	year, plain := rain*daysInYear, u.Rain == "" || u.Rain == quantities[rainAt].Units[0]
	switch {
	case days == 0:
		report.note("No rain is known in it, so that no season can be worked out of it.")
	case days < fewDays:
	case plain && year < littleRain:
		report.note("The rain comes to %.0f mm in a mean year, less than in most deserts; if the file gives inches, read it in inches.", year)
	case year < leastRain:
		report.note("The rain comes to %.0f mm in a mean year, less than in most deserts; look at its unit, and read it in mm if the file gives those.", year)
	case plain && year > muchRain:
		report.note("The rain comes to %.0f mm in a mean year, more than anywhere; if the file gives tenths of mm, read it in those.", year)
	case plain && r.meanWetDay() > wetDay:
		report.note("The rain comes to %.0f mm on a wet day in the mean, more than almost anywhere; if the file gives tenths of mm, read it in those.", r.meanWetDay())
	case year > muchRain:
		report.note("The rain comes to %.0f mm in a mean year, more than anywhere; look at its unit.", year)
	}
}

// meanWetDay returns the mean rain of the days that have 1 mm and more [mm].
func (r *Record) meanWetDay() float64 {
	sum, days := 0.0, 0.0
	for i := range r.Days {
		if rain := r.Days[i].Rain; rain >= 1 {
			sum, days = sum+rain, days+1
		}
	}
	return sum / days
}

// doubtAir tells it of temperatures and wind.
func (r *Record) doubtAir(report *Report) {
	high, highs := r.Mean(quantities[highAt].Of)
	low, lows := r.Mean(quantities[lowAt].Of)
	switch {
	case highs == 0 || lows == 0:
		report.note("The least and the greatest temperature are not both known in it, so that what evaporates cannot be worked out of it.")
	case high > hotHighs || low < coldLows:
		report.note("The temperatures run from %.0f to %.0f °C in the mean, which is hard to believe; look at their unit.", low, high)
	}
	if wind, n := r.Mean(quantities[windAt].Of); n > 0 && wind > strongWind {
		report.note("The wind is %.0f m/s in the mean, more than anywhere people plant; if the file gives km/h, read it in km/h.", wind)
	}
}
