package ui

import (
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"
	"github.com/paulmach/orb"

	"runnel/app/tool"
)

// scan writes a picture that does not say where it lies: 200 by 160 pixels, red in its
// upper left quarter.
func (b *bench) scan() string {
	b.t.Helper()
	img := image.NewNRGBA(image.Rect(0, 0, 200, 160))
	for y := range 160 {
		for x := range 200 {
			c := color.NRGBA{240, 240, 230, 255}
			if x < 100 && y < 80 {
				c = color.NRGBA{200, 30, 30, 255}
			}
			img.Set(x, y, c)
		}
	}
	path := filepath.Join(b.t.TempDir(), "old plan.png")
	file, err := os.Create(path)
	if err != nil {
		b.t.Fatal(err)
	}
	defer file.Close()
	if err := png.Encode(file, img); err != nil {
		b.t.Fatal(err)
	}
	return path
}

// place drops a scan on the window and has it placed by points.
func (b *bench) place() *scanning {
	b.t.Helper()
	b.dropped([]fyne.URI{storage.NewFileURI(b.scan())})
	b.until("the question", b.covered)
	if said := b.dialogText(); !strings.Contains(said, "does not say where it lies") || strings.Contains(said, "site's own system") {
		b.t.Errorf("it asks:\n%s", said)
	}
	b.answer("Place it by points…")
	b.until("the image", func() bool { return b.scanNow() != nil })
	return b.scanNow()
}

// point clicks a place on the image and then one on the ground.
func (s *scanning) point(x, y, east, north float64) {
	press := func(t tool.Tool, at orb.Point) { t.Down(tool.Pointer{At: at}); t.Up(tool.Pointer{At: at}) }
	press(s.pane.tool, orb.Point{x, -y})
	press(s.w.pane.tool, orb.Point{east, north})
}

// The scan lies on the valley at a quarter of a metre a pixel.
func valleyAt(x, y float64) (east, north float64) { return 500_005 + x/4, 4_800_060 - y/4 }

func TestAScanIsPlacedByPoints(t *testing.T) {
	b := newBench(t)
	b.open()
	s := b.place()
	if s.image.Frame.W != 200 || s.image.Frame.H != 160 || !s.form.lay.Disabled() {
		t.Fatalf("the image is %+v", s.image.Frame)
	}
	for i, p := range [][2]float64{{20, 10}, {180, 20}, {100, 150}} {
		if s.point(p[0], p[1], 0, 0); len(s.pairs) != i+1 {
			t.Fatalf("%d pairs", len(s.pairs))
		}
		e, n := valleyAt(p[0], p[1])
		s.move(i, orb.Point{e, n})
	}
	if shown := b.beside(); !strings.Contains(shown, "proves nothing") || !strings.Contains(shown, "A pixel is 0.250 m") {
		t.Errorf("of three points it says:\n%s", shown)
	}
	e, n := valleyAt(60, 120)
	s.point(60, 120, e+0.8, n)
	if shown := b.beside(); s.fit.Spare != 1 || !strings.Contains(shown, "(RMS)") || len(b.pane.overlay.Pins) != 4 || b.pane.scene.Arrivals == nil {
		t.Errorf("of four points it says:\n%s", shown)
	}
	if shown := b.beside(); !strings.Contains(shown, "4 points cannot tell which of them is wrong") || s.loud(s.fit.Worst) {
		t.Errorf("four points single one out:\n%s", shown)
	}
	e, n = valleyAt(150, 100)
	s.point(150, 100, e, n)
	if shown := b.beside(); !strings.Contains(shown, "point 4 the most") || !s.loud(3) {
		t.Errorf("five points do not:\n%s", shown)
	}
	s.remove(4)
	s.remove(3)
	test.Tap(s.form.lay)
	b.until("the image under the map", func() bool { return len(b.doc.Site().Underlays) == 1 })
	if b.inquiry.on() || b.held != selecting || len(b.pane.overlay.Pins) != 0 {
		t.Error("the question stays")
	}
	u := b.doc.Site().Underlays[0]
	bound := u.Frame.Bound()
	if math.Abs(bound.Min[0]-500_005) > 0.3 || math.Abs(bound.Max[1]-4_800_060) > 0.3 || math.Abs(bound.Max[0]-500_055) > 0.3 || math.Abs(bound.Min[1]-4_800_020) > 0.3 {
		t.Errorf("it lies at %v", bound)
	}
	tile, err := u.Picture.Tile(0)
	if err != nil {
		t.Fatal(err)
	}
	if r, g, _, _ := tile.At(50, 40).RGBA(); r>>8 < 180 || g>>8 > 60 {
		t.Errorf("its red quarter is %v", tile.At(50, 40))
	}
	b.doc.Undo()
	if len(b.doc.Site().Underlays) != 0 {
		t.Error("one undo leaves the image")
	}
}

func TestThePlaceOnTheGroundMayBeTyped(t *testing.T) {
	b := newBench(t)
	b.open()
	s := b.place()
	s.pickOnImage(tool.Pointer{At: orb.Point{20, -10}})
	if s.form.waits == nil {
		t.Fatal("nothing is asked of the place")
	}
	s.form.waits.SetText("here")
	s.form.waits.settle()
	if shown := b.beside(); len(s.pairs) != 0 || !strings.Contains(shown, "give east and north in metres") {
		t.Errorf("it says:\n%s", shown)
	}
	s.form.waits.SetText("500010,5; 4800057,5")
	s.form.waits.settle()
	if len(s.pairs) != 1 || s.pairs[0].Ground != (orb.Point{500_010.5, 4_800_057.5}) {
		t.Fatalf("the pairs are %v", s.pairs)
	}
	s.pickOnImage(tool.Pointer{At: orb.Point{-5, 3}})
	if s.held != nil {
		t.Error("a place off the image is taken")
	}
	b.inquiry.leave()
	if b.held != selecting || !b.ledger.scroll.Visible() {
		t.Error("Cancel leaves the question")
	}
}

func TestPointsThatSayTooLittleAreToldAndAMirrorIsWarnedOf(t *testing.T) {
	b := newBench(t)
	b.open()
	s := b.place()
	for _, x := range []float64{20, 100, 180} {
		e, n := valleyAt(x, 50)
		s.point(x, 50, e, n)
	}
	if shown := b.beside(); !s.form.lay.Disabled() || !strings.Contains(shown, "on one line of the image") {
		t.Errorf("of three on a line it says:\n%s", shown)
	}
	s.alike = true
	s.changed()
	if s.form.lay.Disabled() {
		t.Error("turned and scaled alone, a line does not do")
	}
	s.alike = false
	s.remove(2)
	e, n := valleyAt(100, -50)
	s.point(100, 150, e, n)
	if shown := b.beside(); !strings.Contains(shown, "face down") {
		t.Errorf("of a mirror it says:\n%s", shown)
	}
}

func TestPlacesAreReadAsPeopleTypeThem(t *testing.T) {
	want := orb.Point{523440.12, 4811200.55}
	for _, typed := range []string{"523440.12, 4811200.55", "523440.12,4811200.55", "523440.12 4811200.55", "523440,12; 4811200,55", " 523440,12 4811200,55 ", "523440.12;4811200.55"} {
		if got, err := placeTyped(typed); err != nil || got != want {
			t.Errorf("%q is %v, %v", typed, got, err)
		}
	}
	for _, typed := range []string{"", "523440.12", "a, b", "1, 2, 3", "NaN, 3", "Inf 3"} {
		if got, err := placeTyped(typed); err == nil {
			t.Errorf("%q is %v", typed, got)
		}
	}
	if back, err := placeTyped(placeWords(want)); err != nil || back != want {
		t.Errorf("what is written is read as %v, %v", back, err)
	}
}
