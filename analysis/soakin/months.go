package soakin

import (
	"cmp"
	"math"
	"slices"
	"time"

	"runnel/analysis/demand"
	"runnel/analysis/season"
	"runnel/geo/weather"
)

// whole is how many days a year of the record has at least to be told.
const whole = 365

// gatherYears puts what soaked in beside what was drawn, for each whole year, and takes
// their mean.
func (a *Account) gatherYears() {
	demanded := a.demandByYear()
	for _, y := range a.Season.Years {
		if !a.tellable(y) {
			continue
		}
		w := a.waterOf(y.Sum)
		w.demanded(demanded[y.Year])
		w.RainDepth = y.RainDepth
		a.Years = append(a.Years, Year{y.Year, w})
	}
	a.Basis.Years = len(a.Years)
	if len(a.Years) == 0 {
		a.withhold("year", "The record has no year that is whole, from January to December, with rain and temperature on all but a week of its days, so no year is told; bring in a longer or a fuller record.")
		a.Mean.Water = unknownWater()
		return
	}
	a.Mean.Water = meanOf(a.Years, func(y Year) Water { return y.Water })
	if !a.Basis.Record {
		a.Mean.RainDepth = math.NaN()
		return
	}
	byRain := func(p, q Year) int { return cmp.Compare(p.RainDepth, q.RainDepth) }
	dry, wet := slices.MinFunc(a.Years, byRain), slices.MaxFunc(a.Years, byRain)
	a.Dry, a.Wet = &dry, &wet
}

// waterOf reads a sum of the season. Where a water is withheld nothing is known of all
// together, and where evaporation is not known neither is what of the soak-in is left.
func (a *Account) waterOf(s season.Sum) Water {
	if len(a.Setup.Pools.Withheld) > 0 {
		return unknownWater()
	}
	if !a.dries {
		s.Evaporated, s.Roots, s.Recharge = math.NaN(), math.NaN(), math.NaN()
	}
	return Water{
		Soaked: s.Soaked, Recharge: s.Recharge, Drain: s.Drain, Runoff: s.Runoff, Rain: s.Rain,
		Evaporated: s.Evaporated, Spilled: s.Spilled, RanBack: s.RanBack, Roots: s.Roots,
		WetDays: s.Wet, RunDays: s.Runs,
	}
}

// demanded sets what is drawn in a month or a year, of which nothing may be known.
func (w *Water) demanded(d *demand.Sum) {
	w.Irrigation, w.Household, w.Draw, w.Reference = math.NaN(), math.NaN(), math.NaN(), math.NaN()
	if d != nil {
		w.Irrigation, w.Household, w.Draw, w.Reference = d.Draw-d.Household, d.Household, d.Draw, d.Reference
	}
}

// demandByYear lists what each year draws, as far as that is known.
func (a *Account) demandByYear() map[int]*demand.Sum {
	by := map[int]*demand.Sum{}
	for i := range a.Demand.Years {
		if y := &a.Demand.Years[i]; y.Known {
			by[y.Year] = &y.Sum
		}
	}
	return by
}

// gatherMonths takes the mean of each calendar month over the years that are whole.
func (a *Account) gatherMonths(record weather.Record) {
	tellable := map[int]bool{}
	for _, y := range a.Season.Years {
		tellable[y.Year] = a.tellable(y)
	}
	type month struct {
		year int
		time.Month
	}
	demanded, rain := map[month]*demand.Sum{}, map[month]float64{}
	for i := range a.Demand.Months {
		if m := &a.Demand.Months[i]; m.Known {
			demanded[month{m.Year, m.Month}] = &m.Sum
		}
	}
	for i, d := range record.Days {
		y, m, _ := record.Date(i).Date()
		rain[month{y, m}] += d.Rain
	}
	by := make([][]Water, len(a.Months))
	for _, m := range a.Season.Months {
		if !tellable[m.Year] {
			continue
		}
		w := a.waterOf(m.Sum)
		w.demanded(demanded[month{m.Year, m.Month}])
		if w.RainDepth = math.NaN(); a.Basis.Record {
			w.RainDepth = rain[month{m.Year, m.Month}]
		}
		by[m.Month-time.January] = append(by[m.Month-time.January], w)
	}
	for i := range a.Months {
		a.Months[i] = Month{Month: i + 1, Water: meanOf(by[i], func(w Water) Water { return w })}
	}
}

// tellable reports whether a year is told: one of a record has to be whole.
func (a *Account) tellable(y season.YearSum) bool {
	return !a.Basis.Record || y.Days >= whole && y.Unknown == 0
}

// knowNothing has no figure of the year known but what is drawn.
func (a *Account) knowNothing() {
	a.Mean.Water = unknownWater()
	a.Mean.demandedIn(&a.Demand.MeanYear.Sum)
	for i := range a.Months {
		a.Months[i] = Month{i + 1, unknownWater()}
		a.Months[i].demandedIn(&a.Demand.Mean[i].Sum)
	}
	for _, y := range a.Demand.Years {
		if y.Known {
			a.Basis.Years++
		}
	}
}

// demandedIn sets what is drawn in the mean of a time, where that is known.
func (w *Water) demandedIn(d *demand.Sum) {
	if d.Known {
		w.demanded(d)
		w.RainDepth = d.Rain
	}
}

func unknownWater() Water {
	return meanOf([]Water(nil), func(w Water) Water { return w })
}

// meanOf returns the mean of waters, NaN where there are none; a figure that one does not
// know is left out of its mean.
func meanOf[T any](all []T, of func(T) Water) Water {
	var sum Water
	total := sum.fields()
	known := make([]float64, len(total))
	for _, one := range all {
		w := of(one)
		for i, v := range w.fields() {
			if !math.IsNaN(*v) {
				*total[i] += *v
				known[i]++
			}
		}
	}
	for i, v := range total {
		*v /= known[i]
	}
	return sum
}

// fields are where the figures of a Water stand.
func (w *Water) fields() []*float64 {
	return []*float64{
		&w.Soaked, &w.Recharge, &w.Drain, &w.Runoff, &w.Rain, &w.Evaporated, &w.Spilled, &w.RanBack, &w.Roots,
		&w.Irrigation, &w.Household, &w.Draw, &w.RainDepth, &w.Reference, &w.WetDays, &w.RunDays,
	}
}
