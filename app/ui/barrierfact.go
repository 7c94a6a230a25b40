package ui

import (
	"slices"

	"runnel/analysis/channel"
	"runnel/geo"
	"runnel/geo/plan"
)

// A barrier is the water round an island, and on how many days a year it is gone if it
// goes with the drain's.
type barrier struct {
	channel.Barrier
	dry geo.Range
}

func barriersOf(f figures) []barrier {
	var all []barrier
	network := f.scheme.Network
	for _, b := range network.Barriers() {
		all = append(all, barrier{b, b.DryDays(network.RunDaysOf(b.ID, f.site.Setting.RunDays))})
	}
	return all
}

// barrierOf is the water round an island, if it is known.
func (w *Window) barrierOf(id plan.ID) (barrier, bool) {
	o := w.outcomes.flow
	if !o.last() || o.value == nil {
		return barrier{}, false
	}
	i := slices.IndexFunc(o.value.barriers, func(b barrier) bool { return b.ID == id })
	if i < 0 {
		return barrier{}, false
	}
	return o.value.barriers[i], true
}

// barrierFacts say how the water round an island bars roots.
func (w *Window) barrierFacts(b barrier) []reading {
	if !b.Closed {
		return []reading{{tr("Water all round"), tr("no"), "root-barrier"}}
	}
	return []reading{
		{tr("Water round it, narrowest"), w.units.length(b.Narrowest), "root-barrier"},
		{tr("Water round it, shallowest"), w.units.length(b.Shallowest), "root-barrier"},
		{tr("It stands dry, days a year"), days(b.dry), "root-barrier"},
	}
}

// days writes a number of days, or from how few to how many.
func days(r geo.Range) string {
	if r.Low == r.High {
		return decimal(r.Low, 0)
	}
	return decimal(r.Low, 0) + "–" + decimal(r.High, 0)
}
