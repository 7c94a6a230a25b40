package gdal

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/lukeroth/gdal"

	"runnel/geo/weather"
)

// The daily record is kept in a table of its own, a row a day, which a file has once its
// site has a record; where it is from and of is in the settings.
const (
	weatherTable = "weather"
	dateColumn   = "date"
	// weatherDigest is the setting that says what is in the table.
	weatherDigest = "weather_digest"
)

// weatherColumns are a date and every figure that a day may have.
func weatherColumns() []column {
	columns := []column{{dateColumn, gdal.FT_String, "Date", "year, month and day, as 2020-02-29"}}
	for _, q := range weather.Quantities() {
		columns = append(columns, column{q.Name, gdal.FT_Real, q.Label, "unit: " + q.Units[0] + "; empty: not known"})
	}
	return columns
}

// putWeather makes the table hold a record and returns the digest of it. A table that
// holds it already stays as it is, and a file that never had a record gets none.
func putWeather(set gdal.Dataset, r weather.Record) (string, error) {
	held := weatherIs(set.LayerByName(weatherTable))
	if r.Empty() && !held {
		return "", nil
	}
	digest := weatherDigestOf(r)
	if held {
		stored, err := readSettings(set)
		if err != nil || stored[weatherDigest] == digest {
			return digest, err
		}
	}
	if !held && hasTable(set, weatherTable) {
		return "", fmt.Errorf("the file has a table called %s that is another program's; choose another name", weatherTable)
	}
	layer, err := ensureTable(set, weatherTable, weatherColumns())
	if err != nil {
		return "", err
	}
	if err := replaceRows(layer, weatherRows(r)); err != nil {
		return "", fmt.Errorf("table %s: %w", weatherTable, err)
	}
	return digest, describeTable(set, weatherTable, weatherColumns())
}

// weatherIs tells our table from another of its name.
func weatherIs(layer gdal.Layer) bool {
	return handle(layer) != nil && layer.Definition().FieldIndex(dateColumn) >= 0 && layer.Definition().FieldIndex("humidity_low") >= 0
}

func weatherRows(r weather.Record) []row {
	rows := make([]row, len(r.Days))
	quantities := weather.Quantities()
	for i := range r.Days {
		values := map[string]any{dateColumn: r.Date(i).Format(time.DateOnly)}
		for _, q := range quantities {
			if v := *q.Of(&r.Days[i]); math.IsNaN(v) {
				values[q.Name] = nil
			} else {
				values[q.Name] = v
			}
		}
		rows[i] = row{id: int64(i) + 1, values: values}
	}
	return rows
}

func weatherDigestOf(r weather.Record) string {
	d := digester{hash: sha256.New()}
	d.text(r.First.Format(time.DateOnly))
	quantities := weather.Quantities()
	for i := range r.Days {
		for _, q := range quantities {
			v := *q.Of(&r.Days[i])
			if math.IsNaN(v) {
				v = math.NaN() // there are many
			}
			d.numbers(int(math.Float64bits(v)))
		}
	}
	d.flush(0)
	return hex.EncodeToString(d.hash.Sum(nil))
}

// placeOf names the settings that keep where a record is of.
func placeOf(r *weather.Record) map[string]*float64 {
	return map[string]*float64{"weather_latitude": &r.Latitude, "weather_elevation": &r.Elevation, "weather_wind_height": &r.WindHeight}
}

// weatherSettings are what the settings keep of a record; all of them are empty where
// there is none.
func weatherSettings(r weather.Record) settings {
	held := settings{"weather_name": r.Name, "weather_source": r.Source}
	for key, v := range placeOf(&r) {
		if held[key] = number(*v); r.Empty() {
			held[key] = ""
		}
	}
	return held
}

// intoWeather reads them; older files have none.
func (held settings) intoWeather(r *weather.Record) error {
	r.Name, r.Source = held["weather_name"], held["weather_source"]
	for key, to := range placeOf(r) {
		text := held[key]
		if text == "" {
			continue
		}
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return held.damaged(key)
		}
		*to = v
	}
	return nil
}

const secondsInDay = 86400

// mostWeather is how many days a site file may hold: some five hundred years.
const mostWeather = 200_000

// A datedDay is one row of the table.
type datedDay struct {
	date time.Time
	day  weather.Day
}

// after returns how many days it is after a date.
func (d datedDay) after(date time.Time) int {
	return int((d.date.Unix() - date.Unix()) / secondsInDay)
}

// takeWeather reads the days, of which there may be none. A day whose row another
// program has taken away is not known.
func takeWeather(set gdal.Dataset, r *weather.Record) error {
	days, err := datedDays(set.LayerByName(weatherTable))
	if err != nil {
		return err
	}
	if len(days) == 0 {
		*r = weather.Record{}
		return nil
	}
	slices.SortFunc(days, func(a, b datedDay) int { return a.date.Compare(b.date) })
	first, last := days[0], days[len(days)-1]
	if last.after(first.date) >= mostWeather {
		return fmt.Errorf("it runs from %d to %d", first.date.Year(), last.date.Year())
	}
	r.First, r.Days = first.date, weather.Unknown(last.after(first.date)+1)
	for i, d := range days {
		if i > 0 && d.date.Equal(days[i-1].date) {
			return fmt.Errorf("%s is in it twice", d.date.Format(time.DateOnly))
		}
		r.Days[d.after(r.First)] = d.day
	}
	return r.Check()
}

// datedDays reads the rows as they stand.
func datedDays(layer gdal.Layer) (days []datedDay, err error) {
	if !weatherIs(layer) {
		return nil, nil
	}
	quantities := weather.Quantities()
	err = eachFeature(layer, func(f gdal.Feature) error {
		text := textIn(f, dateColumn)
		date, err := time.Parse(time.DateOnly, strings.TrimSpace(text))
		if err != nil {
			return fmt.Errorf("a day's date is %q", clip(text))
		}
		d := datedDay{date: date}
		for _, q := range quantities {
			*q.Of(&d.day) = realIn(f, q.Name, math.NaN())
		}
		if days = append(days, d); len(days) > mostWeather {
			return fmt.Errorf("it has more than %d days", mostWeather)
		}
		return nil
	})
	return days, err
}
