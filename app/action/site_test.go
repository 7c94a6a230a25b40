package action

import (
	"context"
	"encoding/json"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

func TestANewSiteHoldsTheGroundOfTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "garden.gpkg")
	must(t, "new", path, "--ground", raster(t, pond, utm, 2))
	site, err := gdal.OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	want := plan.UsualSetting()
	want.SurveyError, want.SurveyReach = site.Survey.Quality.Error, site.Survey.Quality.Reach
	if site.Name != "garden" || site.CRS.Code != 32633 || site.Setting != want || !(want.SurveyError > 0) {
		t.Errorf("the site is %q in %v with %+v", site.Name, site.CRS, site.Setting)
	}
	if from := site.Survey.Sources; len(from) != 1 || from[0].Name != "ground.tif" || from[0].Form != survey.Raster || from[0].Cell != 2 ||
		!strings.Contains(from[0].System, "32633") {
		t.Errorf("it rests on %+v", from)
	}
	if site.Ground.W != 6 || site.Ground.H != 5 || site.Ground.DX != 2 || site.Ground.At(3, 2) != 4 || !grid.IsNoData(site.Ground.At(4, 4)) {
		t.Errorf("the ground is %+v\n%s", site.Ground.Frame, grid.Print(site.Ground))
	}
}

func TestANewSiteIsMadeAsItIsAskedFor(t *testing.T) {
	path := filepath.Join(t.TempDir(), "garden.gpkg")
	must(t, "new", path, "--ground", raster(t, pond, utm, 2), "--name", "Orchard", "--cell", "1",
		"--bounds", "500002,3999992,500010,3999998", "--height-unit", "ft")
	site, err := gdal.OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	if f := site.Ground.Frame; site.Name != "Orchard" || f.W != 8 || f.H != 6 || f.DX != 1 || f.West != 500_002 {
		t.Errorf("the site is %q on %+v", site.Name, f)
	}
	if _, high, _ := grid.Extent(site.Ground); math.Abs(high-8*0.3048) > 0.31 {
		t.Errorf("the highest cell is at %g m; 8 ft are 2.44 m", high)
	}
}

func TestANewSiteDoesNotOverwriteUnlessItIsForced(t *testing.T) {
	ground := raster(t, pond, utm, 2)
	path := text(t, "kept.gpkg", "a person's work")
	if said := refused(t, failed, "new", path, "--ground", ground); !strings.Contains(said, "--force") {
		t.Errorf("it says %q", said)
	}
	if kept, _ := os.ReadFile(path); string(kept) != "a person's work" {
		t.Fatal("the file was written over")
	}
	refused(t, failed, "new", path, "--ground", ground, "--height-unit", "m", "--force") // it is no GeoPackage
	old := siteFile(t)
	refused(t, failed, "new", old, "--ground", ground)
	must(t, "new", old, "--ground", ground, "--force")
	if site, err := gdal.OpenSite(old); err != nil || site.Ground.Len() != 30 || len(site.Plan.Features) != 0 {
		t.Errorf("the new site has %d cells and %d features; %v", site.Ground.Len(), len(site.Plan.Features), err)
	}
	refused(t, failed, "new", filepath.Join(t.TempDir(), "no", "folder", "a.gpkg"), "--ground", ground, "--height-unit", "m")
	refused(t, failed, "new", filepath.Join(t.TempDir(), "a.gpkg"), "--ground", ground, "--crs", "EPSG:99999999")
	refused(t, failed, "new", filepath.Join(t.TempDir(), "a.gpkg"), "--ground", text(t, "text.tif", "no heights"))
	refused(t, failed, "new", filepath.Join(t.TempDir(), "a.gpkg"), "--ground", ground, "--bounds", "0,0,1,1")
}

// drawing is one area near the middle of the demo site, in longitude and latitude.
func drawing(t *testing.T) string {
	t.Helper()
	place, release, err := lonLat(made().CRS)
	if err != nil {
		t.Fatal(err)
	}
	defer release()
	middle := made().Ground.Bound().Center()
	var corners [][2]float64
	for _, c := range [][2]float64{{0, 0}, {4, 0}, {4, 3}, {0, 3}, {0, 0}} {
		p, err := place([2]float64{middle[0] + c[0], middle[1] + c[1]})
		if err != nil {
			t.Fatal(err)
		}
		corners = append(corners, p)
	}
	content, err := json.Marshal(map[string]any{"type": "FeatureCollection", "features": []any{
		map[string]any{"type": "Feature", "properties": map[string]any{"name": "Shed"},
			"geometry": geometry{"Polygon", [][][2]float64{corners}}},
	}})
	if err != nil {
		t.Fatal(err)
	}
	return text(t, "shed.geojson", string(content))
}

func TestADrawingIsAddedAsAKindWithItsFields(t *testing.T) {
	path := siteFile(t)
	must(t, "add", path, drawing(t), "--as", "roof", "--set", "runoff=0,8")
	roofs := features(t, path, plan.Roof)
	shed := roofs[len(roofs)-1]
	if len(roofs) != 3 || shed.Name != "Shed" || shed.Num("runoff") != 0.8 {
		t.Fatalf("%d roofs; the last is %q with runoff %g", len(roofs), shed.Name, shed.Num("runoff"))
	}
	if b, middle := shed.Geometry.Bound(), made().Ground.Bound().Center(); math.Abs(b.Min[0]-middle[0]) > 0.01 || math.Abs(b.Max[1]-middle[1]-3) > 0.01 {
		t.Errorf("it stands at %v", b)
	}
	if int64(shed.ID) <= made().Plan.Last {
		t.Errorf("it has number %d, which was given before", shed.ID)
	}
}

func TestASchemeIsMadeForADesignThatNamesOne(t *testing.T) {
	path := siteFile(t)
	must(t, "add", path, drawing(t), "--as", "planting", "--scheme", "Third way", "--set", "plant=mint; and thyme")
	must(t, "add", path, drawing(t), "--as", "planting", "--scheme", "third way")
	site, err := gdal.OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	scheme, err := site.Plan.SchemeNamed("Third way")
	if err != nil || len(site.Plan.Schemes) != 3 {
		t.Fatalf("%d schemes; %v", len(site.Plan.Schemes), err)
	}
	got := site.Plan.Of(plan.Planting, scheme.ID)
	if len(got) != 2 || got[0].Text("plant") != "mint; and thyme" {
		t.Errorf("the scheme holds %d plantings: %+v", len(got), got)
	}
}

func TestADrawingThatHoldsNothingOfTheKindLeavesTheSite(t *testing.T) {
	path := siteFile(t)
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	point := text(t, "point.geojson", `{"type":"Feature","properties":{},"geometry":{"type":"Point","coordinates":[-26.7,43.4]}}`)
	r := run("add", path, point, "--as", "drain")
	if r.status != failed || !strings.Contains(r.err, "left out") {
		t.Errorf("status %d, %q", r.status, r.err)
	}
	for _, bad := range []string{filepath.Join(t.TempDir(), "none.geojson"), text(t, "empty.geojson", ""), text(t, "text.geojson", "no drawing"), t.TempDir()} {
		refused(t, failed, "add", path, bad, "--as", "roof")
	}
	if after, _ := os.ReadFile(path); string(after) != string(before) {
		t.Error("the site was written")
	}
}

func TestADropRunsDownToTheEdge(t *testing.T) {
	path := siteFile(t)
	var f struct {
		Type     string
		Geometry struct {
			Type        string
			Coordinates [][2]float64
		}
		Properties map[string]any
	}
	if err := json.Unmarshal([]byte(must(t, "trace", path, "523460", "4811150")), &f); err != nil {
		t.Fatal(err)
	}
	if f.Type != "Feature" || f.Geometry.Type != "LineString" || len(f.Geometry.Coordinates) < 50 {
		t.Fatalf("a %s of a %s of %d points", f.Type, f.Geometry.Type, len(f.Geometry.Coordinates))
	}
	// The place lies 51 m north of the south edge, on ground that falls 3 in 100.
	length, fall := f.Properties["length_m"].(float64), f.Properties["drop_m"].(float64)
	if length < 50 || length > 150 || fall < 0.9 || fall > 3 || f.Properties["end"] != "off the ground" {
		t.Errorf("the path has %v", f.Properties)
	}
	refused(t, failed, "trace", path, "-100", "-200")
	refused(t, failed, "trace", path, "523300", "4811150")
}

func TestNegativeCoordinatesAreTraced(t *testing.T) {
	site := plan.Site{Name: "West", CRS: crs.CRS{Code: 3035, Name: "ETRS89-extended / LAEA Europe", Metre: 1},
		Ground: pond.Clone(), Setting: plan.UsualSetting()}
	site.Ground.Frame = grid.Square(6, 5, -12, -20, 1)
	path := filepath.Join(t.TempDir(), "west.gpkg")
	if err := gdal.SaveSite(path, &site); err != nil {
		t.Fatal(err)
	}
	r := run("trace", path, "-11.5", "-20.5")
	if r.status == mistake {
		t.Errorf("it is taken for a flag: %s", r.err)
	}
}

func TestASiteIsExportedInEveryForm(t *testing.T) {
	path, dir := siteFile(t), t.TempDir()
	scheme := made().Plan.Schemes[0]
	must(t, "export", path, filepath.Join(dir, "copy.gpkg"))
	if got := len(features(t, filepath.Join(dir, "copy.gpkg"), plan.Tree)); got != 5 {
		t.Errorf("the copy holds %d trees, want 5", got)
	}
	must(t, "export", path, filepath.Join(dir, "plan.geojson"))
	var c struct {
		Type     string
		Features []any
	}
	content, _ := os.ReadFile(filepath.Join(dir, "plan.geojson"))
	if err := json.Unmarshal(content, &c); err != nil || c.Type != "FeatureCollection" || len(c.Features) != len(made().Plan.Features) {
		t.Errorf("plan.geojson is a %s of %d features; %v", c.Type, len(c.Features), err)
	}
	must(t, "export", path, filepath.Join(dir, "proposed.tif"), "--scheme", scheme.Name)
	proposed := read(t, filepath.Join(dir, "proposed.tif"))
	start := made().Plan.Of(plan.Channel, scheme.ID)[0].Line()[30]
	x, y, _ := made().Ground.Cell(start)
	if cut := made().Ground.At(x, y) - proposed.Grid.At(x, y); cut < 0.3 || cut > 1 {
		t.Errorf("the channel is cut %g m deep in the proposed ground", cut)
	}
	must(t, "export", path, filepath.Join(dir, "map.png"), "--scheme", scheme.Name, "--size", "640x480")
	f, err := os.Open(filepath.Join(dir, "map.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if size, err := png.DecodeConfig(f); err != nil || size.Width != 640 || size.Height != 480 {
		t.Errorf("the map is %d by %d; %v", size.Width, size.Height, err)
	}
	refused(t, failed, "export", path, filepath.Join(dir, "a.png"), "--scheme", "Nowhere")
	refused(t, failed, "export", path, filepath.Join(dir, "a.png"), "--size", "9x999999")
	refused(t, failed, "export", path, filepath.Join(dir, "none", "a.png"))
}

func TestAFileIsWrittenWholeOrNotAtAll(t *testing.T) {
	path := text(t, "kept", "before")
	if err := writeFile(path, func(w io.Writer) error {
		w.Write([]byte("half"))
		return context.Canceled
	}); err == nil {
		t.Fatal("the fault is not reported")
	}
	if kept, _ := os.ReadFile(path); string(kept) != "before" {
		t.Errorf("the file holds %q", kept)
	}
	if left, _ := os.ReadDir(filepath.Dir(path)); len(left) != 1 {
		t.Errorf("%d files are left in the folder", len(left))
	}
}
