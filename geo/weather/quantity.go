package weather

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Columns are the places of what is read in a row, counted from 0; -1 is none. A day is
// given by Date, by Year, Month and Day, or by Year and OfYear, its number in the year.
type Columns struct {
	Date, Year, Month, Day, OfYear int
	Rain, Low, High                int
	// DampLow and DampHigh are one column where there is one mean.
	DampLow, DampHigh           int
	Wind, Sun, Radiation, Level int
}

// None names no column.
var None = Columns{-1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1}

// Units are those that a file's figures are in; empty is the first of each quantity.
type Units struct{ Rain, Temperature, Humidity, Wind, Sun, Radiation, Level string }

// A Quantity is one of the figures of a day.
type Quantity struct {
	// Name stands on the command line, Label is for people.
	Name, Label string
	// Units are what its figures may be in, the record's own first.
	Units []string
	// Column is where it stands in a row, Unit what it is in, Of where it stands in a Day.
	Column func(*Columns) *int
	Unit   func(*Units) *string
	Of     func(*Day) *float64

	scales    []scale
	low, high float64 // no place has had less or more
}

// A scale brings a unit to the record's own: v·by + plus.
type scale struct{ by, plus float64 }

const foot, knot = 0.3048, 1852.0 / 3600

// The units that are guessed by figures.
const (
	inches              = "inches"
	tenthsOfMillimetres = "tenths of mm"
	fahrenheit          = "°F"
	tenthsOfDegrees     = "tenths of °C"
)

// The limits are a little beyond the extremes that the WMO's archive of weather and
// climate extremes lists (from memory: 1825 mm in a day; -89.2 and 56.7 °C), and beyond
// what the sun gives above the air (from memory: 45 MJ/m² a day at the most).
var quantities = []Quantity{
	{Name: "rain", Label: "Rain", Units: []string{"mm", inches, tenthsOfMillimetres, "cm"}, scales: []scale{{1, 0}, {25.4, 0}, {0.1, 0}, {10, 0}},
		Column: func(c *Columns) *int { return &c.Rain }, Unit: func(u *Units) *string { return &u.Rain },
		Of: func(d *Day) *float64 { return &d.Rain }, low: 0, high: 1850},
	{Name: "low", Label: "Least temperature", Units: degrees, scales: degreeScales,
		Column: func(c *Columns) *int { return &c.Low }, Unit: func(u *Units) *string { return &u.Temperature },
		Of: func(d *Day) *float64 { return &d.Low }, low: -90, high: 60},
	{Name: "high", Label: "Greatest temperature", Units: degrees, scales: degreeScales,
		Column: func(c *Columns) *int { return &c.High }, Unit: func(u *Units) *string { return &u.Temperature },
		Of: func(d *Day) *float64 { return &d.High }, low: -90, high: 60},
	{Name: "humidity_low", Label: "Least humidity", Units: []string{"%", "share"}, scales: []scale{{1, 0}, {100, 0}},
		Column: func(c *Columns) *int { return &c.DampLow }, Unit: func(u *Units) *string { return &u.Humidity },
		Of: func(d *Day) *float64 { return &d.DampLow }, low: 0, high: 100},
	{Name: "humidity_high", Label: "Greatest humidity", Units: []string{"%", "share"}, scales: []scale{{1, 0}, {100, 0}},
		Column: func(c *Columns) *int { return &c.DampHigh }, Unit: func(u *Units) *string { return &u.Humidity },
		Of: func(d *Day) *float64 { return &d.DampHigh }, low: 0, high: 100},
	{Name: "wind", Label: "Mean wind", Units: []string{"m/s", "km/h", "mph", "knots", "tenths of m/s"},
		scales: []scale{{1, 0}, {1 / 3.6, 0}, {5280 * foot / 3600, 0}, {knot, 0}, {0.1, 0}},
		Column: func(c *Columns) *int { return &c.Wind }, Unit: func(u *Units) *string { return &u.Wind },
		Of: func(d *Day) *float64 { return &d.Wind }, low: 0, high: 100},
	{Name: "sun", Label: "Hours of sunshine", Units: []string{"h", "min", "s", "tenths of h"},
		scales: []scale{{1, 0}, {1.0 / 60, 0}, {1.0 / 3600, 0}, {0.1, 0}},
		Column: func(c *Columns) *int { return &c.Sun }, Unit: func(u *Units) *string { return &u.Sun },
		Of: func(d *Day) *float64 { return &d.Sun }, low: 0, high: 24},
	{Name: "radiation", Label: "Radiation of the sun", Units: []string{"MJ/m²", "W/m²", "kWh/m²", "J/cm²"},
		scales: []scale{{1, 0}, {0.0864, 0}, {3.6, 0}, {0.01, 0}},
		Column: func(c *Columns) *int { return &c.Radiation }, Unit: func(u *Units) *string { return &u.Radiation },
		Of: func(d *Day) *float64 { return &d.Radiation }, low: 0, high: 50},
	{Name: "level", Label: "Level of the drain's water", Units: []string{"m", "feet", "cm"}, scales: []scale{{1, 0}, {foot, 0}, {0.01, 0}},
		Column: func(c *Columns) *int { return &c.Level }, Unit: func(u *Units) *string { return &u.Level },
		Of: func(d *Day) *float64 { return &d.Level }, low: -500, high: 9000},
}

var (
	degrees      = []string{"°C", fahrenheit, tenthsOfDegrees, "K"}
	degreeScales = []scale{{1, 0}, {5.0 / 9, -32 * 5.0 / 9}, {0.1, 0}, {1, -273.15}}
)

// The places of some quantities in their list.
const rainAt, lowAt, highAt, windAt = 0, 1, 2, 5

// Quantities lists the figures that a day may have.
func Quantities() []Quantity { return slices.Clone(quantities) }

// UnitNamed returns the name of a unit of q that a person typed.
func (q Quantity) UnitNamed(typed string) (string, error) {
	plain := func(s string) string {
		return strings.NewReplacer("°", "", "²", "2", " ", "", "_", "", "-", "").Replace(strings.ToLower(strings.TrimSpace(s)))
	}
	for i, unit := range q.Units {
		if plain(typed) == plain(unit) || plain(typed) == "inch" && unit == "inches" || i > 0 && plain(typed) == "ft" && unit == "feet" {
			return unit, nil
		}
	}
	return "", fmt.Errorf("%q is no unit of %s; give one of: %s", typed, strings.ToLower(q.Label), strings.Join(q.Units, ", "))
}

// scaleOf returns what brings q's figures to the record's own unit.
func (q Quantity) scaleOf(u Units) (scale, error) {
	unit := *q.Unit(&u)
	if unit == "" {
		return q.scales[0], nil
	}
	if i := slices.Index(q.Units, unit); i >= 0 {
		return q.scales[i], nil
	}
	_, err := q.UnitNamed(unit)
	if err == nil {
		err = fmt.Errorf("the unit %q is not written as it should be; give one of: %s", unit, strings.Join(q.Units, ", "))
	}
	return scale{}, err
}

// blank is a day of which nothing is known.
func blank() Day {
	none := math.NaN()
	return Day{none, none, none, none, none, none, none, none, none}
}

// Unknown returns so many days of which nothing is known.
func Unknown(days int) []Day {
	all := make([]Day, days)
	for i := range all {
		all[i] = blank()
	}
	return all
}

// Check reports columns by which no record can be read.
func (c Columns) Check() error {
	whole := c.Year >= 0 && (c.Month >= 0 && c.Day >= 0 || c.OfYear >= 0)
	if c.Date < 0 && !whole {
		return fmt.Errorf("no column is taken for the date; say which it is, or which are the year, the month and the day")
	}
	some := false
	taken := map[int]string{}
	for _, q := range quantities {
		at := *q.Column(&c)
		if at < 0 {
			continue
		}
		some = true
		if other, ok := taken[at]; ok && !(at == c.DampLow && at == c.DampHigh) {
			return fmt.Errorf("column %d is taken for both %s and %s; choose another for one of them", at+1, other, strings.ToLower(q.Label))
		}
		taken[at] = strings.ToLower(q.Label)
	}
	for _, at := range c.dates() {
		if other, ok := taken[at]; ok {
			return fmt.Errorf("column %d is taken for both %s and the date; choose another for one of them", at+1, other)
		}
	}
	if !some {
		return fmt.Errorf("no column is taken for rain, nor for anything else; say which it is")
	}
	return nil
}

// dates are the columns that say the day.
func (c Columns) dates() []int {
	switch {
	case c.Date >= 0:
		return []int{c.Date}
	case c.Month >= 0 && c.Day >= 0:
		return []int{c.Year, c.Month, c.Day}
	}
	return []int{c.Year, c.OfYear}
}
