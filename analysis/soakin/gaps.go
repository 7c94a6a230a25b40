package soakin

import (
	"math"
	"time"

	"runnel/analysis/channel"
	"runnel/analysis/season"
	"runnel/geo/plan"
	"runnel/geo/weather"
)

// mostGaps is how many days a year of the record may lack to be told: common practice,
// no source.
const mostGaps = 7

// gaps are days that lack rain or evaporation: those that were filled, and those that were left.
type gaps struct{ filled, left int }

// fillGaps returns a record without the gaps of years that lack few days, and fills the
// reference evapotranspiration alike, unless that is nil: such days are taken as dry, and
// as the mean of their calendar month.
func fillGaps(r weather.Record, et []float64) (weather.Record, gaps) {
	lacks := func(i int) bool {
		return math.IsNaN(r.Days[i].Rain) || et != nil && math.IsNaN(et[i])
	}
	byYear := map[int]int{}
	for i := range r.Days {
		if lacks(i) {
			byYear[r.Date(i).Year()]++
		}
	}
	var g gaps
	if len(byYear) == 0 {
		return r, g
	}
	mean := monthMeans(r, et)
	r.Days = append([]weather.Day(nil), r.Days...)
	for i := range r.Days {
		if !lacks(i) {
			continue
		}
		if byYear[r.Date(i).Year()] > mostGaps {
			g.left++
			continue
		}
		g.filled++
		if math.IsNaN(r.Days[i].Rain) {
			r.Days[i].Rain = 0
		}
		if et != nil && math.IsNaN(et[i]) {
			et[i] = mean[r.Date(i).Month()-time.January]
		}
	}
	return r, g
}

// monthMeans are the mean reference of each calendar month [mm a day], NaN where none of its days has one.
func monthMeans(r weather.Record, et []float64) (mean [12]float64) {
	var n [12]float64
	for i, v := range et {
		if m := r.Date(i).Month() - time.January; !math.IsNaN(v) {
			mean[m] += v
			n[m]++
		}
	}
	for m := range mean {
		mean[m] /= n[m]
	}
	return mean
}

// readLevels takes up the drain's level where the record has it read: by datum in pools that
// the drain feeds, and as depth over the middle of its bed in the drain itself.
func (a *Account) readLevels(in *season.Input, s *plan.Site) {
	known := false
	for _, d := range s.Weather.Days {
		in.Levels = append(in.Levels, d.Level)
		known = known || !math.IsNaN(d.Level)
	}
	if !known {
		in.Levels = nil
		return
	}
	for _, p := range in.Pools {
		f, ok := a.Setup.feature(p.Lines[0])
		if !p.Drain || !ok {
			continue
		}
		if bed := channel.DrainBed(s.Ground, f); len(bed) > 0 {
			in.Bed = bed.At(bed[len(bed)-1].Chainage / 2)
			return
		}
	}
}
