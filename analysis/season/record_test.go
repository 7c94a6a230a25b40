package season

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
	"time"
)

// public names a copy of seattle-weather.csv, the daily record of an airport
// (NOAA, National Centers for Environmental Information, in the public domain) from 2012
// to 2015, which the data sets of Vega give out under that name.
const public = "RUNNEL_RAIN"

// publicRain is its rain, day by day from a first one [mm].
func publicRain(t *testing.T, first time.Time) (rain []float64) {
	path := os.Getenv(public)
	if path == "" {
		t.Skipf("%s names no record", public)
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for d, row := range rows[1:] {
		if want := first.AddDate(0, 0, d).Format(time.DateOnly); row[0] != want {
			t.Fatalf("row %d is of %s, not %s", d+2, row[0], want)
		}
		depth, err := strconv.ParseFloat(row[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		rain = append(rain, depth)
	}
	return rain
}

// A public daily record of four years runs without a gap.
func TestPublicRecordRunsWithoutAGap(t *testing.T) {
	in := Input{First: time.Date(2012, 1, 1, 0, 0, 0, 0, time.UTC), Pools: scheme(3)}
	in.Rain = publicRain(t, in.First)
	for d := range in.Rain {
		in.Evaporation = append(in.Evaporation, 2-1.7*math.Cos(2*math.Pi*float64(d)/365.25))
	}
	in.Roots = in.Evaporation
	got := model(t, in).Trace(UsualFactors(in))
	if got.Unknown != 0 || len(got.Years) != 4 || len(got.Months) != 48 || len(got.Days[2]) != 1461 {
		t.Errorf("%d days are not known; %d years, %d months", got.Unknown, len(got.Years), len(got.Months))
	}
	off, came := gap(got.Total)
	if !(math.Abs(off) < 1e-9*came) {
		t.Errorf("%g of %g m³ are lost", off, came)
	}
	if !(got.Total.Soaked > 0) || got.Total.Runs != math.Round(30*1461/365.25) {
		t.Errorf("%+v", got.Total)
	}
	for _, y := range got.Years {
		t.Logf("%d: rain %.0f mm, soaked %.0f m³, runs on %.0f days, wet on %.0f", y.Year, y.RainDepth, y.Soaked, y.Runs, y.Wet)
	}
}
