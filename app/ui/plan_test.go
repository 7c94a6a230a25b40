package ui

import (
	"context"
	"encoding/json"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// hedges is two lines near the valley, in longitude and latitude: 9° east is the
// middle of UTM zone 32, where eastings are 500 000 m by definition.
const hedges = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"name":"Lower"},"geometry":{"type":"LineString","coordinates":[[9.0001,43.3515],[9.0003,43.3516]]}},
{"type":"Feature","properties":{},"geometry":{"type":"LineString","coordinates":[[9.0002,43.3517],[9.0004,43.3517]]}}]}`

func (b *bench) write(name, text string) string {
	b.t.Helper()
	path := filepath.Join(b.t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		b.t.Fatal(err)
	}
	return path
}

func TestADroppedFileOfAnotherKindIsOneSentence(t *testing.T) {
	b := newBench(t)
	b.dropped([]fyne.URI{storage.NewFileURI("/somewhere/letter.odt")})
	if shown := b.dialogText(); !strings.Contains(shown, "letter.odt is no kind of file") {
		t.Errorf("the sentence is:\n%s", shown)
	}
}

func TestADroppedRasterAsksWhatItIsFor(t *testing.T) {
	b := newBench(t)
	b.open()
	b.dropped([]fyne.URI{storage.NewFileURI("/somewhere/ground.tif")})
	for _, want := range []string{"Begin a new site", "Replace the ground"} {
		if !strings.Contains(b.dialogText(), want) {
			t.Errorf("the question does not offer %q:\n%s", want, b.dialogText())
		}
	}
}

func TestARasterBeginsASite(t *testing.T) {
	b := newBench(t)
	s := valley()
	path := filepath.Join(t.TempDir(), "hillside.tif")
	if err := b.writeGround(context.Background(), path, &s, plan.AsItIs); err != nil {
		t.Fatal(err)
	}
	b.openAny(path)
	b.until("what it is", b.covered)
	b.answer("Bring it in")
	b.until("the site", func() bool { return b.doc != nil })
	if got := b.doc.Site(); got.Name != "hillside" || got.Ground.Frame != s.Ground.Frame || !got.CRS.Same(s.CRS) {
		t.Errorf("the site is %q on %+v in %v", got.Name, got.Ground.Frame, got.CRS)
	}
	if !b.doc.Dirty() {
		t.Error("a site that stands in no file counts as saved")
	}
}

func TestTheProductsAreWhatTheyClaimToBe(t *testing.T) {
	b := newBench(t)
	s, dir, ctx := valley(), t.TempDir(), context.Background()
	scheme := s.Plan.Schemes[0].ID
	in := func(name string) string { return filepath.Join(dir, name) }
	for name, write := range map[string]writer{
		"map.png": b.pictureWriter(), "drawing.geojson": b.writeGeoJSON, "copy.gpkg": b.writeSite, "ground.tif": b.writeGround,
		"figures.txt": b.writeFigures,
	} {
		if err := write(ctx, in(name), &s, scheme); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	f, err := os.Open(in("map.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if c, err := png.DecodeConfig(f); err != nil || c.Width != pictureWidth || c.Height != pictureHeight {
		t.Errorf("the map: %v, %v", c, err)
	}
	text, _ := os.ReadFile(in("drawing.geojson"))
	var drawing struct{ Features []any }
	if err := json.Unmarshal(text, &drawing); err != nil || len(drawing.Features) != 1 {
		t.Errorf("the drawing has %d features (%v)", len(drawing.Features), err)
	}
	if back, err := gdal.OpenSite(in("copy.gpkg")); err != nil || back.Name != "Valley" {
		t.Errorf("the copy: %v", err)
	}
	read, err := gdal.ReadGrounds(ctx, []string{in("ground.tif")}, gdal.GroundOptions{})
	if err != nil || read.Ground.At(60, 80) != s.Ground.At(60, 80) {
		t.Errorf("the ground: %v", err)
	}
}

func TestAnExportThatFailsLeavesWhatWasThere(t *testing.T) {
	b := newBench(t)
	path := b.write("map.png", "the old map")
	s := plan.Site{}
	if err := b.pictureWriter()(context.Background(), path, &s, plan.AsItIs); err == nil {
		t.Fatal("a site with no ground is drawn")
	}
	if text, _ := os.ReadFile(path); string(text) != "the old map" {
		t.Errorf("the file holds %q", text)
	}
}

func TestAFileIsNotReplacedWithoutAsking(t *testing.T) {
	b := newBench(t)
	b.open()
	there := b.write("there.png", "x")
	d := destination{title: "Export", name: "there.png", end: ".png"}
	b.checkWhere(d, there, func(string) { t.Error("the file is replaced without asking") })
	if !strings.Contains(b.dialogText(), "there already") {
		t.Errorf("the question is:\n%s", b.dialogText())
	}
	b.win.Canvas().Overlays().Top().Hide()
	took := ""
	b.checkWhere(d, strings.TrimSuffix(there, ".png")+"-new", func(path string) { took = path })
	if !strings.HasSuffix(took, "there-new.png") {
		t.Errorf("the new file is %q", took)
	}
	b.checkWhere(d, "/no/such/folder/map.png", func(string) { t.Error("a folder is made up") })
	if !strings.Contains(b.dialogText(), "there is no folder") && !strings.Contains(b.dialogText(), "There is no folder") {
		t.Errorf("the sentence is:\n%s", b.dialogText())
	}
}
