package action

import (
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"strings"
	"testing"

	"runnel/geo/crs"
	"runnel/geo/gdal"
)

func TestAnImageIsLaidUnderTheMapOfASite(t *testing.T) {
	ground := raster(t, pond, utm, 2)
	path := t.TempDir() + "/garden.gpkg"
	must(t, "new", path, "--ground", ground)
	before, err := gdal.OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	must(t, "underlay", path, ground, "--opacity", "60", "--name", "Shade")
	must(t, "underlay", path, ground)
	site, err := gdal.OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	if len(site.Underlays) != 2 || site.Underlays[0].Name != "Shade" || site.Underlays[0].Opacity != 0.6 || site.Underlays[1].Opacity != 1 {
		t.Errorf("the images are %+v", site.Underlays)
	}
	if f := site.Underlays[0].Frame; f != before.Ground.Frame {
		t.Errorf("the image is on %+v, the ground on %+v", f, before.Ground.Frame)
	}
	refused(t, mistake, "underlay", path, ground, "--opacity", "130")
	if said := refused(t, failed, "underlay", path, raster(t, pond, crs.CRS{}, 2)); !strings.Contains(said, "--crs site") {
		t.Errorf("an image without a system: %q", said)
	}
	must(t, "underlay", path, raster(t, pond, crs.CRS{}, 2), "--crs", "site")
}

func TestAScanIsLaidByPoints(t *testing.T) {
	path, scan := siteFile(t), t.TempDir()+"/old plan.png"
	file, err := os.Create(scan)
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(file, image.NewGray(image.Rect(0, 0, 200, 100))); err != nil {
		t.Fatal(err)
	}
	file.Close()
	if said := refused(t, failed, "underlay", path, scan); !strings.Contains(said, "by points with --at") {
		t.Errorf("without a place: %q", said)
	}
	b := made().Ground.Bound()
	at := func(px, py, off float64) string {
		return fmt.Sprintf("%g,%g=%.3f,%.3f", px, py, b.Min[0]+10+px/4+off, b.Max[1]-10-py/4)
	}
	lay := func(args ...string) result { return run(append([]string{"underlay", path, scan}, args...)...) }
	r := lay("--at", at(0, 0, 0), "--at", at(200, 0, 0), "--at", at(0, 100, 0))
	if r.status != done || !strings.Contains(r.err, "proves nothing") || !strings.Contains(r.err, "point 1, 0,0=") {
		t.Errorf("three points: %d, %q", r.status, r.err)
	}
	// A square's one corner that is 0.8 m off is 0.2 m off at each (geo/fit_test.go).
	r = lay("--at", at(0, 0, 0), "--at", at(200, 0, 0), "--at", at(0, 100, 0), "--at", at(200, 100, 0.8))
	if r.status != done || strings.Count(r.err, "0.200 m off") != 5 || strings.Count(r.err, "the worst") != 1 {
		t.Errorf("four points: %d, %q", r.status, r.err)
	}
	if r = lay("--fit", "similarity", "--at", at(0, 0, 0), "--at", at(200, 100, 0)); r.status != done {
		t.Errorf("two points for a similarity: %q", r.err)
	}
	site, err := gdal.OpenSite(path)
	if err != nil || len(site.Underlays) != 3 {
		t.Fatalf("%d images; %v", len(site.Underlays), err)
	}
	if u := site.Underlays[0].Frame.Bound(); math.Abs(u.Min[0]-b.Min[0]-10) > 0.3 || math.Abs(u.Max[1]-b.Max[1]+10) > 0.3 {
		t.Errorf("the scan lies at %v on %v", u, b)
	}
	for want, args := range map[string][]string{
		"pick at least 3":          {"--at", at(0, 0, 0)},
		"on one line of the image": {"--at", at(0, 0, 0), "--at", at(50, 50, 0), "--at", at(100, 100, 0)},
		"give two numbers":         {"--at", "0,0:1,2"},
		"leave out --crs":          {"--at", at(0, 0, 0), "--crs", "site"},
		"must be one of":           {"--at", at(0, 0, 0), "--fit", "rubber"},
	} {
		if r := lay(args...); r.status != mistake || !strings.Contains(r.err, want) {
			t.Errorf("%q: %d, %q, want %q", args, r.status, r.err, want)
		}
	}
}
