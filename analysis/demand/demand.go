package demand

import (
	"math"
	"time"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// Water is what plants need, what rain gives of it, the rest, and what has to be drawn
// for that rest as it is watered [m³].
type Water struct{ Crop, Effective, Net, Gross float64 }

// A Sum is over some time. Where it is not Known, what rests on the weather is NaN; of a
// year that the record does not cover everything is.
type Sum struct {
	// Rain and Reference, the reference evapotranspiration, are [mm].
	Rain, Reference float64
	Water
	// Household is what wells give beside the watering, Draw all that they give [m³].
	Household, Draw float64
	// Known is set where every day of that time has its rain and its temperature.
	Known bool
}

// A Month is one of the record, or the mean of that calendar month, whose Year is nought.
type Month struct {
	Year  int
	Month time.Month
	Sum
}

// A Year is a calendar year of the record, or the mean one, whose Year is nought.
type Year struct {
	Year int
	Sum
	// DryDraw is what wells give in its dry months [m³].
	DryDraw float64
}

// A Bed is a planting that is watered.
type Bed struct {
	Feature plan.ID
	Name    string
	// Crop has its coefficients as they are used; Adjusted is set where they follow the
	// wind and the humidity of the record and are not those of the table.
	Crop     Crop
	Adjusted bool
	// Starts is the month in which its growth starts, Area what it covers [m²].
	Starts time.Month
	Area   float64
	// Months go with those of the Demand, Mean with the calendar.
	Months []Water
	Mean   [12]Water
}

// A Demand is what a scheme draws. The zero Demand draws nothing.
type Demand struct {
	Beds []Bed
	// Household is what all wells give beside the watering, all year, and Measured what a
	// person knows that they give in dry months [m³/day]; that is NaN where nobody knows.
	Household, Measured float64
	// Efficiency is the share of the water that plants get.
	Efficiency float64
	Months     []Month
	Years      []Year
	// Mean is by calendar month, MeanYear its sum.
	Mean     [12]Month
	MeanYear Year
	// Dry are the calendar months in whose mean the reference is more than the rain.
	Dry [12]bool
}

// Of works out what a scheme draws, month by month of the site's record, whose reference
// evapotranspiration is et [mm/day]. A site without a record has wells alone. In dry months a measured
// draw stands in place of the watering that is worked out. What cannot be reckoned
// with is left out and listed; so are beds that overlap, but they count.
func Of(s *plan.Site, scheme plan.SchemeID, et []float64) (Demand, []channel.Problem) {
	if len(et) != len(s.Weather.Days) {
		panic("demand: the reference evapotranspiration is not that of the record")
	}
	var d Demand
	problems := d.plantBeds(s, scheme)
	problems = append(problems, d.sinkWells(s, scheme)...)
	var err error
	if d.Efficiency, err = Efficiency(s.Setting.Irrigation); err != nil {
		d.Efficiency = math.NaN()
		problems = append(problems, channel.Problem{Err: err})
	}
	spans := spansOf(s.Weather)
	for _, span := range spans {
		d.Months = append(d.Months, monthOf(s.Weather, span, et))
	}
	for i := range d.Beds {
		d.water(&d.Beds[i], s.Weather, et, spans)
	}
	d.findDryMonths()
	for i, span := range spans {
		d.draw(&d.Months[i], float64(span.to-span.from))
	}
	d.sumUp()
	return d, problems
}

// findDryMonths compares the means of rain and of the reference.
func (d *Demand) findDryMonths() {
	for i := range d.Dry {
		mean := d.meanOf(time.Month(i + 1))
		d.Dry[i] = mean.Reference > mean.Rain
	}
}

// draw adds up what wells give in some days of a month.
func (d *Demand) draw(m *Month, days float64) {
	m.Household = d.Household * days
	m.Draw = m.Household + m.Gross
	if math.IsNaN(d.Measured) {
		return
	}
	switch mean := d.meanOf(m.Month); {
	case !mean.Known: // nobody can say whether it is dry
		m.Draw = math.NaN()
	case d.Dry[m.Month-1]:
		m.Draw = m.Household + d.Measured*days
	}
}

// sinkWells adds up what is known of the wells.
func (d *Demand) sinkWells(s *plan.Site, scheme plan.SchemeID) (problems []channel.Problem) {
	d.Measured = math.NaN()
	for _, f := range s.Plan.Of(plan.Well, scheme) {
		if err := plan.Check(f); err != nil {
			problems = append(problems, channel.Problem{ID: f.ID, Err: err})
			continue
		}
		if v := f.Num("household"); known(v) {
			d.Household += v
		}
		if v := f.Num("draw"); known(v) {
			if math.IsNaN(d.Measured) {
				d.Measured = 0
			}
			d.Measured += v
		}
	}
	return problems
}
