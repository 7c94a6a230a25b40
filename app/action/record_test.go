package action

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"runnel/analysis/compare"
	"runnel/analysis/demand"
	"runnel/analysis/soakin"
	"runnel/geo/plan"
)

// public names a copy of seattle-weather.csv, the daily record of an airport
// (NOAA, National Centers for Environmental Information, in the public domain) from 2012
// to 2015, which the data sets of Vega give out under that name.
const public = "RUNNEL_RAIN"

// A public record goes from its file to the account on the demo site without a gap.
func TestAPublicRecordComesToAnAccount(t *testing.T) {
	path := os.Getenv(public)
	if path == "" {
		t.Skipf("%s names no record", public)
	}
	accountedWithoutAGap(t, path, 2012, 4)
}

// So does one that is made up: three years of the demo's own, in columns of other names, inches and degrees Fahrenheit.
func TestAMadeUpRecordComesToAnAccount(t *testing.T) {
	own := made().Weather
	first := time.Date(own.First.Year(), 1, 1, 0, 0, 0, 0, time.UTC)
	if own.First.After(first) {
		first = first.AddDate(1, 0, 0)
	}
	from, to := int(first.Sub(own.First).Hours()/24), int(first.AddDate(3, 0, 0).Sub(own.First).Hours()/24)
	fahrenheit := func(v float64) float64 { return v*9/5 + 32 }
	var b strings.Builder
	b.WriteString("Day;Precipitation (in);Tmin (F);Tmax (F)\n")
	for i := from; i < to; i++ {
		d := own.Days[i]
		fmt.Fprintf(&b, "%s;%.4f;%.3f;%.3f\n", own.Date(i).Format("02.01.2006"), d.Rain/25.4, fahrenheit(d.Low), fahrenheit(d.High))
	}
	s := accountedWithoutAGap(t, text(t, "gauge.csv", b.String()), first.Year(), 3)
	for i, d := range s.Weather.Days {
		if want := own.Days[from+i]; !(math.Abs(d.Rain-want.Rain) < 0.002 && math.Abs(d.Low-want.Low) < 0.001 && math.Abs(d.High-want.High) < 0.001) {
			t.Fatalf("%v is %+v, and was %+v", s.Weather.Date(i), d, want)
		}
	}
}

// accountedWithoutAGap brings a record into the demo site by the command line and holds the
// accounts of all its schemes to so many whole years from a first one.
func accountedWithoutAGap(t *testing.T, record string, first, years int) *plan.Site {
	t.Helper()
	path := siteFile(t)
	must(t, "weather", path, record)
	s := opened(t, path)
	et, how, err := demand.Reference(s.Weather)
	if err != nil || len(et) != len(s.Weather.Days) || s.Weather.Check() != nil {
		t.Fatalf("%d days of evapotranspiration of %d: %v, %v", len(et), len(s.Weather.Days), err, s.Weather.Check())
	}
	t.Logf("%s: %s", s.Weather.Name, how)
	measured, err := compare.Schemes(t.Context(), s, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	accounts, err := soakin.Accounts(t.Context(), s, measured)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range accounts {
		if a.Season.Unknown != 0 || a.Basis.Unknown != 0 || a.Basis.Years != years || len(a.Years) != years || a.Years[0].Year != first {
			t.Fatalf("%s: %d days are not known, and %d years are told from %d on", a.Name, a.Season.Unknown, len(a.Years), a.Years[0].Year)
		}
		for _, y := range a.Years {
			t.Logf("%s, %d: rain %.0f mm, soaked %.0f m³, recharge %.0f m³ of %.0f m³ drawn", a.Name, y.Year, y.RainDepth, y.Soaked, y.Recharge, y.Draw)
			if !(y.RainDepth > 0 && y.Soaked > 0 && y.Draw > 0 && y.Share() >= 0) {
				t.Errorf("%s: %d is %+v", a.Name, y.Year, y.Water)
			}
		}
		sum := a.Season.Total
		came, went := sum.Drain+sum.Runoff+sum.Rain, sum.Soaked+sum.Evaporated+sum.Spilled+sum.RanBack+sum.Change
		if !(math.Abs(came-went) <= 1e-9*came) {
			t.Errorf("%s: %v m³ came and %v went", a.Name, came, went)
		}
	}
	return s
}
