package soakin

import (
	"math"

	"runnel/analysis/earthwork"
	"runnel/geo/plan"
)

// A Cost is what digging and building a scheme costs, by the site's own prices.
type Cost struct {
	Currency string
	Items    []Item
	// Total is NaN where a price is not set that it needs, PerSoaked Total for each m³ a year that is put back
	// over what the site as it is puts back in a mean year; NaN where it is no more.
	Total, PerSoaked float64
}

// An Item is so much of something at a price each, NaN where that is not set.
type Item struct {
	What, Unit        string
	Amount, Each, Sum float64
}

// price works the cost out.
func (a *Account) price(s *plan.Site) {
	costs, m := s.Setting.Costs, a.Setup.Measured
	a.Cost = Cost{Currency: costs.Currency, PerSoaked: math.NaN()}
	left := max(0, m.Cut-m.Fill/earthwork.ChangeOf(s.Setting.Soil).Compacted)
	count := func(k plan.Kind) float64 { return float64(len(own(s, a.Scheme, k))) }
	a.Cost.Items = []Item{
		{What: "digging", Unit: "m³", Amount: m.Cut, Each: costs.Cut},
		{What: "filling", Unit: "m³", Amount: m.Fill, Each: costs.Fill},
		{What: "taking spoil off", Unit: "m³", Amount: left, Each: costs.Haul},
		{What: "sills", Amount: count(plan.Sill), Each: costs.Sill},
		{What: "spillways", Amount: count(plan.Spillway), Each: costs.Spillway},
		{What: "crossings", Amount: count(plan.Crossing), Each: costs.Crossing},
	}
	for i := range a.Cost.Items {
		it := &a.Cost.Items[i]
		if it.Each == 0 {
			it.Each = math.NaN()
		}
		if it.Sum = it.Amount * it.Each; it.Amount == 0 {
			it.Sum = 0
		}
		a.Cost.Total += it.Sum
	}
	if math.IsNaN(a.Cost.Total) {
		a.withhold("cost", "The prices of digging and building are not all set, so no cost is told; set those that the scheme needs.")
		return
	}
}

// Against sets what each m³ more costs, over the first of some accounts of one site, which
// is that of the site as it is.
func Against(accounts []*Account) {
	for _, a := range accounts[1:] {
		per := math.NaN()
		if more := a.Mean.Recharge - accounts[0].Mean.Recharge; more > 0 {
			per = a.Cost.Total / more
		}
		if a.Cost.PerSoaked != per && !(math.IsNaN(per) && math.IsNaN(a.Cost.PerSoaked)) {
			a.Cost.PerSoaked = per
		}
	}
}

// own lists what a scheme itself draws of a kind.
func own(s *plan.Site, scheme plan.SchemeID, k plan.Kind) []plan.Feature {
	var list []plan.Feature
	for _, f := range s.Plan.Of(k, scheme) {
		if f.Scheme == scheme && scheme != plan.AsItIs {
			list = append(list, f)
		}
	}
	return list
}
