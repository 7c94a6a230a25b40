package ui

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/app/site"
	"runnel/geo/crs"
	"runnel/geo/plan"
)

// hillside writes the valley's ground to a file.
func (b *bench) hillside() (string, plan.Site) {
	b.t.Helper()
	s := valley()
	path := filepath.Join(b.t.TempDir(), "hillside.tif")
	if err := b.writeGround(context.Background(), path, &s, plan.AsItIs); err != nil {
		b.t.Fatal(err)
	}
	return path, s
}

func TestAGroundIsLookedAtBeforeItIsBroughtIn(t *testing.T) {
	b := newBench(t)
	path, _ := b.hillside()
	b.openAny(path)
	b.until("what it is", b.covered)
	shown := b.dialogText()
	for _, want := range []string{"120 × 160 cells of 0.50", "60.0\u00a0m by 80.0\u00a0m", "Heights from", "UTM zone 32N", "metres"} {
		if !strings.Contains(shown, want) {
			t.Errorf("it does not say %q:\n%s", want, shown)
		}
	}
	if b.doc != nil {
		t.Error("it is brought in before it is agreed to")
	}
}

func TestOnlyAPartOfAGroundIsBroughtIn(t *testing.T) {
	b := newBench(t)
	path, _ := b.hillside()
	var got readGround
	b.askGround(readGround{from: path}, func(r readGround) { got = r })
	b.until("what it is", b.covered)
	b.win.Canvas().Overlays().Top().Hide()
	b.readAs(readGround{from: path}, nil, func(read readGround) {
		f := b.newGroundForm(read)
		f.part[0].SetText("500010")
		f.part[2].SetText("500030")
		if err := f.take(); err != nil {
			t.Error(err)
		}
		b.readAs(readGround{from: path, how: f.how}, nil, func(r readGround) { got = r })
	})
	b.until("the part", func() bool { return got.ground.W > 0 })
	if got.ground.W != 40 || got.ground.H != 160 {
		t.Errorf("the part is %d × %d cells, want 40 × 160", got.ground.W, got.ground.H)
	}
}

func TestAPartIsFourNumbersThatMakeARectangle(t *testing.T) {
	whole := orb.Bound{Min: orb.Point{0, 0}, Max: orb.Point{100, 50}}
	for _, c := range []struct {
		name  string
		typed [4]string
		want  orb.Bound
		fault string
	}{
		{"nothing is all", [4]string{}, orb.Bound{}, ""},
		{"one edge", [4]string{"", " 10,5 ", "", ""}, orb.Bound{Min: orb.Point{0, 10.5}, Max: orb.Point{100, 50}}, ""},
		{"no number", [4]string{"west"}, orb.Bound{}, "give a number"},
		{"west beyond east", [4]string{"90", "", "80", ""}, orb.Bound{}, "west must be less"},
		{"not a number", [4]string{"NaN"}, orb.Bound{}, "has no size"},
	} {
		got, err := partOf(whole, c.typed)
		if got != c.want || (err == nil) != (c.fault == "") || err != nil && !strings.Contains(err.Error(), c.fault) {
			t.Errorf("%s: %v, %v", c.name, got, err)
		}
	}
}

func TestAGroundThatCannotBeReadSaysSoBeforeAnythingIsAsked(t *testing.T) {
	b := newBench(t)
	b.openAny(b.write("broken.tif", "no raster at all"))
	b.until("the sentence", b.covered)
	if shown := b.dialogText(); !strings.Contains(shown, "broken.tif") || strings.Contains(shown, "Cell size") {
		t.Errorf("it says:\n%s", shown)
	}
	b.answer("Close")
	if b.covered() || b.doc != nil {
		t.Error("something is still asked")
	}
}

func TestTheFiguresAreHandedOverAsTextAndJSON(t *testing.T) {
	b := newBench(t)
	b.open()
	path := filepath.Join(t.TempDir(), "figures.txt")
	s := valley()
	if err := b.writeFigures(context.Background(), path, &s, plan.AsItIs); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"figures.txt": "Contact area [m²]", "figures.json": `"contact_area_m2"`} {
		file := filepath.Join(filepath.Dir(path), name)
		text, err := os.ReadFile(file)
		if err != nil || !strings.Contains(string(text), want) || !strings.Contains(string(text), "Meander") {
			t.Errorf("%s holds %q (%v)", name, text, err)
		}
		if info, _ := os.Stat(file); info.Mode().Perm() != 0o644 {
			t.Errorf("%s may be read by %v", name, info.Mode())
		}
	}
	if got := figuresTo().standing(filepath.Join(filepath.Dir(path), "figures.txt")); got == "" {
		t.Error("files that are there are replaced without asking")
	}
	os.Remove(path)
	if got := figuresTo().standing(path); filepath.Base(got) != "figures.json" {
		t.Errorf("the file beside it is replaced without asking: %q", got)
	}
}

func TestANewSiteTakesNothingFromTheOneThatIsOpen(t *testing.T) {
	b := newBench(t)
	path, _ := b.hillside()
	b.open()
	other := b.doc.Site().Clone()
	other.CRS = crs.CRS{Code: 32626, Name: "WGS 84 / UTM zone 26N", Metre: 1}
	other.Plan.Features = append(other.Plan.Features, plan.Feature{ID: 900, Kind: plan.Well, Geometry: other.Ground.Centre(3, 3)})
	b.put(site.New(other, ""))
	b.askNew(path)
	b.until("what it is", b.covered)
	if shown := b.dialogText(); !strings.Contains(shown, "UTM zone 32N") {
		t.Errorf("the ground would be brought in as:\n%s", shown)
	}
}
