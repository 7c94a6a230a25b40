package report

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"runnel/geo/weather"
)

// WeatherFigures are a daily record and what was found in its file, as they are written.
type WeatherFigures struct {
	Name   string `json:"name"`
	Source string `json:"source"`
	First  string `json:"first_day"`
	Last   string `json:"last_day"`
	Days   int    `json:"days"`
	// Latitude and the others are null where they are not known.
	Latitude   Figure            `json:"latitude_deg"`
	Elevation  Figure            `json:"elevation_m"`
	WindHeight Figure            `json:"wind_height_m"`
	Quantities []QuantityFigures `json:"quantities"`
	Years      []YearRain        `json:"years"`
	// Reading is what was taken for what and why, Findings what was wrong.
	Reading  []string `json:"reading"`
	Findings []string `json:"findings"`
}

// QuantityFigures are one figure of the days.
type QuantityFigures struct {
	Name  string `json:"name"`
	Label string `json:"label"`
	Unit  string `json:"unit"`
	// Known is on how many days it is known, Mean its mean over them.
	Known    int    `json:"days_known"`
	Mean     Figure `json:"mean"`
	Least    Figure `json:"least"`
	Greatest Figure `json:"greatest"`
}

// YearRain is the rain of a year of the calendar.
type YearRain struct {
	Year int    `json:"year"`
	Days int    `json:"days_known"`
	Rain Figure `json:"rain_mm"`
}

// usualWindHeight is how high above the ground wind is taken to be measured [m].
const usualWindHeight = 2

// OfWeather gathers what is told of a record. Why and found are empty where it was not
// read from a file just now.
func OfWeather(r weather.Record, why, found []string) WeatherFigures {
	f := WeatherFigures{
		Name: r.Name, Source: r.Source, Days: len(r.Days), Latitude: Figure(r.Latitude), Elevation: Figure(r.Elevation),
		WindHeight: Figure(r.WindHeight), Reading: append([]string{}, why...), Findings: append([]string{}, found...),
		Quantities: []QuantityFigures{}, Years: []YearRain{},
	}
	if r.Empty() {
		return f
	}
	if r.WindHeight == 0 {
		f.WindHeight = usualWindHeight
	}
	f.First, f.Last = r.First.Format(time.DateOnly), r.Date(len(r.Days)-1).Format(time.DateOnly)
	for _, q := range weather.Quantities() {
		if mean, known := r.Mean(q.Of); known > 0 {
			row := QuantityFigures{Name: q.Name, Label: q.Label, Unit: q.Units[0], Known: known, Mean: Figure(mean)}
			least, greatest := math.Inf(1), math.Inf(-1)
			for i := range r.Days {
				if v := *q.Of(&r.Days[i]); !math.IsNaN(v) {
					least, greatest = min(least, v), max(greatest, v)
				}
			}
			row.Least, row.Greatest = Figure(least), Figure(greatest)
			f.Quantities = append(f.Quantities, row)
		}
	}
	f.Years = rainOfYears(r)
	return f
}

// rainOfYears sums the rain of each year over the days on which it is known.
func rainOfYears(r weather.Record) []YearRain {
	years := []YearRain{}
	for i, d := range r.Days {
		year := r.Date(i).Year()
		if n := len(years); n == 0 || years[n-1].Year != year {
			years = append(years, YearRain{Year: year})
		}
		if last := &years[len(years)-1]; !math.IsNaN(d.Rain) {
			last.Days++
			last.Rain += Figure(d.Rain)
		}
	}
	for i := range years {
		if years[i].Days == 0 {
			years[i].Rain = Figure(math.NaN())
		}
	}
	return years
}

// WriteJSON writes the figures as JSON.
func (f WeatherFigures) WriteJSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(f)
}

// WriteTable writes the figures for a person.
func (f WeatherFigures) WriteTable(w io.Writer) error {
	var b strings.Builder
	if f.Days == 0 {
		_, err := fmt.Fprintln(w, "The site has no daily record; bring one in with runnel weather SITE FILE.csv.")
		return err
	}
	fmt.Fprintf(&b, "%s, from %s: %d days, %s to %s.\n", f.Name, f.Source, f.Days, f.First, f.Last)
	fmt.Fprintf(&b, "Latitude %s°, elevation %s m.\n\n", f.Latitude.With(3), f.Elevation.With(1))
	cells := [][]string{{"", "days known", "mean", "least", "greatest"}}
	for _, q := range f.Quantities {
		cells = append(cells, []string{fmt.Sprintf("%s [%s]", q.Label, q.Unit), fmt.Sprint(q.Known), q.Mean.With(2), q.Least.With(1), q.Greatest.With(1)})
	}
	b.WriteString(align(cells))
	cells = [][]string{{"year", "days known", "rain [mm]"}}
	for _, y := range f.Years {
		cells = append(cells, []string{fmt.Sprint(y.Year), fmt.Sprint(y.Days), y.Rain.With(1)})
	}
	fmt.Fprintf(&b, "\n%s", align(cells))
	for _, part := range []struct {
		head      string
		sentences []string
	}{{"How it was read", f.Reading}, {"What was found", f.Findings}} {
		if len(part.sentences) > 0 {
			fmt.Fprintf(&b, "\n%s\n", part.head)
		}
		for _, said := range part.sentences {
			fmt.Fprintf(&b, "  -  %s\n", said)
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}
