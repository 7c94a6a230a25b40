package ui

import (
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"
)

// aerial writes a picture of the valley, with its world file.
func (b *bench) aerial() string {
	b.t.Helper()
	img := image.NewNRGBA(image.Rect(0, 0, 120, 160))
	for i := range 120 * 160 {
		img.Set(i%120, i/120, color.NRGBA{uint8(90 + i%7*9), uint8(110 + i/120%5*8), 70, 255})
	}
	path := filepath.Join(b.t.TempDir(), "orchard.png")
	file, err := os.Create(path)
	if err != nil {
		b.t.Fatal(err)
	}
	defer file.Close()
	if err := png.Encode(file, img); err != nil {
		b.t.Fatal(err)
	}
	if err := os.WriteFile(strings.TrimSuffix(path, "png")+"pgw", []byte("0.5\n0\n0\n-0.5\n500000.25\n4800079.75\n"), 0o600); err != nil {
		b.t.Fatal(err)
	}
	return path
}

// underlays is the ledger's part about images.
func (b *bench) underlays() *underlaysPart {
	b.t.Helper()
	for _, p := range b.ledger.parts {
		if p, ok := p.(*underlaysPart); ok {
			return p
		}
	}
	b.t.Fatal("the ledger has no part about images")
	return nil
}

func TestAPictureThatIsDroppedIsLaidUnderTheMap(t *testing.T) {
	b := newBench(t)
	path := b.aerial()
	b.dropped([]fyne.URI{storage.NewFileURI(path)})
	if said := b.dialogText(); !strings.Contains(said, "orchard.png is an image") {
		t.Errorf("with no site open it says:\n%s", said)
	}
	b.answer("Close")
	b.open()
	b.dropped([]fyne.URI{storage.NewFileURI(path)})
	b.until("the question", b.covered)
	if said := b.dialogText(); !strings.Contains(said, "names no reference system") {
		t.Errorf("it says:\n%s", said)
	}
	b.answer("It is in the site's own system")
	b.until("the image", func() bool { return len(b.doc.Site().Underlays) == 1 && len(b.pane.scene.Underlays) == 1 })
	if text, _ := b.doc.UndoText(); text != "Undo lay orchard.png under the map" {
		t.Errorf("the menu says %q", text)
	}
	b.doc.Undo()
	if len(b.pane.scene.Underlays) != 0 {
		t.Error("undone, the map still has the image")
	}
}

func TestTheLedgerSetsHowAnImageShows(t *testing.T) {
	b := newBench(t)
	b.open()
	if p := b.underlays(); !p.none.Visible() || len(p.rows) != 0 {
		t.Error("with no image there is no explanation")
	}
	b.layUnderlayIn(b.aerial(), "site")
	b.until("the image", func() bool { return len(b.underlays().rows) == 1 })
	row := b.underlays().rows[0]
	if row.name.Text != "orchard.png" || row.figure.Text != "100\u00a0%" || !row.tick.Checked || b.underlays().none.Visible() {
		t.Errorf("the row says %q, %q", row.name.Text, row.figure.Text)
	}
	for _, v := range []float64{80, 60, 40} {
		row.drag(v)
	}
	row.slider.OnChangeEnded(40)
	if u := b.pane.scene.Underlays[0]; u.Opacity != 0.4 || row.figure.Text != "40\u00a0%" {
		t.Errorf("on the map the opacity is %v, beside the slider %q", u.Opacity, row.figure.Text)
	}
	b.doc.Undo()
	if got := b.doc.Site().Underlays[0].Opacity; got != 1 || row.slider.Value != 100 {
		t.Errorf("one undo of the drag leaves %v", got)
	}
	test.Tap(row.tick)
	if !b.doc.Site().Underlays[0].Hidden || !b.pane.scene.Underlays[0].Hidden {
		t.Error("the tick hides nothing")
	}
	for _, o := range test.LaidOutObjects(row.box) {
		if button, ok := o.(*button); ok && button.Text == "Remove" {
			test.Tap(button)
		}
	}
	if len(b.doc.Site().Underlays) != 0 || len(b.underlays().rows) != 0 {
		t.Error("it is not removed")
	}
}

func TestARasterThatIsDroppedMayBeLaidUnderTheMap(t *testing.T) {
	b := newBench(t)
	path, _ := b.hillside()
	b.open()
	b.dropped([]fyne.URI{storage.NewFileURI(path)})
	for _, offered := range []string{"Begin a new site", "Lay it under the map", "Replace the ground"} {
		if !strings.Contains(b.dialogText(), offered) {
			t.Errorf("it does not offer %q:\n%s", offered, b.dialogText())
		}
	}
}
