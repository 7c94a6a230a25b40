package gdal

import (
	"math"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"runnel/geo/plan"
	"runnel/geo/weather"
)

// dayByDay is a record of a few days, 29 February among them.
func dayByDay() weather.Record {
	w := weather.Record{Name: "O'Dell's gauge", Source: "gauge.csv", Latitude: 46.95, Elevation: math.NaN(), WindHeight: 10,
		First: time.Date(2020, 2, 27, 0, 0, 0, 0, time.UTC), Days: weather.Unknown(5)}
	for i := range w.Days {
		w.Days[i].Rain, w.Days[i].Low, w.Days[i].High = float64(i)*1.1, -float64(i), float64(i)
	}
	w.Days[2].Rain = math.NaN()
	return w
}

func weathered(t *testing.T) (path string, s *plan.Site) {
	t.Helper()
	path, s = filepath.Join(t.TempDir(), "verge.gpkg"), plot(t)
	s.Weather = dayByDay()
	comesBack(t, path, s)
	return path, s
}

func TestTheWeatherComesBackAndGoes(t *testing.T) {
	path, s := weathered(t)
	s.Weather.Days = s.Weather.Days[:3]
	s.Weather.Days[1].Wind = 2.5
	comesBack(t, path, s)
	s.Weather = weather.Record{}
	comesBack(t, path, s)
	s.Weather = dayByDay()
	s.Weather.First = time.Date(1999, 12, 30, 0, 0, 0, 0, time.UTC)
	comesBack(t, path, s)
}

// A save that finds the record in the file leaves its rows alone; one of another record
// does not.
func TestWeatherThatIsInTheFileIsNotWrittenAgain(t *testing.T) {
	path, s := weathered(t)
	change(t, path, "UPDATE weather SET rain = 77 WHERE fid = 1")
	if err := SaveSite(path, s); err != nil {
		t.Fatal(err)
	}
	got, err := OpenSite(path)
	if err != nil || got.Weather.Days[0].Rain != 77 {
		t.Fatalf("%v: the rain is %v, want 77", err, got.Weather.Days[0].Rain)
	}
	comesBack(t, path, got)
	s.Weather.Days[1].Rain = 3
	comesBack(t, path, s)
}

func TestWeatherThatOthersTouched(t *testing.T) {
	for name, c := range map[string]struct {
		sql, says string
		days      int
	}{
		"taken away":         {"DROP TABLE weather", "", 0},
		"a day taken away":   {"DELETE FROM weather WHERE fid = 2", "", 5},
		"the last day":       {"DELETE FROM weather WHERE fid = 5", "", 4},
		"emptied":            {"DELETE FROM weather", "", 0},
		"a date of letters":  {"UPDATE weather SET date = 'soon' WHERE fid = 2", `its weather is damaged: a day's date is "soon"; restore the file from a copy`, 0},
		"no date":            {"UPDATE weather SET date = NULL WHERE fid = 2", `a day's date is ""`, 0},
		"a date twice":       {"UPDATE weather SET date = '2020-02-27' WHERE fid = 2", "2020-02-27 is in it twice", 0},
		"a day far off":      {"UPDATE weather SET date = '9999-02-27' WHERE fid = 2", "it runs from 2020 to 9999", 0},
		"rain that falls up": {"UPDATE weather SET rain = -4 WHERE fid = 2", "the rain is -4", 0},
		"crossed":            {"UPDATE weather SET low = 40 WHERE fid = 2", "a least figure is above the greatest", 0},
		"a latitude of none": {"UPDATE settings SET value = 'north' WHERE key = 'weather_latitude'", `its setting weather_latitude is "north"`, 0},
		"a latitude beyond":  {"UPDATE settings SET value = '95' WHERE key = 'weather_latitude'", "the latitude of the record is 95", 0},
	} {
		t.Run(name, func(t *testing.T) {
			path, s := weathered(t)
			change(t, path, c.sql)
			got, err := OpenSite(path)
			if c.says != "" {
				if err == nil || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), "\n") {
					t.Fatalf("it says %v, want a sentence with %q", err, c.says)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Weather.Days) != c.days {
				t.Errorf("%d days, want %d", len(got.Weather.Days), c.days)
			}
			if c.days == 5 && !math.IsNaN(got.Weather.Days[1].High) {
				t.Errorf("the day without a row is %+v", got.Weather.Days[1])
			}
			comesBack(t, path, got)
			s.Weather.Days[0].Rain = 4 // what was taken away is written anew
			comesBack(t, path, s)
		})
	}
}

func TestAForeignTableOfTheWeathersNameIsKept(t *testing.T) {
	path, s := filepath.Join(t.TempDir(), "verge.gpkg"), plot(t)
	if err := SaveSite(path, s); err != nil {
		t.Fatal(err)
	}
	change(t, path, "CREATE TABLE weather (mine TEXT)", "INSERT INTO weather VALUES ('kept')")
	comesBack(t, path, s)
	s.Weather = dayByDay()
	if err := SaveSite(path, s); err == nil || !strings.Contains(err.Error(), "weather that is another program's") {
		t.Fatalf("it says %v", err)
	}
	s.Weather.Days[0].Rain = -1
	if err := SaveSite(path, s); err == nil || !strings.Contains(err.Error(), "the weather: on 2020-02-27 the rain is -1") {
		t.Fatalf("it says %v", err)
	}
}
