// Package season balances the water of pools day by day.
//
// What comes to a pool in a day comes evenly over it: its own runoff, the rain that falls
// within its brim, and what pools above pass to it that day. Water soaks in over its contact
// area at one rate a day and evaporates from its surface. Both areas go straight with its volume from one
// stage to the next, so that the volume follows exponentials, which are followed exactly: to a stage, to
// where it stands still, to empty, and to the lowest crest, over which all leaves that would rise
// higher. Each day's rate is that of [GreenAmpt1911] over the whole day under water, at a
// conductivity that clogs; no head of water is added to it, which is on the careful side. The
// room that water has filled in the soil comes free again as a dry bed recovers, exponentially.
//
// While the drain runs a pool that it feeds stands at its level, for as long as the drain brings enough; what would
// stand higher runs back. Where that is above a crest the flow over it is that of a weir,
// with the water below free, and the drain brings that too. When the drain stops all above Rest runs
// back at once. A sill passes water one way. A film of less than a millimetre soaks away on the day on which nothing comes to it.
//
// Soaking is held back so that the water table under a pool does not reach its floor by what
// soaks from that pool on that day; what soaks elsewhere can raise it higher, and then nothing soaks.
// Roots draw on water that soaked in, where no water stands, out of a store of 100 mm over the contact
// area at the brim: common practice for the soil about roots, no source. It is full at first.
//
// A day whose rain or evaporation is not known has none, and is counted; a calendar year with no
// day that is known is left out.
package season

import (
	"time"

	"runnel/analysis/pool"
	"runnel/geo/plan"
)

// An Input is what a season is worked out of: figures for every day, from First on, and
// the pools that it runs through.
type Input struct {
	First time.Time
	// Rain and Evaporation, that of open water, are [mm] a day; Roots is what plants
	// would take of soil that water has stood on [mm a day].
	Rain, Evaporation, Roots []float64
	// Runoff is what comes to each pool from its own ground [m³ a day]; nil for none.
	Runoff [][]float64
	// Wetness orders the days: the drain runs on those of which it is greatest; nil for
	// that of Rain.
	Wetness []float64
	// Levels is the drain's water on each day [m above datum], NaN where it was not read;
	// nil for none. It goes before Wetness in every pool that a drain feeds. Bed is the drain's bed where it was read.
	Levels []float64
	Bed    float64
	Pools  []pool.Pool
}

// Factors are one draw of what is not known for sure. UsualFactors is the likely one.
type Factors struct {
	// Conductivity is that of the soil under each pool [mm/h].
	Conductivity []float64
	// RunDays is how many days a year each pool's drain runs.
	RunDays  []float64
	Clogging plan.Clogging
	// Contact, Evaporation, Runoff and Deficit multiply contact areas, evaporation and
	// what roots take, runoff, and the room in the soil at first.
	Contact, Evaporation, Runoff, Deficit float64
	// Years picks years of the record to run, one after another, each from how it stood at its start where that
	// is remembered: 0 is that of First; nil for all.
	Years []int
	// Mound is how the water table rises; nil for a table that is not known.
	Mound *Mound
}

// A Mound is how the water table under each pool answers to what soaks in: a sum of
// exponentials. One cubic metre that soaks from pool j on one day has the table under pool i higher by
// Σ_k Rise[i][j][k] exp(−t/Days[k]) t days later [m].
type Mound struct {
	Days []float64
	Rise [][][]float64
	// Room is how far each pool's floor lies above the table before anything soaks in [m].
	Room []float64
}

// A Sum is water [m³] over some time. Drain + Runoff + Rain + what was there at first =
// Soaked + Evaporated + Spilled + RanBack + what is there at last.
type Sum struct {
	// Drain is what comes from drains, Runoff from the ground, Rain falls on the water and its banks.
	// Received is what comes to one pool over from others, which Spilled of those holds;
	// it is nought for all of them together.
	Drain, Runoff, Rain, Received float64
	// Soaked goes into the soil, Early the part of it that is more than the saturated
	// rate would take; Evaporated leaves the water; Spilled leaves over outlets, RanBack by the mouth.
	Soaked, Early, Evaporated, Spilled, RanBack float64
	// Roots is what plants take of what had soaked; Recharge is the rest.
	Roots, Recharge float64
	// Change is how much more is in the pools at last, RootChange in the soil about roots.
	Change, RootChange float64
	// Wet counts the days on which water stands anywhere, a centimetre deep and more, Runs those on which the drain
	// runs, Limited those on which groundwater holds the soaking back.
	// A pool is wet on a day that it begins or ends with more than a puddle in it.
	Wet, Runs, Limited float64
}

// A Trace is one day of one pool, at its end: level and volume; and over it the rest.
type Trace struct {
	Level, Volume, Contact float64
	// Rate is the mean rate of soaking over the contact area [mm/h].
	Rate, Soaked, Evaporated, Spilled, In float64
	Runs                                  bool
}

// A Result is what a season comes to.
type Result struct {
	First time.Time
	Total Sum
	// Years has a sum for each calendar year, Months for each calendar month of each year, both
	// in order from that of First on.
	Years  []YearSum
	Months []MonthSum
	// Pools has the sum of each pool over all days.
	Pools []Sum
	// Standing is for how many days a year, in the mean, the water of each pool stands above each of its stages.
	Standing [][]float64
	// Days is by pool and day; nil unless it was asked for.
	Days [][]Trace
	// Unknown counts the days of which rain or evaporation is not known, Left the calendar years that
	// were left out because none of their days is; the figures of those are NaN.
	Unknown, Left int
	// Withheld says of which pools nothing can be told, and why. Their figures are NaN, and
	// so are those of the pools below them and of all together.
	Withheld []string
}

// A YearSum is a calendar year's.
type YearSum struct {
	Year int
	// RainDepth is the rain of the year [mm], Days how many of its days are in the record, Unknown of
	// how many of those rain or evaporation is not known.
	RainDepth     float64
	Days, Unknown int
	Sum
}

// A MonthSum is a month's.
type MonthSum struct {
	Year  int
	Month time.Month
	Sum
}
