package weather

import (
	"context"
	"math"
	"os"
	"testing"
	"time"
)

// public names a copy of seattle-weather.csv, the daily record of an airport
// (NOAA, National Centers for Environmental Information, in the public domain) from 2012
// to 2015, which the data sets of Vega give out under that name.
const public = "RUNNEL_RAIN"

// yearly is the rain of each year as awk sums the file's second column [mm].
var yearly = map[int]float64{2012: 1226.0, 2013: 828.0, 2014: 1232.8, 2015: 1139.2}

func TestAPublicRecordIsReadWithoutAGap(t *testing.T) {
	path := os.Getenv(public)
	if path == "" {
		t.Skipf("%s names no record", public)
	}
	l, err := LookAt(path)
	if err != nil {
		t.Fatal(err)
	}
	r, report, err := Read(context.Background(), path, l)
	if err != nil || r.Check() != nil {
		t.Fatal(err, r.Check())
	}
	t.Logf("%q", l.Why)
	if l.Columns.Rain != 1 || l.Columns.High != 2 || l.Columns.Low != 3 || l.Columns.Wind != 4 {
		t.Errorf("columns %+v", l.Columns)
	}
	if !r.First.Equal(time.Date(2012, 1, 1, 0, 0, 0, 0, time.UTC)) || len(r.Days) != 1461 || len(report.Findings) != 0 {
		t.Errorf("%d days from %v, %q", len(r.Days), r.First, report.Findings)
	}
	sum := map[int]float64{}
	for i, d := range r.Days {
		sum[r.Date(i).Year()] += d.Rain
		if math.IsNaN(d.Rain + d.Low + d.High + d.Wind) {
			t.Errorf("%v is %+v", r.Date(i), d)
		}
	}
	for year, want := range yearly {
		if math.Abs(sum[year]-want) > 1e-6 {
			t.Errorf("%d has %.1f mm, want %.1f", year, sum[year], want)
		}
	}
}
