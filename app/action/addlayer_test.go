package action

import (
	"fmt"
	"strings"
	"testing"

	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// layers is a drawing of two layers on the made site, as GDAL writes a DXF's.
func layers(t *testing.T) string {
	t.Helper()
	c := made().Ground.Bound().Center()
	line := func(layer string, by float64) string {
		return fmt.Sprintf(`{"type":"Feature","properties":{"Layer":%q,"EntityHandle":"1"},"geometry":{"type":"LineString","coordinates":[[%f,%f],[%f,%f]]}}`,
			layer, c[0], c[1]+by, c[0]+5, c[1]+by)
	}
	system := fmt.Sprintf(`{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::%d"}}`, made().CRS.Code)
	return text(t, "site.geojson", `{"type":"FeatureCollection","crs":`+system+`,"features":[`+
		strings.Join([]string{line("A-WALL", 1), line("A=KERB", 2), line("PATHS", 3), line("GRID", 4)}, ",")+"]}")
}

func TestEachLayerBecomesItsKind(t *testing.T) {
	path := siteFile(t)
	walls, kerbs := len(features(t, path, plan.Wall)), len(features(t, path, plan.Kerb))
	r := run("add", path, layers(t), "--layer", "a-wall=wall", "--layer", "A=KERB=kerb", "--layer", "PATHS=path", "--scheme", "New", "--set", "width=2")
	if r.status != done || !strings.Contains(r.err, "added 1 wall to the site as it is") || !strings.Contains(r.err, "added 1 path to the scheme New") {
		t.Fatalf("status %d, %q", r.status, r.err)
	}
	if w, k := len(features(t, path, plan.Wall))-walls, len(features(t, path, plan.Kerb))-kerbs; w != 1 || k != 1 {
		t.Errorf("%d walls and %d kerbs came in", w, k)
	}
	paths := features(t, path, plan.Path)
	if last := paths[len(paths)-1]; last.Num("width") != 2 {
		t.Errorf("the path is %g m wide", last.Num("width"))
	}
	r = run("add", path, layers(t), "--layer", "GRID=drain", "--as", "wall")
	if r.status != done || !strings.Contains(r.err, "added 3 walls") || !strings.Contains(r.err, "added 1 drain") {
		t.Errorf("with --as for the others: %d, %q", r.status, r.err)
	}
}

func TestLayersThatAreTypedWronglyAreTold(t *testing.T) {
	path, file := siteFile(t), layers(t)
	for want, args := range map[string][]string{
		"with --as KIND":              {},
		"give the layer's name":       {"--layer", "PATHS"},
		"is not a kind of feature":    {"--layer", "PATHS=lane"},
		"name its scheme":             {"--layer", "PATHS=path"},
		"leave out --scheme":          {"--layer", "A-WALL=wall", "--scheme", "New"},
		`a wall has no field "width"`: {"--layer", "A-WALL=wall", "--set", "width=2"},
	} {
		if said := refused(t, mistake, append([]string{"add", path, file}, args...)...); !strings.Contains(said, want) {
			t.Errorf("%q: %q, want %q", args, said, want)
		}
	}
	if said := refused(t, failed, "add", path, file, "--layer", "ROOFS=roof"); !strings.Contains(said, `no layer "ROOFS"; it has: A-WALL, A=KERB, PATHS, GRID`) {
		t.Errorf("a layer that is not there: %q", said)
	}
}

func TestTheSystemOfADrawingMayBeGiven(t *testing.T) {
	path := siteFile(t)
	degrees := text(t, "trees.csv", "x,y\n-26.71,43.4527\n")
	before := len(features(t, path, plan.Tree))
	must(t, "add", path, degrees, "--as", "tree", "--crs", "EPSG:4326")
	trees := features(t, path, plan.Tree)
	site, err := gdal.OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	if at := trees[len(trees)-1].Point(); len(trees) != before+1 || !site.Ground.Bound().Pad(200).Contains(at) {
		t.Errorf("the tree stands at %v", at)
	}
	if said := refused(t, failed, "add", path, degrees, "--as", "tree", "--crs", "EPSG:1"); !strings.Contains(said, "not a known reference system") {
		t.Errorf("%q", said)
	}
}
