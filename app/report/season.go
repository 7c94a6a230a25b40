package report

import (
	"fmt"
	"io"
	"strings"
	"time"

	"runnel/analysis/season"
	"runnel/analysis/soakin"
	"runnel/geo/plan"
)

// SeasonFigures are what a season comes to: the mean year, its months, each year of the record,
// and each pool.
type SeasonFigures struct {
	Mean   WaterFigures  `json:"mean_year"`
	Months []MonthFigure `json:"months"`
	Years  []YearFigure  `json:"years"`
	Pools  []PoolSeason  `json:"pools"`
}

// MonthFigure is a month of the mean year.
type MonthFigure struct {
	Month string `json:"month"`
	WaterFigures
}

// YearFigure is a year of the record.
type YearFigure struct {
	Year int `json:"year"`
	WaterFigures
}

// PoolSeason is a pool's mean year.
type PoolSeason struct {
	Name     string `json:"name"`
	Soaked   Figure `json:"soaked_in_m3"`
	Early    Figure `json:"of_it_early_m3"`
	Recharge Figure `json:"recharge_potential_m3"`
	WetDays  Figure `json:"days_under_water"`
	// Limited is on how many days groundwater holds the soaking back.
	Limited Figure `json:"days_held_back_by_groundwater"`
}

// Seasons are the seasons of a site's schemes.
type Seasons struct{ SoakFigures[SeasonFigures] }

// NewSeasons gathers them.
func NewSeasons(s *plan.Site, accounts []*soakin.Account) Seasons {
	return Seasons{newSoak(s, accounts, seasonOf)}
}

func seasonOf(a *soakin.Account) SeasonFigures {
	f := SeasonFigures{Mean: waterOf(a.Mean.Water), Months: []MonthFigure{}, Years: []YearFigure{}, Pools: []PoolSeason{}}
	for _, m := range a.Months {
		f.Months = append(f.Months, MonthFigure{time.Month(m.Month).String(), waterOf(m.Water)})
	}
	if a.Basis.Record {
		for _, y := range a.Years {
			f.Years = append(f.Years, YearFigure{y.Year, waterOf(y.Water)})
		}
	}
	years := yearsOf(a.Season)
	for i, sum := range a.Season.Pools {
		f.Pools = append(f.Pools, PoolSeason{
			a.Setup.Pools.Pools[i].Title, Figure(sum.Soaked / years), Figure(sum.Early / years), Figure(sum.Recharge / years),
			Figure(sum.Wet / years), Figure(sum.Limited / years),
		})
	}
	return f
}

// yearsOf is how many years a season runs for.
func yearsOf(r season.Result) float64 {
	days := 0
	for _, y := range r.Years {
		days += y.Days
	}
	const daysInYear = 365.25
	return max(1, float64(days)) / daysInYear
}

// WriteTable writes the seasons for a person.
func (f Seasons) WriteTable(w io.Writer) error {
	return f.writeTable(w, func(b *strings.Builder, s SeasonFigures) {
		cells := [][]string{{"A mean year [m³]", "soaked in", "recharge", "from drains", "runoff", "rain on it", "evaporated", "overflow", "ran back", "roots", "wet [days]", "drain runs [days]", "rain [mm]"}}
		row := func(name string, w WaterFigures) {
			cells = append(cells, []string{
				name, w.Soaked.With(1), w.Recharge.With(1), w.Drain.With(1), w.Runoff.With(1), w.Fallen.With(1), w.Evaporated.With(1),
				w.Spilled.With(1), w.RanBack.With(1), w.Roots.With(1), w.WetDays.With(1), w.RunDays.With(1), w.Rain.With(0),
			})
		}
		for _, m := range s.Months {
			row("  "+m.Month, m.WaterFigures)
		}
		row("  the year", s.Mean)
		for _, y := range s.Years {
			row(fmt.Sprintf("  %d", y.Year), y.WaterFigures)
		}
		b.WriteString(align(cells))
		pools := [][]string{{"Each pool, a mean year", "soaked in [m³]", "early [m³]", "recharge [m³]", "wet [days]", "held back by groundwater [days]"}}
		for _, p := range s.Pools {
			pools = append(pools, []string{"  " + p.Name, p.Soaked.With(1), p.Early.With(1), p.Recharge.With(1), p.WetDays.With(1), p.Limited.With(1)})
		}
		b.WriteString(align(pools))
	})
}
