package action

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"runnel/app/report"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

func TestACourseIsProposedInPlaceOfTheDrawnOne(t *testing.T) {
	path := siteFile(t)
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	args := []string{"propose", path, "--count", "1", "--effort", "0.1", "--seed", "1", "--setback", "1"}
	table := must(t, args...)
	for _, want := range []string{"Plot by the lane: Winding island channel", "In place of Winding channel, with 108.3 m³ of digging",
		"Contact area [m²]", "Proposal 1", "Straight line", "As drawn", "To well, 1.0 asked [m]", "starting points", "Local codes"} {
		if !strings.Contains(table, want) {
			t.Errorf("the table does not say %q:\n%s", want, table)
		}
	}
	if after, _ := os.ReadFile(path); string(after) != string(before) {
		t.Error("the site was written, and no one asked for that")
	}
	var f report.ProposalFigures
	if err := json.Unmarshal([]byte(must(t, append(args, "--json")...)), &f); err != nil {
		t.Fatal(err)
	}
	if len(f.Proposals) != 1 || f.Drawn == nil || f.Proposals[0].Contact <= f.Drawn.Contact || len(f.Proposals[0].Line) < len(f.Proposals[0].Knots) {
		t.Errorf("the figures are %+v and %+v", f.Proposals, f.Drawn)
	}
}

func TestProposalsAreWrittenAsSchemes(t *testing.T) {
	path := siteFile(t)
	args := []string{"propose", path, "--from", "523420,4811150", "--to", "523460,4811150", "--volume", "40", "--sides", "2:1",
		"--width", "0.4,0.8", "--count", "1", "--effort", "0.03", "--write"}
	must(t, args...)
	must(t, args...)
	site, err := gdal.OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	if len(site.Plan.Schemes) != 4 {
		t.Fatalf("there are %d schemes", len(site.Plan.Schemes))
	}
	for i, name := range []string{"Proposal 1", "Proposal 2"} {
		made := site.Plan.Schemes[2+i]
		var own []plan.Feature
		for _, f := range site.Plan.Features {
			if f.Scheme == made.ID {
				own = append(own, f)
			}
		}
		if made.Name != name || len(own) != 1 || own[0].Kind != plan.Channel || !own[0].Curved() || own[0].Num("side_left") != 2 {
			t.Errorf("the scheme %s holds %+v", made.Name, own)
		}
	}
}

func TestAnImpossibleProposalIsRefused(t *testing.T) {
	path := siteFile(t)
	ends := []string{"--from", "523420,4811150", "--to", "523460,4811150"}
	for _, c := range []struct {
		args   []string
		status int
		says   string
	}{
		{[]string{"--from", "523420,4811150"}, mistake, "give both --from E,N and --to E,N"},
		{ends, mistake, "--volume M3"},
		{append(ends, "--volume", "3"), failed, "give more volume"},
		{append(ends, "--volume", "0"), failed, "say how many m³ may be dug"},
		{[]string{"--from", "here", "--to", "523460,4811150", "--volume", "9"}, mistake, `--from is "here"; give an easting and a northing`},
		{append(ends, "--volume", "40", "--sides", "steep"), mistake, `--sides is "steep"`},
		{[]string{"--scheme", "as it is"}, failed, "has no channel"},
		{[]string{"--scheme", "Moat"}, failed, `the site has no scheme "Moat"`},
	} {
		args := append([]string{"propose", path, "--effort", "0.01"}, c.args...)
		if says := refused(t, c.status, args...); !strings.Contains(says, c.says) {
			t.Errorf("%v: it says %q", c.args, says)
		}
	}
}
