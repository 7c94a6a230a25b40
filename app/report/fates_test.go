package report

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/analysis/fate"
	"runnel/analysis/runoff"
	"runnel/geo/plan"
)

func someFates() FateFigures {
	s := &plan.Site{Name: "Valley", Setting: plan.UsualSetting()}
	s.Plan.Features = []plan.Feature{
		{ID: 1, Kind: plan.Roof, Name: "Barn"}, {ID: 2, Kind: plan.Drain, Name: "Ditch"}, {ID: 3, Kind: plan.Culvert},
	}
	path := orb.LineString{{10, 20}, {11.4, 20}}
	fates := []fate.Fate{{
		Source: runoff.Source{Feature: 1, Area: 100, Coefficient: 0.9}, Storm: 3.6, Year: 63,
		Parts: []fate.Part{
			{End: fate.End{Kind: fate.Drain, Feature: 2}, Share: 0.75, Storm: 2.7, Year: 47.25, Path: path, Through: []plan.ID{3}},
			{End: fate.End{Kind: fate.Hollow, Pit: 5}, Share: 0.2496, Storm: 0.89856, Year: 15.7248, Path: path},
			{End: fate.End{Kind: fate.Edge}, Share: 0.0004, Storm: 0.00144, Year: 0.0252, Path: path},
		},
	}}
	return OfFates(s, plan.AsItIs, fates, []channel.Problem{{ID: 9, Err: errors.New("Wall 9 lies off the ground")}})
}

func TestTheTableTellsWhereEachRoofsWaterEnds(t *testing.T) {
	var table strings.Builder
	if err := someFates().WriteTable(&table); err != nil {
		t.Fatal(err)
	}
	want := `Valley: As it is
A storm of 40 mm in 2.0 hours, a year of 700 mm.

                                       area [m²]   share [%]   storm [m³]   year [m³]
Barn                                       100.0                     3.60        63.0
  to Ditch, by Culvert 3                                75.0         2.70        47.3
  to the hollow at 11 east, 20 north                    25.0         0.90        15.7
All of it
  to drains                                                          2.70        47.3
  to hollows                                                         0.90        15.7
  over the edge                                                      0.00         0.0
`
	got := table.String()
	if !strings.HasPrefix(got, want) {
		t.Errorf("the table is\n%s", got)
	}
	for _, more := range []string{fateNote, "Not as drawn\n  -  Wall 9 lies off the ground.\n"} {
		if !strings.Contains(got, more) {
			t.Errorf("the table does not say %q", more)
		}
	}
}

func TestFatesAreWrittenAsJSON(t *testing.T) {
	var text strings.Builder
	if err := someFates().WriteJSON(&text); err != nil {
		t.Fatal(err)
	}
	var back FateFigures
	if err := json.Unmarshal([]byte(text.String()), &back); err != nil {
		t.Fatal(err)
	}
	end := back.Sources[0].Ends[0]
	if back.Storm != 40 || back.Sources[0].Kind != "roof" || end.Kind != "drain" || end.ID != 2 || len(end.Path) != 2 || end.Through[0] != "Culvert 3" {
		t.Errorf("it comes back as %+v", back)
	}
}

func TestASiteWithNoRoofIsToldSo(t *testing.T) {
	var table strings.Builder
	if err := OfFates(&plan.Site{}, plan.AsItIs, nil, nil).WriteTable(&table); err != nil || !strings.Contains(table.String(), "No roof and no paving") {
		t.Errorf("the table is %q, %v", table.String(), err)
	}
}
