package intake

import (
	"bytes"
	"errors"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

func TestAnImageIsTheSame(t *testing.T) {
	path := tif(t, 40, 30)
	o := gdal.UnderlayOptions{Site: utm, Ground: orb.Bound{Min: orb.Point{500010, 5199950}, Max: orb.Point{500050, 5199990}}}
	want, notes, err := Reader{}.Underlay(t.Context(), path, o)
	if err != nil {
		t.Fatal(err)
	}
	got, gotNotes, err := Reader{Child: true}.Underlay(t.Context(), path, o)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got, want) || !reflect.DeepEqual(gotNotes, notes) || want.Picture == nil {
		t.Errorf("got %+v, want %+v", got, want)
	}
	path = filepath.Join(t.TempDir(), "verge.gpkg")
	want.ID = 3
	saved := plan.Site{Name: "Verge", CRS: utm, Ground: grid.New[float32](grid.Square(5, 4, 500010, 5199990, 2)), Setting: plan.UsualSetting(), Underlays: []plan.Underlay{want}}
	if err := gdal.SaveSite(path, &saved); err != nil {
		t.Fatal(err)
	}
	site, err := Reader{Child: true}.Site(t.Context(), path)
	if err != nil || !reflect.DeepEqual(site.Underlays, saved.Underlays) {
		t.Errorf("a site's images are %+v, want %+v; %v", site.Underlays, saved.Underlays, err)
	}
}

func TestAChildTellsAnImageWithoutSystemFromABadOne(t *testing.T) {
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 2, 2))); err != nil {
		t.Fatal(err)
	}
	path := write(t, "air.png", b.String())
	o := gdal.UnderlayOptions{Site: utm}
	_, _, err := Reader{Child: true}.Underlay(t.Context(), path, o)
	if err == nil || errors.Is(err, gdal.ErrNoSystem) || !strings.Contains(err.Error(), "world file") {
		t.Errorf("without a place: %v", err)
	}
	placed := filepath.Join(filepath.Dir(path), "air.pgw")
	if err := os.WriteFile(placed, []byte("1\n0\n0\n-1\n0\n0\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	_, _, err = Reader{Child: true}.Underlay(t.Context(), path, o)
	if _, _, direct := (Reader{}).Underlay(t.Context(), path, o); !errors.Is(err, gdal.ErrNoSystem) || err.Error() != direct.Error() {
		t.Errorf("without a system: %v, want %v", err, direct)
	}
}
