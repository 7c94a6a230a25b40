package demo

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"testing"
	"time"

	"runnel/geo/grid"
)

// recordSum is of the record's figures, so that another machine that makes another
// record is found out.
const recordSum = "b84474625d9887a9"

func TestTheWeatherIsThatOfAMildCoastWithDrySummers(t *testing.T) {
	r := made().Weather
	if err := r.Check(); err != nil {
		t.Fatal(err)
	}
	if end := r.Date(len(r.Days)); end.Sub(r.First) != 3653*24*time.Hour || end.Year() != 2021 || end.YearDay() != 1 {
		t.Errorf("it runs from %v to %v", r.First, end)
	}
	sum := sha256.New()
	years, months := map[int]float64{}, map[time.Month]float64{}
	wet, after, most := 0, 0, 0.0
	for i, d := range r.Days {
		fmt.Fprintf(sum, "%.1f %.1f %.1f\n", d.Rain, d.Low, d.High)
		years[r.Date(i).Year()] += d.Rain
		months[r.Date(i).Month()] += d.Rain / recordYears
		most = max(most, d.Rain)
		if d.Rain > 0 {
			wet++
			if i > 0 && r.Days[i-1].Rain > 0 {
				after++
			}
		}
		if d.Low >= d.High || d.Low < -12 || d.High > 38 {
			t.Errorf("on %v it is %v to %v °C", r.Date(i), d.Low, d.High)
		}
	}
	total, least, greatest := 0.0, math.Inf(1), 0.0
	for _, v := range years {
		total, least, greatest = total+v/recordYears, min(least, v), max(greatest, v)
	}
	t.Logf("%.0f mm a year, %.0f to %.0f; %.1f mm on the wettest day; by month %v", total, least, greatest, most, months)
	if math.Abs(total-made().Setting.YearRain) > 35 || least < 550 || greatest > 900 || greatest-least < 150 {
		t.Errorf("%.0f mm in a mean year, from %.0f to %.0f; about %.0f from 550 to 900 were meant", total, least, greatest, made().Setting.YearRain)
	}
	winter := months[time.November] + months[time.December] + months[time.January]
	if summer := months[time.June] + months[time.July] + months[time.August]; winter < 3*summer {
		t.Errorf("%.0f mm in winter and %.0f mm in summer", winter, summer)
	}
	if share := float64(wet) / float64(len(r.Days)); float64(after)/float64(wet) < share+0.2 {
		t.Errorf("it rains on %.2f of days and on %.2f of those after rain: there are no spells", share, float64(after)/float64(wet))
	}
	if got := hex.EncodeToString(sum.Sum(nil))[:16]; got != recordSum {
		t.Errorf("the record's sum is %s, want %s", got, recordSum)
	}
}

func TestTheWeathersElevationIsThatOfTheGround(t *testing.T) {
	s := made()
	sum := 0.0
	for _, z := range s.Ground.V {
		sum += float64(z)
	}
	if mean := sum / float64(s.Ground.Len()); math.Abs(mean-s.Weather.Elevation) > 0.5 {
		low, high, _ := grid.Extent(s.Ground)
		t.Errorf("the ground's mean is %.2f m (%.2f to %.2f), the record says %v m", mean, low, high, s.Weather.Elevation)
	}
}
