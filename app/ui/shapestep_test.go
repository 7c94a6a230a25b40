//go:build ci

package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/paulmach/orb"

	"runnel/analysis/propose"
	"runnel/app/site"
	"runnel/geo/plan"
)

// add draws something in the scheme that is shown, and selects it.
func (b *bench) add(f plan.Feature) plan.Feature {
	b.t.Helper()
	f.Scheme = b.board.Scheme
	edit := &site.Add{Features: []plan.Feature{f}}
	if err := b.doc.Do(edit); err != nil {
		b.t.Fatal(err)
	}
	b.board.Select(edit.Features[0].ID)
	return edit.Features[0]
}

// measuredNow waits for the figures of the document as it is now.
func (b *bench) measuredNow() {
	b.t.Helper()
	b.until("the figures", func() bool { return b.figures.known && b.figures.site == b.doc.Site() })
	b.ledger.refresh()
}

func (b *bench) selectedRow(name string) *typedField {
	return b.ledger.parts[0].(*selectedPart).typed(name)
}

// From a field with nothing of its own to take back Ctrl+Z goes to the drawing.
func TestAFieldThatIsNotTypedInLeavesUndoToTheDrawing(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.dig()
	width, next := b.selectedRow("bed_width"), b.selectedRow("side_left")
	b.win.Canvas().Focus(width.answer)
	width.answer.SetText("1.5")
	b.win.Canvas().Focus(next.answer)
	if got := b.field(f.ID, "bed_width"); got != 1.5 {
		t.Fatalf("the bed is %g m wide", got)
	}
	b.run(b.command("Undo"))
	if got := b.field(f.ID, "bed_width"); got != 0.6 {
		t.Errorf("after Ctrl+Z in the next field the bed is %g m wide", got)
	}
	b.run(b.command("Redo"))
	if got := b.field(f.ID, "bed_width"); got != 1.5 {
		t.Errorf("after Ctrl+Y it is %g m wide", got)
	}
	next.answer.SetText("2") // being typed: the field's own
	b.run(b.command("Undo"))
	if got := b.field(f.ID, "bed_width"); got != 1.5 {
		t.Errorf("Ctrl+Z while typing changed the drawing: %g m", got)
	}
}

func TestUndoGoesToTheSchemeThatItChanges(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.dig()
	b.showScheme(plan.AsItIs)
	b.undoLast()
	if _, there := b.doc.Site().Plan.Find(f.ID); there || b.board.Scheme != f.Scheme {
		t.Errorf("undone: scheme %d is shown, want %d", b.board.Scheme, f.Scheme)
	}
	b.showScheme(plan.AsItIs)
	b.redoLast()
	if b.board.Scheme != f.Scheme {
		t.Errorf("redone: scheme %d is shown, want %d", b.board.Scheme, f.Scheme)
	}
}

// The depth lays the bed only where no level does.
func TestADepthThatDoesNothingIsGreyedWithItsReason(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.dig()
	b.measuredNow()
	row := b.selectedRow("depth")
	if !row.answer.Disabled() || !strings.Contains(texts(row.content()), "levels are set") {
		t.Errorf("with both levels set: %q", texts(row.content()))
	}
	if err := b.doc.Do(&site.Replace{After: f.Without("bed_end")}); err != nil {
		t.Fatal(err)
	}
	b.measuredNow()
	if row = b.selectedRow("depth"); row.answer.Disabled() {
		t.Error("the end's bed lies below the ground, and the depth cannot be typed")
	}
}

func TestTheFallInUseIsShown(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.dig().Without("bed_end").With("bed", plan.Value{Text: "at a grade"})
	if err := b.doc.Do(&site.Replace{After: f}); err != nil {
		t.Fatal(err)
	}
	b.measuredNow()
	if got := b.selectedRow("grade").answer.PlaceHolder; got != "0.50 usual" {
		t.Errorf("the fall in use is %q", got)
	}
}

// A bridge tells its span and how clear of the water it is, and the strip shows the
// channel that it stands in.
func TestACrossingIsShownWithItsChannelAndItsFigures(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.dig()
	c := b.add(plan.Feature{Kind: plan.Crossing, Geometry: orb.Point{500_045, 4_800_045}})
	b.measuredNow()
	said := texts(b.ledger.parts[0].content())
	for _, want := range []string{"Span between the tops of the banks", "Deck, on the higher bank's top", "Clear above the water"} {
		if !strings.Contains(said, want) {
			t.Errorf("a bridge does not say %q:\n%s", want, said)
		}
	}
	if got, _ := b.section.followed(); got.ID != f.ID {
		t.Errorf("the strip shows %s", got.Title())
	}
	b.board.Select(b.doc.Site().Plan.In(plan.AsItIs)[0].ID) // the drain
	b.section.refresh()
	c.Geometry = orb.Point{500_010, 4_800_045}
	if err := b.doc.Do(&site.Replace{After: c}); err != nil {
		t.Fatal(err)
	}
	b.board.Select(c.ID)
	b.measuredNow()
	if got, ok := b.section.followed(); ok {
		t.Errorf("of a crossing on open ground the strip shows %s", got.Title())
	}
	if said := texts(b.ledger.object); !strings.Contains(said, "lies on no channel") {
		t.Errorf("it is not said that it lies on no channel:\n%s", said)
	}
}

func TestAProblemsPlaceComesToTheMiddleAndTheLedgerStays(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.dig()
	b.measuredNow()
	b.board.Select(0)
	b.ledger.scroll.ScrollToBottom()
	end := b.ledger.box.MinSize().Height - b.ledger.scroll.Offset.Y
	at := orb.Point{500_045, 4_800_035}
	b.showPlace(f.ID, at)
	x, y := b.pane.camera.ToScreen(at)
	if d := max(x-float64(b.pane.width)/2, y-float64(b.pane.height)/2); d > 2 || d < -2 {
		t.Errorf("the place lies at %.0f, %.0f of %d, %d", x, y, b.pane.width, b.pane.height)
	}
	if now := b.ledger.box.MinSize().Height - b.ledger.scroll.Offset.Y; now < end-2 || now > end+2 {
		t.Errorf("what was read lies %g dp above the end, was %g", now, end)
	}
}

func TestWhatWasSoughtIsSaidBesideWhatIsDrawn(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.dig()
	b.measuredNow()
	b.add(plan.Feature{Kind: plan.Crossing, Geometry: orb.Point{500_045, 4_800_045}})
	b.measuredNow()
	q := propose.Question{Scheme: f.Scheme, Instead: f.ID}
	course := plan.Feature{Kind: plan.Channel, Geometry: orb.LineString{{500_045, 4_800_060}, {500_046, 4_800_030}}}
	b.takeLines(b.doc.Site(), q, []propose.Proposal{{Channel: course, Contact: 1, Volume: 9}}, nil)
	said := b.dialogText()
	if !strings.Contains(said, "Nothing better was found: yours touches") || !strings.Contains(said, "islands, sills") {
		t.Errorf("of a worse line it says:\n%s", said)
	}
	if b.board.Scheme != f.Scheme {
		t.Error("a worse proposal is shown in place of what is drawn")
	}
	schemes := b.doc.Site().Plan.Schemes
	for _, g := range b.doc.Site().Plan.Features {
		if g.Scheme == schemes[len(schemes)-1].ID && g.Kind == plan.Crossing {
			t.Error("the old channel's crossing stands in the proposal's scheme")
		}
	}
	b.typeKey(fyne.KeyEscape)
	b.takeLines(b.doc.Site(), q, []propose.Proposal{{Channel: course, Contact: 900, Volume: 9}}, nil)
	if said := b.dialogText(); !strings.Contains(said, "The best touches 900") || b.board.Scheme == f.Scheme {
		t.Errorf("of a better line it says:\n%s", said)
	}
}

func TestTheUsualDistancesAreAskedForAsTheCautionsSayThem(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.newLineForm([]lineEnds{{"here", propose.Question{Volume: 100, Left: 2, Right: 2}}})
	if got := f.fields[5].entry.Text; got != "3" {
		t.Errorf("the distance from buildings is %q", got)
	}
	if err := f.take(); err != nil || f.asked.Setbacks != propose.UsualSetbacks() {
		t.Errorf("%v: what is left as it is shown is asked for as %+v", err, f.asked.Setbacks)
	}
}
