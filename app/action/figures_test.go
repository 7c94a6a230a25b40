package action

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"runnel/analysis/caution"
	"runnel/analysis/compare"
	"runnel/app/report"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

func comparison(t *testing.T) report.Figures {
	t.Helper()
	var f report.Figures
	if err := json.Unmarshal([]byte(must(t, "compare", siteFile(t), "--json")), &f); err != nil {
		t.Fatal(err)
	}
	return f
}

// Every run of the job rests on these: the winding channel wets the most soil,
// the straight trench less, the site as it is least, and both ways of measuring
// contact tell the same.
func TestTheWindingChannelWetsMoreSoilThanTheTrenchAndTheTrenchMoreThanTheDrain(t *testing.T) {
	f := comparison(t)
	if len(f.Schemes) != 3 || f.Schemes[0].Scheme != "As it is" {
		t.Fatalf("the schemes are %+v", f.Schemes)
	}
	asItIs, winding, trench := f.Schemes[0], f.Schemes[1], f.Schemes[2]
	if !(winding.ContactArea > 1.2*trench.ContactArea && trench.ContactArea > 1.2*asItIs.ContactArea && asItIs.ContactArea > 20) {
		t.Errorf("contact is %g, %g and %g m²", asItIs.ContactArea, winding.ContactArea, trench.ContactArea)
	}
	for _, s := range f.Schemes {
		if off := math.Abs(float64(s.ContactOnGround/s.ContactArea) - 1); off > 0.06 {
			t.Errorf("%s: contact is %g m² along the sections and %g m² on the ground", s.Scheme, s.ContactArea, s.ContactOnGround)
		}
		if len(s.Problems) != 0 {
			t.Errorf("%s is not as drawn: %s", s.Scheme, strings.Join(s.Problems, "; "))
		}
		if got, want := float64(s.Ratio), float64(s.ContactArea/asItIs.ContactArea); math.Abs(got-want) > 0.002 {
			t.Errorf("%s: the ratio is %g, want %g", s.Scheme, got, want)
		}
	}
	if winding.Cut <= trench.Cut || trench.Cut <= 0 || asItIs.Cut != 0 {
		t.Errorf("cut is %g, %g and %g m³", asItIs.Cut, winding.Cut, trench.Cut)
	}
}

func TestWaterOfTheDemoStaysBelowItsBanks(t *testing.T) {
	site := made()
	for _, scheme := range site.Plan.Schemes {
		a, err := compare.Measure(t.Context(), &site, scheme.ID, compare.Options{Level: math.NaN()})
		if err != nil {
			t.Fatal(err)
		}
		_, deepest, wet := grid.Extent(a.Wet.Depth)
		if wet < 500 || deepest > 0.5 {
			t.Errorf("%s: water stands %.2f m deep", scheme.Name, deepest)
		}
		if a.Wet.Surface > 1.15*a.Surface {
			t.Errorf("%s: %.0f m² of the ground stand in water, the channels hold %.0f m²", scheme.Name, a.Wet.Surface, a.Surface)
		}
	}
}

func TestTheTableSaysWhatTheFiguresAre(t *testing.T) {
	out := must(t, "compare", siteFile(t))
	for _, want := range []string{"Contact area [m²]", "Storage [m³]", "runnel account", "loam",
		"14, 30 or 60 days", caution.Deference, "As it is", "Winding island channel", "Straight soakage trench", "Lane drain"} {
		if !strings.Contains(out, want) {
			t.Errorf("the table does not say %q", want)
		}
	}
	lines := strings.Split(out, "\n")
	head := utf8.RuneCountInString(lines[2])
	for _, line := range lines[3:14] {
		if got := utf8.RuneCountInString(line); got != head {
			t.Errorf("the line %q is %d wide, the heading %d", line, got, head)
		}
	}
}

func TestOneSchemeIsMeasuredAtALevel(t *testing.T) {
	path := siteFile(t)
	scheme := made().Plan.Schemes[0]
	contact := func(args ...string) report.Figure {
		var f report.Figures
		if err := json.Unmarshal([]byte(must(t, append([]string{"measure", path, "--json"}, args...)...)), &f); err != nil {
			t.Fatal(err)
		}
		if len(f.Schemes) != 1 {
			t.Fatalf("%d schemes are measured", len(f.Schemes))
		}
		return f.Schemes[0].ContactArea
	}
	level := made().Plan.Of(plan.Channel, scheme.ID)[0].Num("water_level")
	own, lower := contact("--scheme", scheme.Name), contact("--scheme", scheme.Name, "--level", report.Figure(level-0.1).With(3))
	if !(0 < lower && lower < own) {
		t.Errorf("contact is %g m², and %g m² with the water 0.1 m lower", own, lower)
	}
	if asItIs := contact("--scheme", "as it is"); !(0 < asItIs && asItIs < own) {
		t.Errorf("contact as it is is %g m²", asItIs)
	}
	refused(t, failed, "measure", path, "--scheme", "Nowhere")
}

func TestALevelFarFromTheGroundIsRefused(t *testing.T) {
	path := siteFile(t)
	low, high, _ := grid.Extent(made().Ground)
	for level, want := range map[float64]bool{
		1e9: true, -1e9: true, high + 10.1: true, low - 10.1: true, high + 9.9: false, low - 9.9: false,
	} {
		args := []string{"measure", path, "--level=" + report.Figure(level).With(2)}
		if !want {
			must(t, args...)
			continue
		}
		said := refused(t, mistake, args...)
		for _, height := range []float64{level, low, high} {
			if !strings.Contains(said, report.Figure(height).With(2)+" m") {
				t.Errorf("it says %q, and not %.2f m", said, height)
			}
		}
	}
}

func TestWhatIsNotMeasuredAsDrawnIsSaidInOneSentence(t *testing.T) {
	path := siteFile(t)
	out := must(t, "measure", path, "--level", "88")
	for _, want := range []string{"\nNot as drawn, Winding island channel\n  -  Winding channel would ", "measured at", ".\n"} {
		if !strings.Contains(out, want) {
			t.Errorf("the table does not say %q:\n%s", want, out)
		}
	}
	var f report.Figures
	if err := json.Unmarshal([]byte(must(t, "measure", path, "--level", "88", "--json")), &f); err != nil {
		t.Fatal(err)
	}
	if said := f.Schemes[1].Problems; len(said) != 1 || strings.Count(said[0], "Winding channel") != 1 {
		t.Errorf("the problems are %q", said)
	}
}

func TestTheDemoDoesTheWholeJob(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "demo")
	out := must(t, "demo", dir)
	for _, name := range []string{"site.gpkg", "plan.geojson", "map-as-it-is.png", "map-winding-island-channel.png",
		"map-straight-soakage-trench.png", "figures.json", "figures.txt", "account.json", "account.txt", "season.json", "season.txt",
		"storm.json", "storm.txt", "cautions.json", "cautions.txt"} {
		if info, err := os.Stat(filepath.Join(dir, name)); err != nil || info.Size() < 500 {
			t.Errorf("%s is not there, or holds next to nothing", name)
		}
	}
	table, err := os.ReadFile(filepath.Join(dir, "figures.txt"))
	if err != nil || string(table) != out {
		t.Error("the table that is shown is not the table that is written")
	}
	content, err := os.ReadFile(filepath.Join(dir, "figures.json"))
	if err != nil {
		t.Fatal(err)
	}
	var f map[string]any
	if err := json.Unmarshal(content, &f); err != nil {
		t.Fatal(err)
	}
	first := f["schemes"].([]any)[0].(map[string]any)
	for _, name := range []string{"contact_area_m2", "wet_bank_m", "storage_m3", "soak"} {
		if _, ok := first[name]; !ok {
			t.Errorf("figures.json has no %s", name)
		}
	}
	refused(t, failed, "demo", text(t, "file", "x"))
}
