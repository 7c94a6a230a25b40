package action

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"runnel/app/report"
)

func fatesOf(t *testing.T, scheme string) map[string]report.SourceFigure {
	t.Helper()
	var f report.FateFigures
	if err := json.Unmarshal([]byte(must(t, "fates", siteFile(t), "--scheme", scheme, "--json")), &f); err != nil {
		t.Fatal(err)
	}
	if f.Scheme != scheme || len(f.Problems) > 0 || len(f.Sources) != 6 {
		t.Fatalf("%s: %d sources, problems %v", f.Scheme, len(f.Sources), f.Problems)
	}
	by := map[string]report.SourceFigure{}
	for _, s := range f.Sources {
		by[s.Name] = s
		share, storm := 0.0, 0.0
		for _, e := range s.Ends {
			share, storm = share+float64(e.Share), storm+float64(e.Storm)
		}
		// Figures are written to three decimals.
		if math.Abs(share-1) > 0.003 || math.Abs(storm-float64(s.Storm)) > 0.003 {
			t.Errorf("%s: shares come to %g, and %g of %g m³", s.Name, share, storm, s.Storm)
		}
	}
	return by
}

// The roof's 66 m² shed 0.9 of 40 mm and of 700 mm. As it is the water runs off
// the site; the winding channel takes it.
func TestTheWindingChannelTakesTheNorthHousesWater(t *testing.T) {
	for scheme, kind := range map[string]string{"As it is": "edge", "Winding island channel": "channel"} {
		house := fatesOf(t, scheme)["North house"]
		if math.Abs(float64(house.Area)-66) > 0.01 || math.Abs(float64(house.Storm)-2.376) > 0.001 || math.Abs(float64(house.Year)-41.58) > 0.01 {
			t.Errorf("the house of %g m² sheds %g m³ and %g m³", house.Area, house.Storm, house.Year)
		}
		if end := house.Ends[0]; end.Kind != kind || end.Share < 0.9 {
			t.Errorf("%s: most of it, %g, goes to the %s", scheme, end.Share, end.Kind)
		}
	}
}

func TestTheLaneInletTakesTheKerbsWater(t *testing.T) {
	for _, end := range fatesOf(t, "As it is")["Lane"].Ends {
		if end.Kind == "inlet" && end.Name == "Lane inlet" && end.Share > 0.2 {
			return
		}
	}
	t.Error("the inlet takes next to nothing")
}

func TestFatesAreToldAsATable(t *testing.T) {
	table := must(t, "fates", siteFile(t), "--scheme", "winding island channel")
	for _, want := range []string{"Plot by the lane: Winding island channel", "North house", "to Winding channel", "All of it"} {
		if !strings.Contains(table, want) {
			t.Errorf("the table does not say %q:\n%s", want, table)
		}
	}
}

func TestFatesOfASchemeThatIsNotThere(t *testing.T) {
	if says := refused(t, failed, "fates", siteFile(t), "--scheme", "Moat"); !strings.Contains(says, `the site has no scheme "Moat"`) {
		t.Errorf("it says %q", says)
	}
}
