package action

import (
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"runnel/analysis/caution"
	"runnel/geo"
	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// plotFile saves a small site in the UTM zone of Oregon.
func plotFile(t *testing.T) string {
	t.Helper()
	g := grid.Parse("100 102", "104 .")
	g.Frame = grid.Square(2, 2, 500_000, 4_984_000, 1)
	system, err := gdal.NamedSystem("EPSG:32610")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "plot.gpkg")
	if err := gdal.SaveSite(path, &plan.Site{Name: "Plot", CRS: system, Ground: g, Setting: plan.UsualSetting()}); err != nil {
		t.Fatal(err)
	}
	return path
}

// daysFile is a record in inches and degrees Fahrenheit of two years whose columns have
// names of their own; each tenth row has no rain, and one day is missing.
func daysFile(t *testing.T) string {
	var b strings.Builder
	b.WriteString("when;wet;cool;warm\n")
	for i := range 731 {
		if i == 40 {
			continue
		}
		rain := fmt.Sprintf("%.2f", 0.2*float64(i%2))
		if i%10 == 0 {
			rain = "-999"
		}
		fmt.Fprintf(&b, "%s;%s;41;59\n", time.Date(2019, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, i).Format("01/02/2006"), rain)
	}
	return text(t, "gauge.csv", b.String())
}

func TestWeatherIsBroughtInAndTold(t *testing.T) {
	path, days := plotFile(t), daysFile(t)
	args := []string{"weather", path, days, "--date", "when", "--rain", "2", "--low", "cool", "--high", "warm", "--units", "inches", "--units", "F", "--json"}
	told := must(t, append(args, "--only-read")...)
	if s := opened(t, path); !s.Weather.Empty() {
		t.Error("--only-read changed the site")
	}
	if again := must(t, args...); again != told {
		t.Errorf("it tells\n%s\nand only read it told\n%s", again, told)
	}
	r := opened(t, path).Weather
	if len(r.Days) != 731 || r.Name != "gauge" || r.Source != "gauge.csv" || math.Abs(r.Days[1].Rain-5.08) > 1e-9 || math.Abs(r.Days[1].Low-5) > 1e-9 ||
		math.Abs(r.Days[1].High-15) > 1e-9 || !math.IsNaN(r.Days[40].High) || !math.IsNaN(r.Days[10].Rain) {
		t.Errorf("the record is %q of %q, %d days, the second %+v", r.Name, r.Source, len(r.Days), r.Days[1])
	}
	if math.Abs(r.Latitude-45) > 0.02 || r.Elevation != 102 {
		t.Errorf("latitude %v, elevation %v", r.Latitude, r.Elevation)
	}
	var f struct {
		Days     int      `json:"days"`
		Findings []string `json:"findings"`
		Reading  []string `json:"reading"`
	}
	if err := json.Unmarshal([]byte(told), &f); err != nil {
		t.Fatal(err)
	}
	all := strings.Join(f.Findings, "\n")
	for _, want := range []string{"1 day has no row, 2019-02-10, after row 41", "The rain is -999 in rows 2, 12, 22, 32, 51 and 68 others", "The rain is known on"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not among the findings:\n%s", want, all)
		}
	}
	table := must(t, "weather", path)
	for _, want := range []string{"gauge, from gauge.csv: 731 days, 2019-01-01 to 2020-12-31.", "Rain [mm]", "elevation 102.0 m", "2020"} {
		if !strings.Contains(table, want) {
			t.Errorf("%q is not in\n%s", want, table)
		}
	}
}

func TestWeatherIsRefusedInOneSentence(t *testing.T) {
	path, days := plotFile(t), daysFile(t)
	for _, c := range []struct {
		status int
		want   string
		args   []string
	}{
		{failed, "there is no column called", []string{days, "--rain", "snow"}},
		{failed, "column 2 is taken for both", []string{days, "--rain", "wet", "--low", "wet"}},
		{mistake, `--order is "dym"; give ymd, dmy or mdy`, []string{days, "--order", "dym"}},
		{mistake, `--units has "furlongs"; give a unit as inches`, []string{days, "--units", "furlongs"}},
		{mistake, `--units has "rain=F"`, []string{days, "--units", "rain=F"}},
		{failed, "the latitude of the record is 95", []string{days, "--rain", "wet", "--latitude", "95"}},
		{failed, "it has one day only", []string{text(t, "one.csv", "date,rain\n2020-01-01,4\n")}},
		{failed, "cannot be opened", []string{filepath.Join(t.TempDir(), "none.csv")}},
	} {
		if said := refused(t, c.status, append([]string{"weather", path}, c.args...)...); !strings.Contains(said, c.want) {
			t.Errorf("%v: it says %q, want %q", c.args, said, c.want)
		}
	}
	if s := opened(t, path); !s.Weather.Empty() {
		t.Error("what was refused changed the site")
	}
	if said := must(t, "weather", path); !strings.Contains(said, "no daily record") {
		t.Errorf("of a site without one it says %q", said)
	}
}

func TestSettingsAreSetByTheirNames(t *testing.T) {
	path := plotFile(t)
	must(t, "set", path, "soil=clay loam", "run_days=10,20,30", "storm_mm=55,5", "distribution=NRCS Type II", "aquifer_yield=0.2", "cost_cut=12", "currency=credits", "limit_well=20", "irrigation=sprinkler")
	s := opened(t, path).Setting
	want := plan.UsualSetting()
	want.Soil, want.RunDays, want.Storm, want.Distribution = "clay loam", geo.Range{Low: 10, Likely: 20, High: 30}, 55.5, "NRCS Type II"
	want.Aquifer.Yield, want.Costs.Cut, want.Costs.Currency, want.Irrigation = 0.2, 12, "credits", "sprinkler"
	want.Limits = caution.UsualLimits()
	want.Limits.Well = 20 // and the others stay in force
	if s != want {
		t.Errorf("the setting is %+v, want %+v", s, want)
	}
	must(t, "set", path, "limits=usual")
	if s := opened(t, path).Setting; s.Limits != (plan.Limits{}) {
		t.Errorf("the limits are %+v", s.Limits)
	}
}

// Every setting can be set to what the list says of it, and is listed with its unit.
func TestEverySettingIsListedAndCanBeSet(t *testing.T) {
	path := plotFile(t)
	listed := must(t, "set", path)
	var values map[string]any
	if err := json.Unmarshal([]byte(must(t, "set", path, "--json")), &values); err != nil {
		t.Fatal(err)
	}
	args := []string{"set", path, "run_days=14,30,60"}
	for _, name := range settingNames() {
		if name == limitsName || name == runDaysName {
			continue
		}
		if !strings.Contains(listed, "\n"+name+" ") && !strings.HasPrefix(listed, name+" ") {
			t.Errorf("%s is not listed", name)
		}
		args = append(args, fmt.Sprintf("%s=%v", name, values[name]))
	}
	if len(values) != len(settingNames())-1 {
		t.Errorf("%d values are listed of %d", len(values), len(settingNames())-1)
	}
	must(t, args...)
	want := plan.UsualSetting()
	want.Limits = caution.UsualLimits()
	if s := opened(t, path).Setting; s != want {
		t.Errorf("the setting is %+v, want %+v", s, want)
	}
}

func TestSettingsAreRefusedInOneSentence(t *testing.T) {
	path := plotFile(t)
	before := opened(t, path).Setting
	for args, want := range map[string]string{
		"soil":             `"soil" sets nothing; give name=value`,
		"colour=red":       `there is no setting "colour"; there are: soil, cover, distribution`,
		"soil=cheese":      `the soil texture is "cheese"; give one of: sand`,
		"storm_mm=much":    `the design storm is "much"; give a number from 0 to 2000 mm`,
		"storm_mm=-2":      "the design storm is -2",
		"run_days=4":       "give the least, the likely and the greatest, as run_days=14,30,60",
		"run_days=4,3,2":   "out of order",
		"limits=strict":    "give limits=usual",
		"aquifer_yield=":   "the specific yield of the aquifer",
		"limit_well=90000": "the least distance of water from a well is 90000; give a number from 0 to 1000 m",
	} {
		if said := refused(t, mistake, "set", path, "cover=gravel", args); !strings.Contains(said, want) {
			t.Errorf("%s: it says %q, want %q", args, said, want)
		}
	}
	if s := opened(t, path).Setting; s != before {
		t.Errorf("what was refused changed the setting to %+v", s)
	}
}
