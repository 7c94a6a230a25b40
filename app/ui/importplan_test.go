package ui

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"

	"runnel/geo/plan"
)

// importNow is what the window asks about a drawing.
func (b *bench) importNow() *importing {
	b.t.Helper()
	p, ok := b.inquiry.now.(*importing)
	if !ok {
		b.t.Fatalf("the window asks about %T", b.inquiry.now)
	}
	return p
}

// drop lets a drawing fall on the window, and waits for its preview.
func (b *bench) drop(path string) *importing {
	b.t.Helper()
	b.dropped([]fyne.URI{storage.NewFileURI(path)})
	b.until("what it may be", b.covered) // rows are looked at first: they may be a record of days
	b.answer("Import as a plan")
	b.until("the question", func() bool { return b.inquiry.on() })
	p := b.importNow()
	b.until("the preview", func() bool { return p.known == p.asked })
	return p
}

// beside is what stands in the ledger's place, as one line.
func (b *bench) beside() string { return strings.Join(strings.Fields(texts(b.ledger.object)), " ") }

// choose sets what a group becomes, as a person does.
func (p *importing) choose(t *testing.T, name string, kind plan.Kind) {
	t.Helper()
	for i, g := range p.groups {
		if g.Name != name {
			continue
		}
		p.kinds[i] = kind
		p.reckon()
		return
	}
	t.Fatalf("there is no layer %q", name)
}

func TestADroppedDrawingIsPreviewedAndImportedInOneStep(t *testing.T) {
	b := newBench(t)
	b.open()
	before := len(b.doc.Site().Plan.Features)
	p := b.drop(b.write("hedges.geojson", hedges))
	if shown := b.beside(); !strings.Contains(shown, "2 lines") || !strings.Contains(shown, "2 of 2 shapes come in") {
		t.Errorf("the ledger's place shows:\n%s", shown)
	}
	if b.pane.scene.Arrivals == nil || len(b.doc.Site().Plan.Features) != before {
		t.Error("the map shows no preview, or the site has changed already")
	}
	test.Tap(p.form.take)
	if got := len(b.doc.Site().Plan.Features) - before; got != 2 {
		t.Fatalf("%d features came in", got)
	}
	if b.inquiry.on() || b.pane.scene.Arrivals != nil || !b.ledger.scroll.Visible() {
		t.Error("the question stays")
	}
	if !strings.Contains(b.menu.undo.Label, "hedges.geojson") {
		t.Errorf("the menu offers %q", b.menu.undo.Label)
	}
	b.menu.undo.Action()
	if got := len(b.doc.Site().Plan.Features); got != before {
		t.Errorf("undo leaves %d features of %d", got, before)
	}
}

func TestWhatIsDesignedIsImportedIntoASchemeOfItsOwn(t *testing.T) {
	b := newBench(t)
	b.open()
	schemes := len(b.doc.Site().Plan.Schemes)
	p := b.drop(b.write("footpaths.geojson", hedges))
	if p.kinds[0] != plan.Path || !p.form.scheme.Visible() {
		t.Fatalf("the shapes are taken for %v", p.kinds[0])
	}
	p.scheme = schemes
	p.bringIn()
	if paths := b.doc.Site().Plan.Of(plan.Path, b.board.Scheme); b.schemeName() != "Scheme A" || len(paths) != 2 {
		t.Errorf("%d paths in %q", len(paths), b.schemeName())
	}
	b.doc.Undo()
	if s := b.doc.Site(); len(s.Plan.Schemes) != schemes || len(s.Plan.Of(plan.Path, plan.AsItIs)) != 0 {
		t.Error("one undo leaves the scheme or its paths")
	}
	b.doc.Redo()
	if s := b.doc.Site(); len(s.Plan.Schemes) != schemes+1 {
		t.Error("redo does not bring the scheme back")
	}
}

// layered is a drawing of two layers in the valley, as GDAL writes a DXF's: walls and a
// text.
const layered = `{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::32632"}},"features":[
{"type":"Feature","properties":{"Layer":"WALLS","EntityHandle":"1","SubClasses":"AcDbEntity:AcDbLine"},"geometry":{"type":"LineString","coordinates":[[500010,4800010],[500020,4800010]]}},
{"type":"Feature","properties":{"Layer":"HOUSES","EntityHandle":"2","SubClasses":"AcDbEntity:AcDbPolyline"},"geometry":{"type":"LineString","coordinates":[[500010,4800020],[500020,4800020],[500020,4800030],[500010,4800020]]}},
{"type":"Feature","properties":{"Layer":"HOUSES","EntityHandle":"5","SubClasses":"AcDbEntity:AcDbPolyline"},"geometry":{"type":"LineString","coordinates":[[500010,4800040],[500020,4800040]]}},
{"type":"Feature","properties":{"Layer":"HOUSES","EntityHandle":"3","SubClasses":"AcDbEntity:AcDbText","Text":"No. 4"},"geometry":{"type":"Point","coordinates":[500015,4800022]}}]}`

func TestEveryLayerBecomesWhatIsChosenForIt(t *testing.T) {
	b := newBench(t)
	b.open()
	p := b.drop(b.write("site.geojson", layered))
	if len(p.groups) != 3 || p.kinds[0] != plan.Wall || p.kinds[1] != plan.Roof || p.kinds[2] != plan.NoKind {
		t.Fatalf("%d layers are guessed as %v", len(p.groups), p.kinds)
	}
	if shown := b.beside(); !strings.Contains(shown, "HOUSES, texts") || !strings.Contains(shown, "1 of 2 cannot be this and stay out") || !strings.Contains(shown, "2 of 4 shapes come in") {
		t.Errorf("the question shows:\n%s", shown)
	}
	p.choose(t, "WALLS", plan.NoKind)
	p.choose(t, "HOUSES", plan.Kerb)
	b.until("the preview", func() bool { return p.known == p.asked })
	p.bringIn()
	s := b.doc.Site()
	if kerbs, walls := s.Plan.Of(plan.Kerb, plan.AsItIs), s.Plan.Of(plan.Wall, plan.AsItIs); len(kerbs) != 2 || len(walls) != 0 {
		t.Errorf("%d kerbs and %d walls", len(kerbs), len(walls))
	}
}

// mixed is a drawing of one layer that holds all shapes; a field says what they are.
const mixed = `{"type":"FeatureCollection","name":"plan","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::32632"}},"features":[
{"type":"Feature","properties":{"art":"BUILDINGS"},"geometry":{"type":"Polygon","coordinates":[[[500010,4800020],[500020,4800020],[500020,4800030],[500010,4800020]]]}},
{"type":"Feature","properties":{"art":"PAVING"},"geometry":{"type":"Polygon","coordinates":[[[500030,4800020],[500040,4800020],[500040,4800030],[500030,4800020]]]}},
{"type":"Feature","properties":{"art":"WALL"},"geometry":{"type":"LineString","coordinates":[[500010,4800010],[500020,4800010]]}},
{"type":"Feature","properties":{"art":"TREES"},"geometry":{"type":"Point","coordinates":[500015,4800022]}}]}`

func TestALayerOfMixedShapesIsSortedByShapeOrByAField(t *testing.T) {
	b := newBench(t)
	b.open()
	p := b.drop(b.write("plan.geojson", mixed))
	if want := []plan.Kind{plan.Roof, plan.Paving, plan.Wall, plan.Tree}; p.by != "art" || !slices.Equal(p.kinds, want) {
		t.Fatalf("by %q the kinds are %v, want %v", p.by, p.kinds, want)
	}
	if shown := b.beside(); !strings.Contains(shown, "Sorted by") || !strings.Contains(shown, "BUILDINGS") || !strings.Contains(shown, "4 of 4 shapes come in") {
		t.Errorf("it shows:\n%s", shown)
	}
	p.sortBy("")
	b.until("the preview", func() bool { return p.known == p.asked })
	if want := []plan.Kind{plan.Roof, plan.Drain, plan.Tree}; !slices.Equal(p.kinds, want) {
		t.Fatalf("by shapes the kinds are %v, want %v", p.kinds, want)
	}
	p.bringIn()
	s := b.doc.Site()
	if roofs, drains := s.Plan.Of(plan.Roof, plan.AsItIs), s.Plan.Of(plan.Drain, plan.AsItIs); len(roofs) < 2 || len(drains) < 1 {
		t.Errorf("%d roofs and %d drains", len(roofs), len(drains))
	}
}

func TestNothingComesInWhileAllIsLeftOut(t *testing.T) {
	b := newBench(t)
	b.open()
	p := b.drop(b.write("hedges.geojson", hedges))
	p.choose(t, p.groups[0].Name, plan.NoKind)
	b.until("the preview", func() bool { return p.known == p.asked })
	if !p.form.take.Disabled() || !strings.Contains(b.beside(), "Everything is left out") {
		t.Errorf("it shows:\n%s", b.beside())
	}
	p.bringIn()
	if !b.inquiry.on() {
		t.Error("the question is gone")
	}
	b.inquiry.leave()
	if b.inquiry.on() || !b.ledger.scroll.Visible() {
		t.Error("Cancel does not bring the ledger back")
	}
}

// unnamed is a table of two places in the valley whose system the file does not name.
func unnamed(first, second string) string { return fmt.Sprintf("x,y\n%s\n%s\n", first, second) }

func TestTheSystemIsAskedForWhereTheFileDoesNotNameIt(t *testing.T) {
	b := newBench(t)
	b.open()
	p := b.drop(b.write("trees.csv", unnamed("500010,4800010", "500020,4800020")))
	if !p.form.take.Disabled() || b.pane.scene.Arrivals != nil {
		t.Error("a system is taken for granted")
	}
	shown := b.beside()
	if !strings.Contains(shown, "names no reference system") || strings.Contains(shown, "Longitude and latitude") {
		t.Errorf("it shows:\n%s", shown)
	}
	p.reread("site")
	b.until("the preview", func() bool { return p.ready() })
	if len(p.got.features) != 2 || p.got.off.Count != 0 || p.form.take.Disabled() {
		t.Errorf("%d trees, %d off the ground", len(p.got.features), p.got.off.Count)
	}
	p.reread("EPSG:32633")
	b.until("the preview", func() bool { return p.ready() && p.got.off.Count == 2 })
	if shown := b.beside(); !strings.Contains(shown, "All 2 shapes lie off the ground") {
		t.Errorf("it shows:\n%s", shown)
	}
	p.reread("EPSG:1")
	b.until("the sentence", b.covered)
	if said := b.dialogText(); !strings.Contains(said, "not a known reference system") {
		t.Errorf("it says %q", said)
	}
}

func TestFiguresThatLookLikeDegreesAreOfferedAsSuch(t *testing.T) {
	b := newBench(t)
	b.open()
	p := b.drop(b.write("trees.csv", unnamed("9.0002,43.3515", "9.0003,43.3516")))
	if !strings.Contains(b.beside(), "Longitude and latitude") {
		t.Fatalf("it shows:\n%s", b.beside())
	}
	p.reread(lonLatCode)
	b.until("the preview", func() bool { return p.ready() })
	if at := p.got.features[0].Point(); at[0] < 500_000 || at[0] > 500_100 {
		t.Errorf("the first tree stands at %v", at)
	}
	p.bringIn()
	if trees := b.doc.Site().Plan.Of(plan.Tree, plan.AsItIs); len(trees) != 2 {
		t.Errorf("%d trees came in", len(trees))
	}
}

func TestAPackedDrawingIsRefusedInOneSentence(t *testing.T) {
	b := newBench(t)
	b.open()
	for _, name := range []string{"walk.kmz", "walk.kml"} { // the second is packed, whatever its name says
		path := b.write(name, "PK\x03\x04 and more")
		if endsIn(path, planEnds) {
			b.askPlan(path)
		} else {
			b.dropped([]fyne.URI{storage.NewFileURI(path)})
		}
		b.until("the sentence", b.covered)
		if said := b.dialogText(); !strings.Contains(said, name+" is packed") || !strings.Contains(said, "unpack it") {
			t.Errorf("it says:\n%s", said)
		}
		b.answer("Close")
	}
}

func TestAnotherSiteEndsTheQuestion(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drop(b.write("hedges.geojson", hedges))
	b.openDemo()
	b.settle()
	if b.inquiry.on() || b.pane.scene.Arrivals != nil || !b.ledger.scroll.Visible() {
		t.Error("it is still asked about")
	}
}
