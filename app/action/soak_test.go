package action

import (
	"encoding/json"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/caution"
	"runnel/analysis/soakin"
	"runnel/app/report"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// savedSite writes the demo site with a change, and returns its path.
func savedSite(t *testing.T, change func(*plan.Site)) string {
	t.Helper()
	site := made().Clone()
	change(&site)
	path := filepath.Join(t.TempDir(), "changed.gpkg")
	if err := gdal.SaveSite(path, &site); err != nil {
		t.Fatal(err)
	}
	return path
}

// parsed runs a command with --json, and reads what it writes.
func parsed[F any](t *testing.T, args ...string) (f F) {
	t.Helper()
	if err := json.Unmarshal([]byte(must(t, append(args, "--json")...)), &f); err != nil {
		t.Fatalf("%v: %v", args, err)
	}
	return f
}

// columns are what the demo's schemes come to.
func columns(t *testing.T, draws int) []soakin.Column {
	t.Helper()
	site := made()
	var book soakin.Book
	_, accounts, err := book.Accounts(t.Context(), &site)
	if err != nil {
		t.Fatal(err)
	}
	got, err := soakin.Beside(t.Context(), &site, accounts, draws)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// alike reports whether a written figure is a value to the thousandth.
func alike(f report.Figure, v float64) bool { return math.Abs(float64(f)-v) <= 0.00051 }

func TestTheAccountIsThatOfTheAnalysis(t *testing.T) {
	f := parsed[report.Accounts](t, "account", siteFile(t), "--draws", "200")
	for i, want := range columns(t, 200) {
		got := f.Schemes[i].Told
		if f.Schemes[i].Scheme != want.Name || got.Draws != 200 || !alike(got.Mean.Recharge, want.Mean.Recharge) || !alike(got.Recharge.High, want.Spread.Recharge.High) ||
			!alike(got.Share.Low, want.Spread.Share.Low) || !alike(got.Dry.Share, want.Dry.Share()) || len(got.Months) != 12 || len(got.Causes) < 3 {
			t.Errorf("%s: %+v, want a recharge of %v, %v", want.Name, got, want.Mean.Recharge, want.Spread.Recharge)
		}
	}
	one := parsed[report.Accounts](t, "account", siteFile(t), "--scheme", "straight soakage trench", "--draws", "200")
	if len(one.Schemes) != 1 || one.Schemes[0].Told.Recharge != f.Schemes[2].Told.Recharge {
		t.Errorf("of one scheme alone it tells %+v", one.Schemes)
	}
}

func TestSeasonStormAndCautionsAreThoseOfTheAnalysis(t *testing.T) {
	want, path := columns(t, 100), siteFile(t)
	seasons := parsed[report.Seasons](t, "season", path)
	storms := parsed[report.Storms](t, "storm", path)
	cautions := parsed[report.CautionList](t, "cautions", path)
	for i, c := range want {
		if got := seasons.Schemes[i].Told; !alike(got.Mean.Soaked, c.Mean.Soaked) || len(got.Years) != 10 || len(got.Pools) != len(c.Setup.Pools.Pools) {
			t.Errorf("%s: the season is %+v", c.Name, got.Mean)
		}
		through, ok := c.Through()
		if got := storms.Schemes[i].Told; ok != (len(got.Pools) > 0) || ok && (!alike(got.Pools[0].Peak, through.Highest.Likely) || !alike(got.Pools[0].Empty.Likely, through.Empty.Likely)) {
			t.Errorf("%s: the storm is %+v, want %+v", c.Name, got.Pools, through)
		}
		if got := cautions.Schemes[i].Told; len(got) != len(c.Cautions) {
			t.Errorf("%s: %d cautions, want %d", c.Name, len(got), len(c.Cautions))
		}
	}
	if cautions.Note != caution.Deference {
		t.Errorf("the cautions end with %q", cautions.Note)
	}
	wet := parsed[report.Storms](t, "storm", path, "--rain", "120", "--hours", "6")
	if s := wet.Schemes[1].Told; s.Rain != 120 || s.Hours != 6 || !(s.Inflows[0].Volume > 2*storms.Schemes[1].Told.Inflows[0].Volume) {
		t.Errorf("120 mm bring %+v", s.Inflows)
	}
}

func TestTheComparisonTellsWhatSoaksInAndWhatIsSure(t *testing.T) {
	path := siteFile(t)
	f := parsed[report.Figures](t, "compare", path, "--draws", "300")
	for i, want := range columns(t, 300) {
		got := f.Schemes[i].Soak
		if got == nil || !alike(got.Recharge.Mean, want.Mean.Recharge) || !alike(got.Recharge.Range.Low, want.Spread.Recharge.Low) || !alike(got.Cost.PerSoaked, orNought(want.Cost.PerSoaked)) {
			t.Fatalf("%s: %+v", want.Name, got)
		}
		if (got.Recharge.More != nil) != (i > 0) || i > 0 && (got.Recharge.More.Sure != want.MoreRecharge.Sure || !alike(got.Recharge.More.Likely, want.MoreRecharge.Likely)) {
			t.Errorf("%s: more by %+v, want %+v", want.Name, got.Recharge.More, want.MoreRecharge)
		}
		if len(f.Schemes[i].Cautions) != len(want.Cautions) {
			t.Errorf("%s: %d cautions, want %d", want.Name, len(f.Schemes[i].Cautions), len(want.Cautions))
		}
	}
	table := must(t, "compare", path, "--draws", "300")
	for _, says := range []string{"Recharge potential [m³ a year]", "Share put back [%]", ", sure", "empty after [h]", "for each m³ a year", "300 years drawn", "not a promise of yield"} {
		if !strings.Contains(table, says) {
			t.Errorf("the table does not say %q", says)
		}
	}
}

// orNought is what a null reads as.
func orNought(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return v
}

func TestBadOptionsOfTheSoakCommandsAreOneSentence(t *testing.T) {
	path := siteFile(t)
	for says, args := range map[string][]string{
		"give 100 to":         {"account", path, "--draws", "5"},
		"give 100 to 1000000": {"compare", path, "--draws", "2000000"},
		"storm's rain is -3":  {"storm", path, "--rain=-3"},
		"storm's time is 0":   {"storm", path, "--hours", "0"},
	} {
		if said := refused(t, mistake, args...); !strings.Contains(said, says) {
			t.Errorf("%v says %q, not %q", args, said, says)
		}
	}
	for _, command := range []string{"storm", "season", "account", "cautions"} {
		if said := refused(t, failed, command, path, "--scheme", "Nowhere"); !strings.Contains(said, "Nowhere") {
			t.Errorf("%s says %q", command, said)
		}
	}
}

// What cannot be told is withheld with a sentence, in the table and in JSON alike.
func TestWhatIsNotKnownIsWithheld(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*plan.Site)
		says   string
		known  bool
	}{
		{"no record", func(s *plan.Site) { s.Weather.Days = nil }, "No daily record is brought in", true},
		{"a record of half a year", func(s *plan.Site) { s.Weather.Days = s.Weather.Days[:180] }, "no year that is whole", false},
		{"no channels and no drains", func(s *plan.Site) {
			s.Plan.Features = slices.DeleteFunc(s.Plan.Features, func(f plan.Feature) bool { return f.Kind == plan.Channel || f.Kind == plan.Drain })
		}, "there is no season to tell", false},
	} {
		path := savedSite(t, c.change)
		f := parsed[report.Figures](t, "compare", path, "--draws", "100")
		s := f.Schemes[1].Soak
		if !slices.ContainsFunc(s.Withheld, func(w report.WithheldFigures) bool { return strings.Contains(w.Why, c.says) }) {
			t.Errorf("%s: withheld is %+v", c.name, s.Withheld)
		}
		if (s.Soaked.Mean > 0) != c.known || s.Share.Mean != 0 && c.name != "a record of half a year" {
			t.Errorf("%s: soaked in %v, share %v", c.name, s.Soaked, s.Share)
		}
		for _, command := range []string{"account", "season", "compare"} {
			if out := must(t, command, path); !strings.Contains(out, c.says) || strings.Contains(out, "NaN") || strings.Contains(out, "Inf") {
				t.Errorf("%s: %s does not say %q:\n%s", c.name, command, c.says, out)
			}
		}
		must(t, "storm", path)
		must(t, "cautions", path)
	}
}
