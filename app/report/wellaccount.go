package report

import (
	"fmt"
	"io"
	"strings"
	"time"

	"runnel/analysis/sampling"
	"runnel/analysis/soakin"
	"runnel/geo/plan"
)

// AccountFigures are what a scheme puts back beside what the well gives up.
type AccountFigures struct {
	Draws    int           `json:"draws"`
	Soaked   RangeFigures  `json:"soaked_in_m3"`
	Recharge RangeFigures  `json:"recharge_potential_m3"`
	Draw     RangeFigures  `json:"draw_m3"`
	Share    RangeFigures  `json:"share_put_back"`
	Wet      RangeFigures  `json:"days_under_water"`
	Mean     WaterFigures  `json:"mean_year"`
	Dry      *YearRange    `json:"driest_year"`
	Wettest  *YearRange    `json:"wettest_year"`
	Months   []MonthFigure `json:"months"`
	// Causes list what the spread of the recharge comes from, the greatest first.
	Causes []CauseFigure `json:"spread_comes_from"`
	Rises  []RiseFigure  `json:"groundwater"`
	Cost   CostFigures   `json:"cost"`
}

// YearRange is a year of the record, and between what it may lie if it comes again.
type YearRange struct {
	YearFigure
	Between      RangeFigures `json:"recharge_potential_m3_range"`
	ShareBetween RangeFigures `json:"share_put_back_range"`
}

// CauseFigure is one input, and its share of the spread.
type CauseFigure struct {
	Name  string `json:"name"`
	Share Figure `json:"share"`
}

// RiseFigure is how the water table rises at one place.
type RiseFigure struct {
	Name string `json:"name"`
	Kind string `json:"kind"`
	Peak Figure `json:"greatest_rise_m"`
	// Between is the range of the greatest rise.
	Between RangeFigures `json:"greatest_rise_m_range"`
	Below   Figure       `json:"stays_below_floor_m"`
}

// CostFigures are what it costs.
type CostFigures struct {
	Currency string `json:"currency"`
	Total    Figure `json:"total"`
	// PerSoaked is for each m³ a year that is put back over the site as it is, Between its range.
	PerSoaked Figure       `json:"per_m3_a_year"`
	Between   RangeFigures `json:"per_m3_a_year_range"`
}

// Accounts are the well's account under the schemes of a site.
type Accounts struct{ SoakFigures[AccountFigures] }

// NewAccounts gathers them from columns of one site.
func NewAccounts(s *plan.Site, columns []soakin.Column) Accounts {
	var accounts []*soakin.Account
	of := map[plan.SchemeID]soakin.Column{}
	for _, c := range columns {
		accounts = append(accounts, c.Account)
		of[c.Scheme] = c
	}
	return Accounts{newSoak(s, accounts, func(a *soakin.Account) AccountFigures { return accountOf(of[a.Scheme]) })}
}

func accountOf(c soakin.Column) AccountFigures {
	a, sp, per := c.Account, c.Spread, c.PerMore
	f := AccountFigures{
		Draws: sp.Draws, Soaked: rangeOf(sp.Soaked), Recharge: rangeOf(sp.Recharge), Draw: rangeOf(sp.Draw), Share: rangeOf(sp.Share), Wet: rangeOf(sp.Wet),
		Mean: waterOf(a.Mean.Water), Months: []MonthFigure{}, Causes: causesOf(sp.RechargeCauses), Rises: []RiseFigure{},
		Cost: CostFigures{a.Cost.Currency, Figure(a.Cost.Total), Figure(a.Cost.PerSoaked), rangeOf(per)},
	}
	for _, y := range []struct {
		from *soakin.Year
		to   **YearRange
	}{{a.Dry, &f.Dry}, {a.Wet, &f.Wettest}} {
		if y.from != nil {
			within := sp.OfYear(y.from.Year)
			*y.to = &YearRange{YearFigure{y.from.Year, waterOf(y.from.Water)}, rangeOf(within.Recharge), rangeOf(within.Share)}
		}
	}
	for _, m := range a.Months {
		f.Months = append(f.Months, MonthFigure{time.Month(m.Month).String(), waterOf(m.Water)})
	}
	for i, r := range a.Rises {
		f.Rises = append(f.Rises, RiseFigure{r.Place.Title(), r.Place.Kind.String(), Figure(r.Peak), rangeOf(sp.Rises[i]), Figure(r.Below)})
	}
	return f
}

// causesOf lists what has any part in a spread, and the rest.
func causesOf(r sampling.Ranking) []CauseFigure {
	const least = 0.0005 // which the decimals do not show
	all := []CauseFigure{}
	for _, c := range r.Causes {
		if c.Share >= least {
			all = append(all, CauseFigure{c.Name, Figure(c.Share)})
		}
	}
	if len(r.Causes) > 0 {
		all = append(all, CauseFigure{"together, and not told apart", Figure(r.Rest)})
	}
	return all
}

// WriteTable writes the accounts for a person.
func (f Accounts) WriteTable(w io.Writer) error {
	return f.writeTable(w, func(b *strings.Builder, s AccountFigures) {
		fmt.Fprintf(b, "In a mean year, and in brackets from the 5th to the 95th of a hundred of %d years drawn:\n", s.Draws)
		b.WriteString(align([][]string{
			{"  soaked in [m³]", s.Soaked.between(0)},
			{"  recharge potential [m³]", s.Recharge.between(0)},
			{"  draw from the well [m³]", s.Draw.between(0)},
			{"  share put back", s.Share.percentBetween()},
			{"  days under water", s.Wet.between(0)},
		}))
		for _, y := range []struct {
			name string
			of   *YearRange
		}{{"driest", s.Dry}, {"wettest", s.Wettest}} {
			if y.of != nil && y.of.Recharge.known() {
				fmt.Fprintf(b, "In the %s year, %d with %s mm of rain, %s m³ are put back, %s of what is drawn.\n",
					y.name, y.of.Year, y.of.Rain.With(0), y.of.Between.between(0), y.of.ShareBetween.percentBetween())
			}
		}
		b.WriteString(align(accountCells(s)))
		writeRest(b, s)
	})
}

// writeRest writes what the spread comes from, the groundwater and the cost.
func writeRest(b *strings.Builder, s AccountFigures) {
	if len(s.Causes) > 1 {
		b.WriteString("What the spread of the recharge comes from, the greatest first. Measure next what stands first; the weather no one can.\n")
		for _, c := range s.Causes {
			fmt.Fprintf(b, "  %s %s\n", c.Share.percent(), c.Name)
		}
	}
	for _, r := range s.Rises {
		fmt.Fprintf(b, "The groundwater rises by %s m at %s", r.Between.between(2), r.Name)
		if r.Below.known() {
			fmt.Fprintf(b, ", and stays %s m below its floor", r.Below.With(2))
		}
		b.WriteString(".\n")
	}
	if s.Cost.Total.known() && s.Cost.Total > 0 {
		fmt.Fprintf(b, "It costs %s %s", s.Cost.Total.With(0), s.Cost.Currency)
		if s.Cost.PerSoaked.known() {
			fmt.Fprintf(b, ", %s for each m³ a year that is put back over the site as it is", s.Cost.PerSoaked.With(2))
		}
		b.WriteString(".\n")
	}
}

func accountCells(s AccountFigures) [][]string {
	cells := [][]string{{"A mean year, month by month", "rain [mm]", "reference ET [mm]", "soaked in [m³]", "recharge [m³]", "irrigation [m³]", "other draw [m³]", "draw [m³]"}}
	row := func(name string, w WaterFigures) {
		cells = append(cells, []string{"  " + name, w.Rain.With(0), w.Reference.With(0), w.Soaked.With(1), w.Recharge.With(1), w.Irrigation.With(1), w.Household.With(1), w.Draw.With(1)})
	}
	for _, m := range s.Months {
		row(m.Month, m.WaterFigures)
	}
	row("the year", s.Mean)
	return cells
}
