package action

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"runnel/app/groundwork"
	"runnel/app/report"
	"runnel/app/site"
	"runnel/geo/gdal"
	"runnel/geo/plan"
	"runnel/geo/weather"
)

// Weather brings a daily record into a site, or tells what the site has.
type Weather struct {
	Site string `arg:"" help:"The site (.gpkg)."`
	File string `arg:"" optional:"" help:"A daily record as delimited text; left out, what the site has is told."`

	WeatherColumns
	Order      string   `placeholder:"ORDER" help:"The order of the dates: ymd, dmy or mdy; left out, what the dates show."`
	Units      []string `sep:"none" placeholder:"UNIT" help:"A unit of the file, as inches, F or km/h, or as level=feet; may be given again."`
	WindHeight float64  `placeholder:"METRES" help:"How high above the ground wind was measured; 2 m if left out."`
	Latitude   *float64 `placeholder:"DEGREES" help:"Where it was measured; left out, the site's."`
	Elevation  *float64 `placeholder:"METRES" help:"How high above the sea it was measured; left out, the mean of the site's ground."`
	Name       string   `help:"Its name; left out, that of its file."`
	OnlyRead   bool     `help:"Read it and tell what was found; the site stays as it is."`
	JSON       bool     `help:"Write the figures as JSON."`
}

// WeatherColumns are what its columns are called, or their numbers from 1.
type WeatherColumns struct {
	Date         string `placeholder:"COLUMN" help:"The column of the date, by its name or its number from 1."`
	Year         string `placeholder:"COLUMN" help:"The year, where it has a column of its own."`
	Month        string `placeholder:"COLUMN" help:"The month, where it has a column of its own."`
	Day          string `placeholder:"COLUMN" help:"The day of the month, where it has a column of its own."`
	DayOfYear    string `placeholder:"COLUMN" help:"The day of the year, from 1."`
	Rain         string `placeholder:"COLUMN" help:"Rain; none for no column, as with all of these."`
	Low          string `placeholder:"COLUMN" help:"The least temperature."`
	High         string `placeholder:"COLUMN" help:"The greatest temperature."`
	Humidity     string `placeholder:"COLUMN" help:"The mean relative humidity."`
	HumidityLow  string `placeholder:"COLUMN" help:"The least relative humidity."`
	HumidityHigh string `placeholder:"COLUMN" help:"The greatest relative humidity."`
	Wind         string `placeholder:"COLUMN" help:"The mean wind."`
	Sun          string `placeholder:"COLUMN" help:"The hours of bright sunshine."`
	Radiation    string `placeholder:"COLUMN" help:"The radiation of the sun."`
	Level        string `placeholder:"COLUMN" help:"The level of the drain's water."`
}

// Help tells what is read.
func (v *Weather) Help() string {
	return `Columns, units and the order of dates are guessed, and the guess is told with its
reasons. Every day of the calendar from the first to the last becomes a day of the
record. A figure that is missing, impossible or stands for none is not known; it is
never taken for nought. All that was found is told with its rows, which are the lines of the file.`
}

// dateOrders are the orders that can be typed.
var dateOrders = map[string]weather.DateOrder{"ymd": weather.YearMonthDay, "dmy": weather.DayMonthYear, "mdy": weather.MonthDayYear}

// Run reads the record and saves it with the site.
func (v *Weather) Run(ctx context.Context, s Streams) error {
	if _, known := dateOrders[strings.ToLower(v.Order)]; v.Order != "" && !known {
		return mistyped("--order is %q; give ymd, dmy or mdy", v.Order)
	}
	units, err := v.units()
	if err != nil {
		return err
	}
	held, err := s.In.Site(ctx, v.Site)
	if err != nil {
		return err
	}
	if v.File == "" {
		return v.tell(s, report.OfWeather(held.Weather, nil, nil))
	}
	look, err := weather.LookAt(v.File)
	if err != nil {
		return err
	}
	if err := v.settle(&look, units); err != nil {
		return err
	}
	record, found, err := weather.Read(ctx, v.File, look)
	if err != nil {
		return err
	}
	if record, err = v.place(held, record); err != nil {
		return err
	}
	if !v.OnlyRead {
		if err := (&site.SetWeather{Record: record}).Apply(held); err != nil && !site.Unchanged(err) {
			return err
		}
		if err := gdal.SaveSite(v.Site, held); err != nil {
			return err
		}
	}
	return v.tell(s, report.OfWeather(record, look.Why, found.Findings))
}

func (v *Weather) tell(s Streams, f report.WeatherFigures) error {
	if formOf(v.JSON) == asJSON {
		return f.WriteJSON(s.Out)
	}
	return f.WriteTable(s.Out)
}

// place says where the record was measured.
func (v *Weather) place(held *plan.Site, record weather.Record) (weather.Record, error) {
	if v.Latitude != nil {
		record.Latitude = *v.Latitude
	}
	if v.Elevation != nil {
		record.Elevation = *v.Elevation
	}
	if name := strings.TrimSpace(v.Name); name != "" {
		record.Name = name
	}
	record, err := groundwork.Placed(held, record)
	if err != nil {
		return record, err
	}
	return record, record.Check()
}

// units reads the units that are typed.
func (v *Weather) units() (weather.Units, error) {
	var units weather.Units
	for _, typed := range v.Units {
		of, unit, named := strings.Cut(typed, "=")
		if !named {
			of, unit = "", typed
		}
		set := false
		for _, q := range weather.Quantities() {
			if of = strings.TrimSpace(of); named && q.Name != of && q.Name != of+"_low" && !(of == "temperature" && q.Name == "low") {
				continue
			}
			known, err := q.UnitNamed(unit)
			if err == nil && (named || q.Name != "level") { // the levels' units are those of many things
				*q.Unit(&units), set = known, true
			} else if named {
				return units, mistyped("--units has %q: %v", typed, err)
			}
		}
		if !set {
			return units, mistyped("--units has %q; give a unit as inches, F or km/h, or what is in it too, as level=feet; %s", typed, unitList())
		}
	}
	return units, nil
}

func unitList() string {
	var all []string
	for _, q := range weather.Quantities() {
		all = append(all, q.Name+": "+strings.Join(q.Units, " "))
	}
	return strings.Join(all, ", ")
}

// noColumn says that a figure has no column.
const noColumn = "none"

// settle puts what was typed in the place of what was guessed.
func (v *Weather) settle(look *weather.Look, units weather.Units) error {
	if err := v.settleColumns(look); err != nil {
		return err
	}
	for _, q := range weather.Quantities() {
		if unit := *q.Unit(&units); unit != "" {
			*q.Unit(&look.Units) = unit
		}
	}
	look.FindUnits()
	look.WindHeight = v.WindHeight
	return v.settleOrder(look)
}

// settleColumns takes the columns that were typed; their units are to be found anew.
func (v *Weather) settleColumns(look *weather.Look) error {
	fields := len(look.Header)
	for _, row := range look.First {
		fields = max(fields, len(row))
	}
	guessed, c := look.Columns, &look.Columns
	if v.Date != "" {
		c.Year, c.Month, c.Day, c.OfYear = -1, -1, -1, -1
	} else if v.Year != "" {
		c.Date = -1
	}
	for _, column := range v.typed(c) {
		at, err := -1, error(nil)
		if column.typed != noColumn && column.typed != "" {
			at, err = columnNamed(column.typed, look.Header, fields)
		}
		if err != nil {
			return err
		}
		for _, to := range column.to {
			if column.typed != "" {
				*to = at
			}
		}
	}
	for _, q := range weather.Quantities() {
		if *q.Column(c) != *q.Column(&guessed) {
			*q.Unit(&look.Units) = ""
		}
	}
	return nil
}

// A typedColumn is a column as it was typed, with all that it stands for.
type typedColumn struct {
	typed string
	to    []*int
}

func (v *WeatherColumns) typed(c *weather.Columns) []typedColumn {
	return []typedColumn{
		{v.Date, []*int{&c.Date}}, {v.Year, []*int{&c.Year}}, {v.Month, []*int{&c.Month}}, {v.Day, []*int{&c.Day}}, {v.DayOfYear, []*int{&c.OfYear}},
		{v.Rain, []*int{&c.Rain}}, {v.Low, []*int{&c.Low}}, {v.High, []*int{&c.High}}, {v.Humidity, []*int{&c.DampLow, &c.DampHigh}},
		{v.HumidityLow, []*int{&c.DampLow}}, {v.HumidityHigh, []*int{&c.DampHigh}}, {v.Wind, []*int{&c.Wind}}, {v.Sun, []*int{&c.Sun}},
		{v.Radiation, []*int{&c.Radiation}}, {v.Level, []*int{&c.Level}},
	}
}

// settleOrder takes the order that was typed, or finds that of another column of dates.
func (v *Weather) settleOrder(look *weather.Look) error {
	switch {
	case v.Order != "":
		look.Order = dateOrders[strings.ToLower(v.Order)]
	case v.Date != "" && look.Columns.Date >= 0:
		look.FindOrder()
	}
	if math.IsNaN(look.WindHeight) || look.WindHeight < 0 {
		return mistyped("--wind-height is %g; give metres above the ground", look.WindHeight)
	}
	if slices.Contains([]string{v.Date, v.Year}, noColumn) {
		return mistyped("the date is needed; give its column")
	}
	if err := look.Columns.Check(); err != nil {
		return fmt.Errorf("%w; columns are named by --date, --rain and the like", err)
	}
	return nil
}
