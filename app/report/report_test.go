package report

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"runnel/analysis/caution"
	"runnel/analysis/compare"
	"runnel/geo/plan"
)

func TestAFigureThatIsNotKnownIsNullAndADash(t *testing.T) {
	for _, c := range []struct {
		figure      Figure
		json, table string
	}{
		{12.34567, "12.346", "12.3"}, {0, "0", "0.0"}, {-0.0001, "0", "0.0"}, {1e7, "10000000", "10000000.0"},
		{Figure(math.NaN()), "null", "–"}, {Figure(math.Inf(1)), "null", "–"},
	} {
		got, err := json.Marshal(c.figure)
		if err != nil || string(got) != c.json {
			t.Errorf("%g is written as %s, want %s; %v", c.figure, got, c.json, err)
		}
		if got := c.figure.With(1); got != c.table {
			t.Errorf("%g stands as %q in a table, want %q", c.figure, got, c.table)
		}
	}
}

func TestColumnsAreAlignedByWhatIsSeen(t *testing.T) {
	got := align([][]string{{"", "As it is", "Größe"}, {"Area [m²]", "1.0", "12.0"}, {"Depth", "–", "3"}})
	want := "            As it is   Größe\nArea [m²]        1.0    12.0\nDepth              –       3\n"
	if got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

func TestTheTableAndTheJSONTellTheSame(t *testing.T) {
	s := &plan.Site{Name: "Valley", Setting: plan.UsualSetting()}
	accounts := []compare.Account{
		{Name: "As it is", Contact: 40.04, Ratio: 1},
		{Name: "Winding", Contact: 100.16, Ratio: 2.5, Cautions: []caution.Caution{{
			Rule: "well", Text: "Water stands near a well.", Measured: "9.8 m to the water's edge.", Guidance: "Keep 15.2 m away.",
		}}},
	}
	var table, text strings.Builder
	f := Of(s, accounts)
	if err := f.WriteTable(&table); err != nil {
		t.Fatal(err)
	}
	if err := f.WriteJSON(&text); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Valley", "40.0", "100.2", "2.50", "Cautions, Winding", "Keep 15.2 m away.", caution.Deference} {
		if !strings.Contains(table.String(), want) {
			t.Errorf("the table does not say %q:\n%s", want, table.String())
		}
	}
	var back Figures
	if err := json.Unmarshal([]byte(text.String()), &back); err != nil {
		t.Fatal(err)
	}
	if len(back.Schemes) != 2 || back.Schemes[1].ContactArea != 100.16 || back.Schemes[1].Cautions[0].Measured != "9.8 m to the water's edge." {
		t.Errorf("the JSON comes back as %+v", back)
	}
}
