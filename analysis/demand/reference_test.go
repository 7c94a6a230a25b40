package demand

import (
	"math"
	"strings"
	"testing"
	"time"

	"runnel/geo/weather"
)

// blank is a day of which nothing is known.
func blank() weather.Day {
	nan := math.NaN()
	return weather.Day{Rain: nan, Low: nan, High: nan, DampLow: nan, DampHigh: nan, Wind: nan, Sun: nan, Radiation: nan, Level: nan}
}

func warm(low, high float64) weather.Day {
	d := blank()
	d.Rain, d.Low, d.High = 0, low, high
	return d
}

// oneDay is a record of a day of the year.
func oneDay(latitude, elevation float64, day int, d weather.Day) weather.Record {
	return weather.Record{Latitude: latitude, Elevation: elevation, WindHeight: 10,
		First: time.Date(2001, 1, day, 0, 0, 0, 0, time.UTC), Days: []weather.Day{d}}
}

func reference(t *testing.T, r weather.Record) (float64, string) {
	t.Helper()
	et, how, err := Reference(r)
	if err != nil {
		t.Fatal(err)
	}
	return et[0], how
}

// FAO-56 example 18: Uccle on 6 July, everything measured.
func TestReferenceOfExample18(t *testing.T) {
	d := warm(12.3, 21.5)
	d.DampLow, d.DampHigh, d.Wind, d.Sun = 63, 84, 10/3.6, 9.25
	got, how := reference(t, oneDay(degrees(50, 48), 100, 187, d))
	compare(t, []figure{{"ETo", got, 3.88, 0.02}})
	if !strings.Contains(how, "Penman–Monteith; humidity was not measured on 0 days, wind on 0 and sunshine on 0") {
		t.Error(how)
	}
	// Its mean humidity alone gives "about 3.75": seen in a stored text, with no more digits.
	d.DampLow, d.DampHigh = 73.5, 73.5
	got, _ = reference(t, oneDay(degrees(50, 48), 100, 187, d))
	compare(t, []figure{{"ETo by the mean humidity", got, 3.75, 0.05}})
	// Rs of the example, 22.07 MJ/m² day, stands in place of the sunshine.
	d.DampLow, d.DampHigh, d.Sun, d.Radiation = 63, 84, math.NaN(), 22.07
	got, _ = reference(t, oneDay(degrees(50, 48), 100, 187, d))
	compare(t, []figure{{"ETo by radiation", got, 3.88, 0.02}})
}

// FAO-56 example 20: Lyon in July, temperature alone; seen in copies of the text.
func TestReferenceOfExample20(t *testing.T) {
	latitude, d := degrees(45, 43), warm(14.8, 26.6)
	r := oneDay(latitude, 200, 196, d)
	above := extraterrestrialRadiation(latitude, 196)
	compare(t, []figure{
		{"Ra", above, 40.55, 0.05},
		{"Rs", shortwaveOfRange(14.8, 26.6, above, clearSky(200, above)), 22.29, 0.02},
		{"ETo with every stand-in", penmanMonteith(airOf(r, d, 196)), 4.56, 0.02},
	})
	got, how := reference(t, r)
	compare(t, []figure{{"ETo by Hargreaves", got, 5.03, 0.02}})
	if how != "Hargreaves, from temperature alone" {
		t.Error(how)
	}
	r.Days[0].Wind = 2 / windAtTwoMetres(1, 10)
	got, how = reference(t, r)
	compare(t, []figure{{"ETo with the stand-in's own wind", got, 4.56, 0.02}})
	if !strings.Contains(how, "humidity was not measured on 1 days, wind on 0 and sunshine on 1") {
		t.Error(how)
	}
}

func TestDaysWithoutTemperatureAreNotKnown(t *testing.T) {
	r := oneDay(50, 100, 60, warm(1, 9))
	r.Days = append(r.Days, blank(), warm(9, 1), warm(5, 5))
	et, how, err := Reference(r)
	if err != nil || !strings.Contains(how, "2 of 4 days have no temperature") {
		t.Fatalf("%s (%v)", how, err)
	}
	if !(et[0] > 0) || !math.IsNaN(et[1]) || !math.IsNaN(et[2]) || et[3] != 0 {
		t.Errorf("the days are %v", et)
	}
}

// One day of wind in three leaves a record of temperature.
func TestAFewDaysOfWindDoNotMakeARecordOfIt(t *testing.T) {
	r := oneDay(50, 100, 60, warm(1, 9))
	r.Days = append(r.Days, warm(1, 9), warm(1, 9))
	r.Days[1].Wind = 3
	if _, how, _ := Reference(r); !strings.HasPrefix(how, "Hargreaves") {
		t.Error(how)
	}
	r.Days[2].Wind = 3
	if _, how, _ := Reference(r); !strings.Contains(how, "humidity was not measured on 3 days, wind on 1") {
		t.Error(how)
	}
}

func TestARecordThatCannotServeIsRefused(t *testing.T) {
	for want, spoil := range map[string]func(*weather.Record){
		"no temperature":           func(r *weather.Record) { r.Days[0] = blank() },
		"no record of the weather": func(r *weather.Record) { r.Days = nil },
		"the latitude of":          func(r *weather.Record) { r.Latitude = 91 },
		"the elevation of":         func(r *weather.Record) { r.Elevation = math.NaN() },
		"the wind was measured":    func(r *weather.Record) { r.WindHeight = 0.05 },
	} {
		r := oneDay(50, 100, 60, warm(1, 9))
		spoil(&r)
		if et, _, err := Reference(r); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("the answer is %v (%v), want %q", et, err, want)
		}
	}
}

// No weather on earth gives anything but a plain figure, at the poles and in the dark too.
func TestEveryDayAndLatitudeHasItsFigure(t *testing.T) {
	for latitude := -90.0; latitude <= 90; latitude += 7.5 {
		for day := 1; day <= 366; day += 5 {
			cold := warm(-60, -45)
			damp := warm(-3, 8)
			damp.DampLow, damp.DampHigh, damp.Sun, damp.Wind = 100, 100, 24, 0
			for _, d := range []weather.Day{cold, damp, warm(28, 47)} {
				if et, _ := reference(t, oneDay(latitude, -400, day, d)); !(et >= 0 && et < 20) {
					t.Fatalf("%g mm/day at %g° on day %d of %+v", et, latitude, day, d)
				}
			}
		}
	}
}

func TestWaterAndRootsFollowTheReference(t *testing.T) {
	water, roots := OpenWater([]float64{4, math.NaN()}), RootsDaily([]float64{4, math.NaN()})
	// FAO-56 table 12, open water and cool-season turf; from memory.
	compare(t, []figure{{"water", water[0], 4.2, 1e-12}, {"roots", roots[0], 3.8, 1e-12}})
	if !math.IsNaN(water[1]) || !math.IsNaN(roots[1]) {
		t.Error("a day that is not known has a figure")
	}
}
