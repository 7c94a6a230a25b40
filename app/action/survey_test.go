package action

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/app/report"
	"runnel/assets/demo"
	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// measurements writes the demo's survey and returns its contours and its points.
func measurements(t *testing.T) (contours, points string) {
	t.Helper()
	dir, site := t.TempDir(), made()
	if err := writeSurvey(t.Context(), dir, &site); err != nil {
		t.Fatal(err)
	}
	return filepath.Join(dir, "contours.geojson"), filepath.Join(dir, "points.csv")
}

// opened opens a site file.
func opened(t *testing.T, path string) *plan.Site {
	t.Helper()
	site, err := gdal.OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	return site
}

// offDemo returns how far a ground lies off the demo's where both are known, as the
// root mean square [m], and in how many cells; the outermost metres are left out.
func offDemo(g grid.Ground) (rmse float64, cells int) {
	within := made().Ground.Bound().Pad(-4)
	var sum float64
	for i, z := range g.V {
		at := g.Centre(i%g.W, i/g.W)
		want := grid.Sample(made().Ground, at)
		if grid.IsNoData(z) || math.IsNaN(want) || !within.Contains(at) {
			continue
		}
		sum += (float64(z) - want) * (float64(z) - want)
		cells++
	}
	return math.Sqrt(sum / float64(cells)), cells
}

// surveyOf tells what a site's ground rests on.
func surveyOf(t *testing.T, path string) (f report.SurveyFigures) {
	t.Helper()
	if err := json.Unmarshal([]byte(must(t, "survey", path, "--json")), &f); err != nil {
		t.Fatal(err)
	}
	return f
}

// utm26 is the system of the demo's points.
const utm26 = "EPSG:32626"

var pointFlags = []string{"--from-crs", utm26, "--uses", "KERB=kerb", "--uses", "BED=breakline", "--uses", "EDGE=edge"}

// The truth is the demo's own ground, from which the contours were drawn.
func TestASiteIsMadeOfContours(t *testing.T) {
	contours, _ := measurements(t)
	path := filepath.Join(t.TempDir(), "garden.gpkg")
	r := run("new", path, "--contours", contours, "--height", "elev", "--cell", "0.5")
	if r.status != done || r.out != "" {
		t.Fatalf("it ends with %d: %s%s", r.status, r.out, r.err)
	}
	site := opened(t, path)
	if site.Name != "garden" || site.CRS.Code != 32626 || site.Ground.DX != 0.5 {
		t.Errorf("the site is %q in %v with cells of %g m", site.Name, site.CRS, site.Ground.DX)
	}
	if off, cells := offDemo(site.Ground); off > 0.06 || cells < 15_000 {
		t.Errorf("the ground is off by %.3f m (root mean square) in %d cells; the contours are 0.25 m apart", off, cells)
	}
	s := site.Survey
	if len(s.Sources) != 1 || s.Sources[0].Form != survey.Contours || s.Sources[0].Count != len(s.Lines) || len(s.Lines) < 10 {
		t.Errorf("it rests on %+v with %d lines", s.Sources, len(s.Lines))
	}
	if q := s.Quality; q.HeldOut == 0 || site.Setting.SurveyError != q.Error || site.Setting.SurveyReach != q.Reach {
		t.Errorf("the quality is %+v, and reckoned with are %g m over %g m", q, site.Setting.SurveyError, site.Setting.SurveyReach)
	}
	for _, want := range []string{"held out", "root mean square", "reckoned with is an error of", "cells of 0.50 m"} {
		if !strings.Contains(r.err, want) {
			t.Errorf("it does not tell %q: %s", want, r.err)
		}
	}
}

func TestTheBlunderAmongPointsIsToldAndLeftOutByConsentOnly(t *testing.T) {
	_, points := measurements(t)
	dir := t.TempDir()
	make := func(name string, flags ...string) (result, *plan.Site) {
		path := filepath.Join(dir, name)
		args := append([]string{"new", path, "--points", points, "--cell", "0.5"}, pointFlags...)
		r := run(append(args, flags...)...)
		if r.status != done {
			t.Fatalf("it ends with %d: %s", r.status, r.err)
		}
		return r, opened(t, path)
	}
	kept, with := make("kept.gpkg")
	if !strings.Contains(kept.err, fmt.Sprintf("row %d of points.csv", demo.Mistaken+1)) || !strings.Contains(kept.err, "--leave-out") {
		t.Errorf("point %d is a metre too high, and it says %s", demo.Mistaken, kept.err)
	}
	if n := with.Survey.LeftOut(); n != 0 {
		t.Errorf("%d are left out without consent", n)
	}
	_, without := make("left.gpkg", "--leave-out")
	if n := without.Survey.LeftOut(); n == 0 || n > 3 {
		t.Errorf("%d are left out by consent; one is a metre too high", n)
	}
	at := demo.Shots()[demo.Mistaken-1].At
	truth := grid.Sample(made().Ground, at)
	if z := grid.Sample(with.Ground, at); z < truth+0.5 {
		t.Errorf("with the blunder the ground is %.2f m there, %.2f m in truth", z, truth)
	}
	if z := grid.Sample(without.Ground, at); math.Abs(z-truth) > 0.15 {
		t.Errorf("without the blunder the ground is %.2f m there, %.2f m in truth", z, truth)
	}
	if off, cells := offDemo(without.Ground); off > 0.12 || cells < 15_000 {
		t.Errorf("the ground is off by %.3f m (root mean square) in %d cells", off, cells)
	}
	uses := map[survey.Use]int{}
	for _, l := range without.Survey.Lines {
		uses[l.Use]++
	}
	if uses[survey.Kerb] != 1 || uses[survey.Break] != 1 || uses[survey.Edge] != 1 {
		t.Errorf("the codes became %v", uses)
	}
}

func TestContoursAndPointsMakeOneGround(t *testing.T) {
	contours, points := measurements(t)
	path := filepath.Join(t.TempDir(), "both.gpkg")
	args := append([]string{"new", path, "--contours", contours, "--points", points, "--leave-out", "--cell", "0.5", "--columns", "PNEZD"}, pointFlags...)
	must(t, args...)
	site := opened(t, path)
	if n := len(site.Survey.Sources); n != 2 || site.CRS.Code != 32626 {
		t.Fatalf("it rests on %d files, in %v", n, site.CRS)
	}
	if off, _ := offDemo(site.Ground); off > 0.06 {
		t.Errorf("the ground is off by %.3f m (root mean square)", off)
	}
	f := surveyOf(t, path)
	if len(f.Sources) != 2 || f.Sources[0].Form != "contours" || f.Sources[1].Form != "points" || f.LeftOut == 0 {
		t.Errorf("it rests on %+v, with %d left out", f.Sources, f.LeftOut)
	}
}

func TestColumnsAreTakenByNumberByNameAndByOrder(t *testing.T) {
	_, points := measurements(t)
	content, err := os.ReadFile(points)
	if err != nil {
		t.Fatal(err)
	}
	_, rows, _ := strings.Cut(string(content), "\n")
	bare, named := text(t, "bare.csv", rows), text(t, "named.csv", "a,b,c,d,e\n"+rows)
	for _, try := range [][2]string{
		{bare, "PNEZD"}, {bare, "pnezd"}, {bare, "point=1,north=2,east=3,height=4,code=5"}, {named, "east=c,north=b,height=d"}, {points, "x=east,y=north,z=height"},
	} {
		path := filepath.Join(t.TempDir(), "a.gpkg")
		must(t, "new", path, "--points", try[0], "--columns", try[1], "--from-crs", utm26, "--cell", "2")
		site := opened(t, path)
		if off, cells := offDemo(site.Ground); off > 0.2 || cells < 800 {
			t.Errorf("%s: the ground is off by %.2f m in %d cells", try[1], off, cells)
		}
	}
	for _, bad := range []string{"east=9,north=2", "east=ost,north=b", "east=3", "east=2,north=2"} {
		refused(t, failed, "new", filepath.Join(t.TempDir(), "a.gpkg"), "--points", named, "--columns", bad, "--from-crs", utm26)
	}
}

func TestMeasurementsThatAreTypedWronglyEndWithTwo(t *testing.T) {
	for _, args := range [][]string{
		{"--ground", "a.tif", "--contours", "b.geojson"}, {"--ground", "a.tif", "--height", "elev"}, {"--ground", "a.tif", "--leave-out"},
		{"--edge", "a.geojson"}, {"--contours", "a.geojson", "--tension", "2"}, {"--contours", "a.geojson", "--error", "0"},
		{"--points", "a.csv", "--columns", "NEZ?"}, {"--points", "a.csv", "--columns", "east=0,north=1"}, {"--points", "a.csv", "--columns", "up=1"},
		{"--points", "a.csv", "--uses", "KERB"}, {"--points", "a.csv", "--uses", "KERB=wall"}, {"--points", "a.csv", "--uses", "=kerb"},
	} {
		refused(t, mistake, append([]string{"new", filepath.Join(t.TempDir(), "a.gpkg")}, args...)...)
	}
	for _, args := range [][]string{
		{"--contours", filepath.Join(t.TempDir(), "none.geojson")}, {"--points", text(t, "text.csv", "no numbers here\n")},
		{"--contours", text(t, "bad.geojson", "{")}, {"--contours", text(t, "a.geojson", "{}"), "--crs", "EPSG:4326"},
	} {
		refused(t, failed, append([]string{"new", filepath.Join(t.TempDir(), "a.gpkg")}, args...)...)
	}
}

func TestTheSurveyOfASiteIsTold(t *testing.T) {
	path := siteFile(t)
	f := surveyOf(t, path)
	if !f.Recorded || len(f.Sources) != 1 || f.Sources[0].Form != "raster" || f.Quality.Error != 0.02 {
		t.Errorf("the demo's ground rests on %+v", f)
	}
	out := must(t, "survey", path)
	for _, want := range []string{"Invented ground", "[m]", "held out in turn", "Error that is reckoned with [m]", "Too thin to say"} {
		if !strings.Contains(out, want) {
			t.Errorf("it does not tell %q:\n%s", want, out)
		}
	}
	site := made()
	site.Survey = survey.Survey{}
	bare := filepath.Join(t.TempDir(), "bare.gpkg")
	if err := gdal.SaveSite(bare, &site); err != nil {
		t.Fatal(err)
	}
	if out := must(t, "survey", bare); !strings.Contains(out, report.NoRecord) {
		t.Errorf("a site without a record of its survey is told as\n%s", out)
	}
	refused(t, failed, "survey", filepath.Join(t.TempDir(), "none.gpkg"))
	refused(t, mistake, "survey")
}

// A field may be called Z, and lines without one may have a Z at each point.
func TestHeightsComeFromTheFieldThatIsNamed(t *testing.T) {
	lines := func(name, fields, z string) string {
		var all []string
		for i := range 8 {
			x, n := float64(10*i), fmt.Sprint(100+i)
			p := func(north float64) string {
				return fmt.Sprintf("[%g,%g%s]", 500_000+x, north, strings.ReplaceAll(z, "#", n))
			}
			all = append(all, fmt.Sprintf(`{"type":"Feature","properties":{%s},"geometry":{"type":"LineString","coordinates":[%s,%s]}}`,
				strings.ReplaceAll(fields, "#", n), p(4_800_000), p(4_800_080)))
		}
		return text(t, name, `{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::32632"}},"features":[`+strings.Join(all, ",")+"]}")
	}
	path := filepath.Join(t.TempDir(), "a.gpkg")
	for name, file := range map[string]string{"a field": lines("f.geojson", `"PK":"a","Z":#`, ""), "the points": lines("z.geojson", `"PK":"a"`, ",#")} {
		r := run("new", path, "--force", "--contours", file, "--height", "z", "--cell", "2")
		if r.status != done {
			t.Fatalf("Z of %s: %s", name, r.err)
		}
		if z := grid.Sample(opened(t, path).Ground, orb.Point{500_040, 4_800_040}); math.Abs(z-104) > 0.05 {
			t.Errorf("Z of %s gives a height of %g m, want 104 m", name, z)
		}
	}
	said := refused(t, failed, "new", path, "--force", "--contours", lines("f.geojson", `"PK":"a","Z":#`, ""), "--height", "elevation")
	if !strings.Contains(said, `it has no field "elevation"; its fields are PK, Z, and Z takes the height of each point`) {
		t.Errorf("of a field that is not there it says %q", said)
	}
}

func TestPointsWithoutASystemSayHowToGiveOne(t *testing.T) {
	path, file := filepath.Join(t.TempDir(), "a.gpkg"), text(t, "p.csv", "east,north,z\n100,200,10\n120,220,11\n140,200,10.5\n100,240,10\n120,260,11.4\n")
	if said := refused(t, failed, "new", path, "--points", file); !strings.Contains(said, "--from-crs EPSG:CODE, or --from-crs m") {
		t.Errorf("it says %q", said)
	}
	if r := run("new", path, "--points", file, "--from-crs", "m"); r.status != done {
		t.Errorf("as lengths of their own: %s", r.err)
	}
}
