package action

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/earthwork"
	"runnel/app/report"
	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// setOut is the setting out of the demo site's first scheme.
func setOut(t *testing.T) (site plan.Site, name string, pegs []earthwork.Peg) {
	t.Helper()
	site = made()
	scheme := site.Plan.Schemes[0]
	out, err := report.NewSetOut(context.Background(), &site, scheme.ID, earthwork.SetOutOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return site, scheme.Name, out.Pegs
}

// drawnIn reads back the shapes of one layer of a file.
func drawnIn(t *testing.T, path, layer string) []gdal.Drawn {
	t.Helper()
	site := made()
	all, _, err := gdal.ReadDrawn(t.Context(), path, gdal.DrawnOptions{To: site.CRS})
	if err != nil {
		t.Fatal(err)
	}
	return slices.DeleteFunc(all, func(d gdal.Drawn) bool { return d.Layer != layer })
}

// strays says how far the points of drawn shapes lie from those of pegs at most [m].
func strays(drawn []gdal.Drawn, pegs []earthwork.Peg) float64 {
	if len(drawn) != len(pegs) {
		return math.Inf(1)
	}
	far := 0.0
	for i, d := range drawn {
		at, _ := d.Geometry.(orb.Point)
		far = max(far, math.Hypot(at[0]-pegs[i].At[0], at[1]-pegs[i].At[1]))
	}
	return far
}

func TestASchemeIsSetOutInEveryForm(t *testing.T) {
	site := siteFile(t)
	_, name, pegs := setOut(t)
	dir := t.TempDir()
	for end, beside := range map[string][]string{
		".csv": {"pegs.note.txt"}, ".gpx": nil, ".dxf": {"pegs.note.txt"}, ".json": nil, ".txt": nil,
	} {
		folder := filepath.Join(dir, end[1:])
		if err := os.Mkdir(folder, 0o777); err != nil {
			t.Fatal(err)
		}
		said := must(t, "setout", site, filepath.Join(folder, "pegs"+end), "--scheme", name)
		for _, file := range append(beside, "pegs"+end) {
			if info, err := os.Stat(filepath.Join(folder, file)); err != nil || info.Size() == 0 || !strings.Contains(said, file) {
				t.Errorf("%s: %v; it says %q", file, err, said)
			}
		}
		if files, _ := os.ReadDir(folder); len(files) != len(beside)+1 {
			t.Errorf("%s leaves %d files", end, len(files))
		}
	}
	if far := strays(drawnIn(t, filepath.Join(dir, "dxf", "pegs.dxf"), "PEGS"), pegs); !(far <= 0.001) {
		t.Errorf("pegs come back from a DXF %g m off", far)
	}
	if far := strays(drawnIn(t, filepath.Join(dir, "gpx", "pegs.gpx"), "waypoints"), pegs); !(far <= 0.01) {
		t.Errorf("pegs come back from a GPX %g m off", far)
	}
	lines := drawnIn(t, filepath.Join(dir, "dxf", "pegs.dxf"), "CENTRELINE")
	if len(lines) != 1 || len(lines[0].Geometry.(orb.LineString)) < 40 {
		t.Errorf("the centreline comes back as %d lines", len(lines))
	}
}

// The points make a ground again, north where north is.
func TestThePegsCanBeReadAsASurvey(t *testing.T) {
	dir := t.TempDir()
	_, name, pegs := setOut(t)
	points, made := filepath.Join(dir, "pegs.csv"), filepath.Join(dir, "made.gpkg")
	must(t, "setout", siteFile(t), points, "--scheme", name, "--table")
	if _, err := os.Stat(filepath.Join(dir, "pegs.table.csv")); err != nil {
		t.Error(err)
	}
	must(t, "new", made, "--points", points, "--from-crs", "EPSG:32626", "--leave-out")
	again, err := gdal.OpenSite(made)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pegs {
		if !again.Ground.Bound().Contains(p.At) {
			t.Fatalf("peg %d, at %v, lies outside the ground that is made of the points: %v", p.Number, p.At, again.Ground.Bound())
		}
	}
}

func TestTheTableGoesToStandardOutput(t *testing.T) {
	_, name, pegs := setOut(t)
	said := must(t, "setout", siteFile(t), "-", "--scheme", strings.ToUpper(name), "--every", "4")
	if !strings.Contains(said, "R to bed   Marks\n") || !strings.Contains(said, report.Beware) {
		t.Errorf("the table is %s", said)
	}
	path := filepath.Join(t.TempDir(), "pegs.json")
	must(t, "setout", siteFile(t), path, "--scheme", name, "--every", "4", "--offset", "1.5")
	var got struct {
		Pegs []struct {
			Left struct {
				StakeOff float64 `json:"stake_outside_bank_top"`
			}
		}
	}
	data, _ := os.ReadFile(path)
	if err := json.Unmarshal(data, &got); err != nil || len(got.Pegs) >= len(pegs) || got.Pegs[1].Left.StakeOff != 1.5 {
		t.Errorf("%d pegs every 4 m, %d every 2 m; %v", len(got.Pegs), len(pegs), err)
	}
}

func TestASettingOutThatCannotBeIsRefused(t *testing.T) {
	site, dir := siteFile(t), t.TempDir()
	_, name, _ := setOut(t)
	for _, c := range []struct {
		status int
		args   []string
		says   string
	}{
		{mistake, []string{"pegs.pdf", "--scheme", name}, ".csv, .gpx, .dxf"},
		{mistake, []string{"pegs", "--scheme", name}, ".csv, .gpx, .dxf"},
		{mistake, []string{"", "--scheme", name}, "empty"},
		{mistake, []string{"pegs.csv"}, "--scheme"},
		{failed, []string{"pegs.csv", "--scheme", "No such"}, "No such"},
		{failed, []string{"pegs.csv", "--scheme", "As it is"}, "no channel"},
		{mistake, []string{"pegs.csv", "--scheme", name, "--every", "0"}, "--every"},
		{mistake, []string{"pegs.csv", "--scheme", name, "--every", "nan"}, "--every"},
		{mistake, []string{"pegs.csv", "--scheme", name, "--offset=-1"}, "--offset"},
		{failed, []string{"pegs.csv", "--scheme", name, "--every", "0.001"}, "0.2"},
		{mistake, []string{"pegs.gpx", "--scheme", name, "--table"}, "--table"},
		{failed, []string{"no/folder/pegs.gpx", "--scheme", name}, "no folder"},
	} {
		if c.args[0] != "" {
			c.args[0] = filepath.Join(dir, c.args[0])
		}
		if said := refused(t, c.status, append([]string{"setout", site}, c.args...)...); !strings.Contains(said, c.says) {
			t.Errorf("%v says %q", c.args, said)
		}
	}
	if left, _ := os.ReadDir(dir); len(left) > 0 {
		t.Errorf("%s is left behind", left[0].Name())
	}
}

func TestAPhonesFileNeedsAReferenceSystem(t *testing.T) {
	s, name, _ := setOut(t)
	s.CRS = crs.CRS{}
	path := filepath.Join(t.TempDir(), "site.gpkg")
	if err := gdal.SaveSite(path, &s); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(filepath.Dir(path), "pegs.gpx")
	if said := refused(t, failed, "setout", path, file, "--scheme", name); !strings.Contains(said, "reference system") {
		t.Errorf("it says %q", said)
	}
	must(t, "setout", path, filepath.Join(filepath.Dir(path), "pegs.dxf"), "--scheme", name)
}
