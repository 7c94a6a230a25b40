package report

import (
	"fmt"
	"math"
	"strings"

	"runnel/analysis/soakin"
	"runnel/geo"
)

// SoakBeside is what soaks in under one scheme, as schemes are laid side by side: of a
// mean year with the range of a year, in the design storm, and what it costs.
type SoakBeside struct {
	Basis    string       `json:"basis"`
	Draws    int          `json:"draws"`
	Soaked   BesideFigure `json:"soaked_in_m3"`
	Recharge BesideFigure `json:"recharge_potential_m3"`
	Draw     BesideFigure `json:"draw_m3"`
	Share    BesideFigure `json:"share_put_back"`
	Wet      BesideFigure `json:"days_under_water"`
	// Dry and Wettest are the share put back in the record's driest and wettest year.
	Dry      *YearShare        `json:"driest_year"`
	Wettest  *YearShare        `json:"wettest_year"`
	Storm    ThroughFigure     `json:"design_storm"`
	Cost     CostFigures       `json:"cost"`
	Withheld []WithheldFigures `json:"withheld"`

	empty geo.Range
}

// BesideFigure is a mean year's figure, its range from low to high, and how much more it
// is than as it is: sure where all but one in twenty draws agree on which is more.
type BesideFigure struct {
	Mean  Figure       `json:"mean_year"`
	Range RangeFigures `json:"year"`
	More  *MoreFigures `json:"more_than_as_it_is,omitempty"`
}

// MoreFigures is a difference, draw by draw.
type MoreFigures struct {
	RangeFigures
	Sure bool `json:"sure"`
}

// YearShare is the share put back in one year.
type YearShare struct {
	Year  int    `json:"year"`
	Share Figure `json:"share_put_back"`
}

// ThroughFigure is how the design storm goes through the channels, from soil that takes in
// the most to soil that takes in the least. Hours to empty are null where they are more
// than are looked at.
type ThroughFigure struct {
	Highest   RangeFigures `json:"highest_water_m"`
	Freeboard RangeFigures `json:"freeboard_m"`
	Empty     RangeFigures `json:"hours_to_empty"`
	Overflow  RangeFigures `json:"overflow_m3"`
}

// WithSoak adds what soaks in to the figures of the same schemes.
func (f Figures) WithSoak(columns []soakin.Column) Figures {
	f.Schemes = append([]SchemeFigures{}, f.Schemes...)
	for i, c := range columns {
		f.Schemes[i].Soak = soakBeside(c)
		if i > 0 {
			f.Schemes[i].Soak.over(c)
		}
		f.Schemes[i].Cautions = cautionsOf(c.Cautions)
	}
	return f
}

func soakBeside(c soakin.Column) *SoakBeside {
	mean, sp := c.Mean, c.Spread
	f := &SoakBeside{
		Basis: c.Basis.String(), Draws: sp.Draws,
		Soaked: BesideFigure{Mean: Figure(mean.Soaked), Range: rangeOf(sp.Soaked)}, Recharge: BesideFigure{Mean: Figure(mean.Recharge), Range: rangeOf(sp.Recharge)},
		Draw: BesideFigure{Mean: Figure(mean.Draw), Range: rangeOf(sp.Draw)}, Share: BesideFigure{Mean: Figure(mean.Share()), Range: rangeOf(sp.Share)},
		Wet:  BesideFigure{Mean: Figure(mean.WetDays), Range: rangeOf(sp.Wet)},
		Cost: CostFigures{c.Cost.Currency, Figure(c.Cost.Total), Figure(c.Cost.PerSoaked), rangeOf(c.PerMore)}, Withheld: []WithheldFigures{},
	}
	through, _ := c.Through()
	f.Storm = ThroughFigure{rangeOf(through.Highest), rangeOf(through.Freeboard), rangeOf(through.Empty), rangeOf(through.Overflow)}
	f.empty = through.Empty
	f.Dry, f.Wettest = yearShare(c.Dry), yearShare(c.Account.Wet)
	for _, w := range c.Withheld {
		f.Withheld = append(f.Withheld, WithheldFigures{w.What, w.Why})
	}
	return f
}

// over adds how much more it is than as it is.
func (s *SoakBeside) over(c soakin.Column) {
	s.Soaked.More, s.Recharge.More, s.Share.More = moreOf(c.MoreSoaked), moreOf(c.MoreRecharge), moreOf(c.MoreShare)
}

func moreOf(d soakin.Difference) *MoreFigures { return &MoreFigures{rangeOf(d.Range), d.Sure} }

func yearShare(y *soakin.Year) *YearShare {
	if y == nil {
		return nil
	}
	return &YearShare{y.Year, Figure(y.Share())}
}

// A soakRow is one of the table.
type soakRow struct {
	heading string
	of      func(*SoakBeside) string
}

// soakRows are what soaks in, a mean year's with the range of a year.
var soakRows = []soakRow{
	{"Soaked in [m³ a year]", func(s *SoakBeside) string { return s.Soaked.written(0) }},
	{"Recharge potential [m³ a year]", func(s *SoakBeside) string { return s.Recharge.written(0) }},
	{"  more than as it is", func(s *SoakBeside) string { return s.Recharge.more() }},
	{"Draw from the well [m³ a year]", func(s *SoakBeside) string { return s.Draw.written(0) }},
	{"Share put back [%]", func(s *SoakBeside) string { return s.Share.hundredfold().written(0) }},
	{"  in the driest year [%]", func(s *SoakBeside) string { return s.Dry.percent() }},
	{"  in the wettest year [%]", func(s *SoakBeside) string { return s.Wettest.percent() }},
	{"Under water [days a year]", func(s *SoakBeside) string { return s.Wet.written(0) }},
	{"Design storm, highest water [m]", func(s *SoakBeside) string { return s.Storm.Highest.between(2) }},
	{"  freeboard [m]", func(s *SoakBeside) string { return s.Storm.Freeboard.between(2) }},
	{"  empty after [h]", func(s *SoakBeside) string { return s.emptyAfter() }},
	{"  runs over [m³]", func(s *SoakBeside) string { return s.Storm.Overflow.between(1) }},
	{"Cost", func(s *SoakBeside) string { return s.Cost.written(s.Cost.Total, 0) }},
	{"  for each m³ a year", func(s *SoakBeside) string { return s.Cost.written(s.Cost.PerSoaked, 2) }},
}

func (f BesideFigure) hundredfold() BesideFigure {
	r := f.Range
	return BesideFigure{Mean: f.Mean * 100, Range: RangeFigures{r.Low * 100, r.Likely * 100, r.High * 100}}
}

// written writes the mean year's figure and the range of a year.
func (f BesideFigure) written(decimals int) string {
	if !f.Mean.known() || !f.Range.Likely.known() {
		return f.Mean.With(decimals)
	}
	return f.Range.around(f.Mean, decimals)
}

// more writes the difference, and whether it is sure.
func (f BesideFigure) more() string {
	if f.More == nil || !f.More.Likely.known() {
		return Figure(math.NaN()).With(0)
	}
	sure := ""
	if f.More.Sure {
		sure = ", sure"
	}
	return fmt.Sprintf("%s (%s to %s)%s", f.More.Likely.With(0), f.More.Low.With(0), f.More.High.With(0), sure)
}

// percent writes the share, and of which year.
func (y *YearShare) percent() string {
	if y == nil {
		return Figure(math.NaN()).With(0)
	}
	return fmt.Sprintf("%s in %d", (y.Share * 100).With(0), y.Year)
}

func (s *SoakBeside) emptyAfter() string {
	if math.IsNaN(s.empty.Likely) {
		return Figure(s.empty.Likely).With(1)
	}
	return hoursBetween(s.empty)
}

func (c CostFigures) written(v Figure, decimals int) string {
	if !v.known() || v == 0 {
		return Figure(math.NaN()).With(0)
	}
	return v.With(decimals) + " " + c.Currency
}

// writeSoak writes what soaks in under the schemes beside each other, and what is not told.
func writeSoak(b *strings.Builder, f Figures) {
	if len(f.Schemes) == 0 || f.Schemes[0].Soak == nil {
		return
	}
	head := []string{"What soaks in"}
	for _, s := range f.Schemes {
		head = append(head, s.Scheme)
	}
	cells := [][]string{head}
	for _, r := range soakRows {
		line := []string{r.heading}
		for _, s := range f.Schemes {
			line = append(line, r.of(s.Soak))
		}
		cells = append(cells, line)
	}
	fmt.Fprintf(b, "\n%s", align(cells))
	fmt.Fprintf(b, "A year's figures are the mean year's, and in brackets from the 5th to the 95th of a hundred of %d years drawn; the storm's range is from soil that takes in the most to soil that takes in the least. "+
		"A difference is sure where all but one in twenty draws of the same year, soil and wear agree on which is more.\n", f.Schemes[0].Soak.Draws)
	fmt.Fprintf(b, "%s\n%s\n", f.Schemes[0].Soak.Basis, soakNote)
	said := map[string]bool{}
	for _, s := range f.Schemes {
		for _, w := range s.Soak.Withheld {
			if !said[w.Why] {
				fmt.Fprintf(b, "Not told, %s: %s\n", w.What, sentence(w.Why))
			}
			said[w.Why] = true
		}
	}
}
