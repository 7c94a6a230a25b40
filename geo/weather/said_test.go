package weather

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

func TestFahrenheitAndTenthsAreKnownByTheirFigures(t *testing.T) {
	l, r, report := days(t, series("DATE,PRCP,TMAX,TMIN", 400, func(i int, date string) string {
		return fmt.Sprintf("%s,%.2f,%d,%d", date, 0.1*float64(i%3), 60+i%20, 40)
	}))
	if l.Units.Temperature != "°F" || l.Units.Rain != "inches" || math.Abs(r.Days[2].Rain-5.08) > 1e-9 || len(report.Findings) != 0 {
		t.Errorf("%+v: %+v, %q, %q", l.Units, r.Days[2], l.Why, report.Findings)
	}
	l, r, _ = days(t, series("DATE,PRCP,TMAX,TMIN", 400, func(i int, date string) string { return fmt.Sprintf("%s,%d,%d,%d", date, 25*(i%3), 60+i%200, 40) }))
	if l.Units.Temperature != "tenths of °C" || l.Units.Rain != "tenths of mm" || math.Abs(r.Days[2].Rain-5) > 1e-9 {
		t.Errorf("%+v: %+v, %q", l.Units, r.Days[2], l.Why)
	}
}

func TestAPersonMaySayOtherwise(t *testing.T) {
	path := put(t, "when,a,b,c\n01/02/2012,1,2,3\n02/02/2012,1,2,3\n03/02/2012,1,2,3\n")
	l, err := LookAt(path)
	if err != nil {
		t.Fatal(err)
	}
	l.Columns.Rain, l.Columns.Low, l.Columns.High, l.Units.Rain, l.Order = 3, 1, 2, "inches", DayMonthYear
	r, _, err := Read(context.Background(), path, l)
	if err != nil || math.Abs(r.Days[0].Rain-76.2) > 1e-9 || r.Days[0].Low != 1 || r.First.Month() != time.February || len(r.Days) != 3 {
		t.Errorf("%+v, %v", r, err)
	}
	l.Order = YearMonthDay
	l.Columns.High = 3
	if _, _, err := Read(context.Background(), path, l); err == nil || !strings.Contains(err.Error(), "column 4 is taken for both rain and greatest temperature") {
		t.Error(err)
	}
	l.Columns.High, l.Units.Rain = 2, "furlongs"
	if _, _, err := Read(context.Background(), path, l); err == nil || !strings.Contains(err.Error(), `"furlongs" is no unit of rain`) {
		t.Error(err)
	}
}

func TestChecksOfARecord(t *testing.T) {
	good := func() Record {
		_, r, _ := days(t, "date,rain,low,high\n2012-01-01,1,2,3\n2012-01-02,1,2,3\n")
		return r
	}
	for want, change := range map[string]func(*Record){
		"the rain is -1":            func(r *Record) { r.Days[1].Rain = -1 },
		"least temperature is +Inf": func(r *Record) { r.Days[1].Low = math.Inf(1) },
		"a least figure is above":   func(r *Record) { r.Days[0].Low = 4 },
		"latitude of the record":    func(r *Record) { r.Latitude = 91 },
		"elevation of the record":   func(r *Record) { r.Elevation = 1e5 },
		"begin at midnight":         func(r *Record) { r.First = r.First.Add(time.Hour) },
		"height at which wind":      func(r *Record) { r.WindHeight = math.NaN() },
		"one day only":              func(r *Record) { r.Days = r.Days[:1] },
		"between the years":         func(r *Record) { r.First = time.Date(1200, 1, 1, 0, 0, 0, 0, time.UTC) },
	} {
		r := good()
		if err := r.Check(); err != nil {
			t.Fatal(err)
		}
		change(&r)
		if err := r.Check(); err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("error %v, want %q", err, want)
		}
	}
	if err := (Record{}).Check(); err != nil {
		t.Error(err)
	}
}
