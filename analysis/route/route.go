// Package route leads a storm through pools by level-pool routing: each stands level, and
// what passes an outlet follows from the levels on its two sides alone.
//
// Inflow goes straight from one figure to the next, rain is even over its step. A step
// weighs what flows at its two ends alike, as the storage indication of [ChowMaidmentMays1988] does, and is cut up where
// outflow would answer faster than that can follow; where cutting up no longer helps, the end
// of the step alone counts, which never swings. An hour after the last inflow a quarter of an hour is one
// step, cut up likewise, and the figures between lie in line. The pools' volumes are found together by Newton's
// method, and each is then what flowed into it less what flowed out, so that the balance closes.
//
// Weirs are broad crests, drowned where the water below stands high, and water goes over a sill either
// way. While a drain runs it holds the pools that it fills at its level or above it, as far as it brings
// enough, and a mouth passes what stands higher against that level. Above the brim a pool has upright walls. Water
// soaks in at its steady rate over the contact area; that soil takes in more at first is left out, which is on
// the careful side, as is that the air takes none.
package route

import (
	"runnel/analysis/pool"
	"runnel/geo/plan"
)

// An Input is a storm as it comes to pools.
type Input struct {
	Pools []pool.Pool
	// Step is the time between figures [s].
	Step float64
	// Inflow is what comes to each pool [m³/s] at each step, the first at the start; nil for none. Rain is what falls
	// on the pools, within their brims, in each step [mm]. After the last figure of each there is none.
	Inflow [][]float64
	Rain   []float64
	// Start is the level at which each pool stands at first; NaN is empty.
	Start []float64
	// Runs is how long the drain runs on at its level from the start [h].
	Runs float64
	// Conductivity is that of the soil under each pool [mm/h], Clogged the share of the
	// rate that is left. Where a conductivity is NaN nothing soaks in, and how long the pool takes to empty
	// is not told.
	Conductivity []float64
	Clogged      float64
	// Longest is how long the water is followed [h]; it is left earlier where nothing comes and nothing stands.
	Longest float64
}

// A Passed is what one outlet passes.
type Passed struct {
	pool.Outlet
	Peak   float64 // [m³/s]
	Volume float64 // [m³]
}

// A Pool is how a storm goes through one pool.
type Pool struct {
	Title string
	Lines []plan.ID
	// Peak is the highest level [m] and PeakAt when [h]; Freeboard is how far the brim lies above it [m], NaN
	// where no brim is known.
	Peak, PeakAt, Freeboard float64
	// Depth is the greatest depth [m].
	Depth float64
	// In is the greatest inflow [m³/s], that from a drain left out.
	In      float64
	Outlets []Passed
	// Over is set where it runs over its brim.
	Over bool
	// Empty is how long after the last inflow it stands empty [h], or down at the level that a drain holds it at; +Inf where it does not within
	// Longest. The drain counts as inflow until it stops. A film of a millimetre is no water.
	Empty float64
	// Level, Inflow and Outflow are those at each step.
	Level, Inflow, Outflow []float64
}

// A Result is how a storm goes through all of them.
type Result struct {
	Step  float64
	Pools []Pool
	// In, from drains too, + First = Soaked + Left + Last [m³].
	In, Soaked, Left, First, Last float64
}
