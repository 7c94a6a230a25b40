package soakin

import (
	"runnel/analysis/pool"
	"runnel/analysis/route"
	"runnel/geo"
)

// A Through is how the design storm goes through a scheme's channels taken together, from
// soil that takes in the most to soil that takes in the least: level and freeboard of the
// channel that it leaves least of the bank dry [m], how long until all are empty [h], +Inf
// where that is longer than Longest, and what leaves over brims and spillways to the
// ground [m³].
type Through struct{ Highest, Freeboard, Empty, Overflow geo.Range }

// Through returns it; ok is false where no channel holds water or the storm is not told.
func (a *Account) Through() (t Through, ok bool) {
	fullest := a.Fullest()
	if fullest < 0 {
		return Through{unknownRange, unknownRange, unknownRange, unknownRange}, false
	}
	fast, likely, slow := a.Storm.Fast.Pools[fullest], a.Storm.Likely.Pools[fullest], a.Storm.Slow.Pools[fullest]
	t.Highest = geo.Range{Low: fast.Peak, Likely: likely.Peak, High: slow.Peak}
	t.Freeboard = geo.Range{Low: slow.Freeboard, Likely: likely.Freeboard, High: fast.Freeboard}
	for _, end := range []struct {
		of              route.Result
		empty, overflow *float64
	}{
		{a.Storm.Fast, &t.Empty.Low, &t.Overflow.Low}, {a.Storm.Likely, &t.Empty.Likely, &t.Overflow.Likely}, {a.Storm.Slow, &t.Empty.High, &t.Overflow.High},
	} {
		*end.empty, *end.overflow = a.emptied(end.of)
	}
	return t, true
}

// Fullest is the pool of a channel of which the storm leaves least of the bank dry, -1 for none.
func (a *Account) Fullest() int {
	best := -1
	for i, p := range a.Storm.Likely.Pools {
		if !a.Setup.Pools.Pools[i].Drain && (best < 0 || p.Freeboard < a.Storm.Likely.Pools[best].Freeboard) {
			best = i
		}
	}
	return best
}

// emptied is how long until the channels are empty, and what they let out onto the ground.
func (a *Account) emptied(r route.Result) (hours, overflow float64) {
	for i, p := range r.Pools {
		if a.Setup.Pools.Pools[i].Drain {
			continue
		}
		hours = max(hours, p.Empty)
		for _, out := range p.Outlets {
			if toGround(out) {
				overflow += out.Volume
			}
		}
	}
	return hours, overflow
}

// toGround reports whether an outlet lets water out onto the ground once a pool is full.
func toGround(out route.Passed) bool {
	return out.To < 0 && (out.Kind == pool.Brim || out.Kind == pool.Spillway || out.Kind == pool.Pipe)
}
