package ui

import (
	"context"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"github.com/paulmach/orb"

	"runnel/app/site"
	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// seen writes what the window shows where a person wants to look at it.
func (b *bench) seen(name string) {
	b.t.Helper()
	dir := os.Getenv("LOOK")
	if dir == "" {
		return
	}
	f, err := os.Create(filepath.Join(dir, name+".png"))
	if err != nil {
		b.t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, b.win.Canvas().Capture()); err != nil {
		b.t.Fatal(err)
	}
}

// built is the valley with a house, a tree and a void in its surface.
func built() plan.Site {
	s := valley()
	s.Plan.Features = append(s.Plan.Features,
		plan.Feature{ID: plan.ID(s.Plan.NextID()), Kind: plan.Roof, Name: "Barn", Geometry: orb.Polygon{{{500_010, 4_800_020}, {500_020, 4_800_020}, {500_020, 4_800_035}, {500_010, 4_800_035}, {500_010, 4_800_020}}}},
		plan.Feature{ID: plan.ID(s.Plan.NextID()), Kind: plan.Tree, Geometry: orb.Point{500_045, 4_800_050}}.With("spread", plan.Value{Number: 8}))
	s.Ground = s.Ground.Clone()
	for i := range s.Ground.V {
		p := s.Ground.Centre(i%s.Ground.W, i/s.Ground.W)
		switch east, north := p[0]-500_000, p[1]-4_800_000; {
		case east > 10 && east < 20 && north > 20 && north < 35:
			s.Ground.V[i] += 5
		case (east-45)*(east-45)+(north-50)*(north-50) < 16:
			s.Ground.V[i] += 7
		case east > 40 && east < 44 && north > 10 && north < 13:
			s.Ground.V[i] = grid.NoData
		}
	}
	return s
}

func (b *bench) openBuilt() {
	b.t.Helper()
	b.put(site.New(built(), ""))
	b.settle()
}

func TestVoidsAreFilledOnceThatIsAgreedTo(t *testing.T) {
	b := newBench(t)
	b.openBuilt()
	b.run(b.command("Fill voids in the ground…"))
	b.until("the question", b.covered)
	b.seen("voids")
	if shown := b.dialogText(); !strings.Contains(shown, "The ground has 1 void of 12.0\u00a0m².") || !strings.Contains(shown, "nothing was measured there") {
		t.Errorf("it says:\n%s", shown)
	}
	if len(b.doc.Site().Survey.Patches) != 0 {
		t.Error("it is filled before it is agreed to")
	}
	b.answer("Fill them")
	s := b.doc.Site()
	for i, v := range s.Ground.V {
		if grid.IsNoData(v) {
			t.Fatalf("cell %d has no height still", i)
		}
	}
	if len(s.Survey.Patches) != 1 || s.Survey.Patches[0].Why != survey.Void {
		t.Errorf("patches %+v", s.Survey.Patches)
	}
	b.settle()
	b.seen("filled")
	if words := strings.Join(b.legendWords(), "\n"); !strings.Contains(words, "Ground worked out, not measured") {
		t.Errorf("the legend says:\n%s", words)
	}
	b.undoLast()
	if len(b.doc.Site().Survey.Patches) != 0 || !grid.IsNoData(b.doc.Site().Ground.V[(160-23)*120+84]) {
		t.Error("undone it is filled still")
	}
	b.redoLast()
	b.run(b.command("Fill voids in the ground…"))
	b.until("the answer", b.covered)
	if shown := b.dialogText(); !strings.Contains(shown, "The ground has no void") {
		t.Errorf("it says:\n%s", shown)
	}
}

func TestBuildingsAndTreesAreTakenOutOnceThatIsAgreedTo(t *testing.T) {
	b := newBench(t)
	b.openBuilt()
	const name = "Take buildings and trees out of the ground…"
	b.run(b.command(name))
	b.until("the question", b.covered)
	b.seen("bare")
	shown := b.dialogText()
	for _, want := range []string{"Buildings that are taken out: 1; trees: 1.", "2 cells round them", "m² in all", "The ground sinks there by", "7.0"} {
		if !strings.Contains(shown, want) {
			t.Errorf("it does not say %q:\n%s", want, shown)
		}
	}
	b.answer("Take them out")
	s, bare := b.doc.Site(), valley()
	for i, v := range s.Ground.V {
		if d := v - bare.Ground.V[i]; !grid.IsNoData(v) && (d > 0.1 || d < -0.1) {
			t.Fatalf("cell %d is off by %v m", i, d)
		}
	}
	b.settle()
	b.seen("bared")
	b.undoLast()
	b.board.Select(s.Plan.Of(plan.Tree, plan.AsItIs)[0].ID)
	b.run(b.command(name))
	b.until("the question", b.covered)
	if shown := b.dialogText(); !strings.Contains(shown, "1 tree is taken out.") {
		t.Errorf("of what is selected it says:\n%s", shown)
	}
	b.answer("Take them out")
	if p := b.doc.Site().Survey.Patches; len(p) != 1 || p[0].Why != survey.Trees {
		t.Errorf("patches %+v", p)
	}
	b.board.Select(0)
	b.run(b.command(name))
	b.until("the question", b.covered)
	b.answer("Cancel")
	if n := len(b.doc.Site().Survey.Patches); n != 1 {
		t.Errorf("given up it leaves %d patches", n)
	}
}

func TestWithNothingOnItTheGroundCannotBeBared(t *testing.T) {
	b := newBench(t)
	b.open()
	if why := b.command("Take buildings and trees out of the ground…").why(); !strings.Contains(why, "Draw a roof or a tree first") {
		t.Errorf("it says %q", why)
	}
}

func TestABareGroundIsNotMadeWorseUnsaid(t *testing.T) {
	b := newBench(t)
	s := built()
	s.Ground = valley().Ground
	b.put(site.New(s, ""))
	b.settle()
	b.run(b.command("Take buildings and trees out of the ground…"))
	b.until("the question", b.covered)
	b.seen("already")
	if shown := strings.Join(strings.Fields(b.dialogText()), " "); !strings.Contains(shown, "it seems to be bare already") {
		t.Errorf("it says:\n%s", shown)
	}
}

// half writes a half of the valley's ground with a void in it, and returns its path.
func (b *bench) half(name string, x0 int) string {
	b.t.Helper()
	whole := built().Ground
	g := grid.New[float32](grid.Square(60, 160, whole.West+float64(x0)*whole.DX, whole.North, whole.DX))
	for y := range g.H {
		copy(g.Row(y), whole.Row(y)[x0:])
	}
	path := filepath.Join(b.t.TempDir(), name)
	if err := gdal.WriteRaster(context.Background(), path, g, gdal.Place(g.Frame, valley().CRS)); err != nil {
		b.t.Fatal(err)
	}
	return path
}

func TestTilesAreBroughtInTogetherAndTheirVoidsFilled(t *testing.T) {
	b := newBench(t)
	west, east := b.half("west.tif", 0), b.half("east.tif", 60)
	var got readGround
	b.readAs(readGround{from: west, more: []string{east}}, nil, func(r readGround) { got = r })
	b.until("the ground", func() bool { return got.ground.W > 0 })
	if got.ground.W != 120 || got.void != (void{1, 48}) || len(got.survey.Sources) != 2 || got.called() != "west.tif and 1 more" {
		t.Fatalf("%d cells wide, voids %+v, %+v, %q", got.ground.W, got.void, got.survey.Sources, got.called())
	}
	b.showGround(got, b.beginSite)
	b.seen("tiles")
	if shown := b.dialogText(); !strings.Contains(shown, "it does not say; taken as metres") || !strings.Contains(shown, "does not say in what unit its heights are") || !strings.Contains(shown, "leave 1 void of 12.0\u00a0m² without heights") || !strings.Contains(shown, "Add a tile beside it…") {
		t.Errorf("it says:\n%s", shown)
	}
	b.filled(got, true, b.beginSite)
	b.until("the site", func() bool { return b.doc != nil })
	s := b.doc.Site()
	if len(s.Survey.Patches) != 1 || len(s.Survey.Sources) != 2 || s.Setting.SurveyError != s.Survey.Quality.Error || s.Name != "New site" {
		t.Errorf("%q rests on %+v with %+v", s.Name, s.Survey, s.Setting)
	}
}

func TestTilesThatAreLetFallOnAnOpenSiteAreOneGround(t *testing.T) {
	b := newBench(t)
	b.open()
	b.dropped([]fyne.URI{storage.NewFileURI(b.half("west.tif", 0)), storage.NewFileURI(b.half("east.tif", 60))})
	if shown := b.dialogText(); !strings.Contains(shown, "What are these ground files for?") || !strings.Contains(shown, "west.tif and 1 more") {
		t.Errorf("it says:\n%s", shown)
	}
	b.seen("tilesfor")
	b.answer("Replace the ground")
	b.until("what they are", b.covered)
	b.answer("Bring it in")
	b.until("the ground", func() bool { return len(b.doc.Site().Survey.Sources) == 2 })
	if g := b.doc.Site().Ground; g.W != 120 || g.H != 160 {
		t.Errorf("the ground has %d by %d cells", g.W, g.H)
	}
}

func TestTheLedgerOffersToMendWhatIsThereToMend(t *testing.T) {
	b := newBench(t)
	b.open()
	if b.ledgerSays("Fill voids…") || b.ledgerSays("Take buildings and trees out…") {
		t.Errorf("of a bare ground the ledger says:\n%s", texts(b.ledger.object))
	}
	b.openBuilt()
	b.until("the voids", func() bool { return b.ledgerSays("Fill voids…") })
	if !b.ledgerSays("Take buildings and trees out…") {
		t.Errorf("the ledger says:\n%s", texts(b.ledger.object))
	}
	b.seen("ledgermend")
	b.run(b.command("Fill voids in the ground…"))
	b.until("the question", b.covered)
	b.answer("Fill them")
	b.settle()
	if b.ledgerSays("Fill voids…") || !b.ledgerSays("Voids, filled") {
		t.Errorf("filled the ledger says:\n%s", texts(b.ledger.object))
	}
}

func TestTilesThatAreLetFallTogetherAreOneGround(t *testing.T) {
	b := newBench(t)
	b.dropped([]fyne.URI{storage.NewFileURI(b.half("west.tif", 0)), storage.NewFileURI(b.half("east.tif", 60))})
	b.until("what they are", b.covered)
	if shown := b.dialogText(); !strings.Contains(shown, "Bring in west.tif and 1 more") || !strings.Contains(shown, "120 × 160 cells") {
		t.Errorf("it says:\n%s", shown)
	}
	b.answer("Bring it in")
	b.until("the site", func() bool { return b.doc != nil })
	if s := b.doc.Site(); len(s.Survey.Sources) != 2 || len(s.Survey.Patches) != 0 {
		t.Errorf("it rests on %+v", s.Survey)
	}
}

func TestAnotherWayIsOfferedOnlyWhereItMayHelp(t *testing.T) {
	b := newBench(t)
	b.open()
	for name, want := range map[string]bool{"empty.tif": false, "damaged.tif": false, "west.tif": true} {
		var path string
		var how gdal.GroundOptions
		switch name {
		case "damaged.tif":
			path = b.write(name, "II*\x00 and no more")
		case "empty.tif":
			path = b.write(name, "")
		default:
			path, how.CRS = b.half(name, 0), "EPSG:4326" // in degrees, which a ground may not be
		}
		b.readAs(readGround{from: path, how: how}, nil, func(readGround) { t.Errorf("%s is read", name) })
		b.until("the refusal", b.covered)
		if got := strings.Contains(b.dialogText(), "Read it another way"); got != want {
			t.Errorf("of %s another way is offered: %v:\n%s", name, got, b.dialogText())
		}
		b.answer("Close")
	}
}

func TestASiteOfTilesIsCalledAfterTheirFolder(t *testing.T) {
	for want, r := range map[string]readGround{
		"left": {from: "/a/plot/left.tif"}, "plot": {from: "/a/plot/left.tif", more: []string{"/a/plot/right.tif"}},
		"New site": {from: "/a/plot/left.tif", more: []string{"/b/right.tif"}},
	} {
		if got := r.siteName(); got != want {
			t.Errorf("of %v it is called %q, want %q", r, got, want)
		}
	}
	if got := (readGround{from: "/left.tif", more: []string{"/right.tif"}}).siteName(); got != "New site" {
		t.Errorf("of the root it is called %q", got)
	}
}
