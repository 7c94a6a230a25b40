package action

import (
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
