package ui

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"

	"runnel/app/site"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A bench is a window under test. What workers send to the interface's
// goroutine waits in a queue until the test lets it run.
type bench struct {
	*Window
	t     *testing.T
	mu    sync.Mutex
	queue []func()
	trace bytes.Buffer
}

// newBench opens a window on the start screen, 1280 by 800.
func newBench(t *testing.T) *bench {
	t.Helper()
	a := test.NewTempApp(t)
	b := &bench{t: t}
	b.Window = NewWindow(a, Options{DemoSite: valley, Folder: t.TempDir(), Trace: &b.trace})
	b.post = func(f func()) {
		b.mu.Lock()
		defer b.mu.Unlock()
		b.queue = append(b.queue, f)
	}
	b.soon = func(f func()) { f() }
	b.win.Resize(fyne.NewSize(1280, 800))
	b.win.Show()
	t.Cleanup(func() {
		if b.keeper != nil {
			b.keeper.Close()
		}
		b.win.Close()
	})
	return b
}

// pump runs what has come in, and reports whether there was anything.
func (b *bench) pump() bool {
	b.mu.Lock()
	queue := b.queue
	b.queue = nil
	b.mu.Unlock()
	for _, f := range queue {
		f()
	}
	return len(queue) > 0
}

// until lets the workers' results in until done, or fails.
func (b *bench) until(what string, done func() bool) {
	b.t.Helper()
	for range 2000 {
		b.pump()
		if done() {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	b.t.Fatalf("%s did not come about; the trace:\n%s", what, b.trace.String())
}

// open shows the valley and waits for its figures and its map.
func (b *bench) open() {
	b.t.Helper()
	b.openDemo()
	b.settle()
}

// settle waits for the figures and the map of the site as it is now.
func (b *bench) settle() {
	b.t.Helper()
	b.until("the map", func() bool { return b.scene != nil && b.scene.Site == b.doc.Site() })
	b.win.Canvas().Capture()
}

// valley is a site that falls 2 m from north to south over 80 m, with a drain
// down the middle and one empty scheme.
func valley() plan.Site {
	ground := grid.New[float32](grid.Square(120, 160, 500_000, 4_800_080, 0.5))
	for y := range ground.H {
		for x := range ground.W {
			p := ground.Centre(x, y)
			ground.Set(x, y, float32(100+(p[1]-4_800_000)/40+math.Abs(p[0]-500_030)/60))
		}
	}
	s := plan.Site{Name: "Valley", Ground: ground, Setting: plan.UsualSetting()}
	s.CRS.Code, s.CRS.Metre, s.CRS.Name = 32632, 1, "WGS 84 / UTM zone 32N"
	s.Plan.Features = []plan.Feature{{
		ID: plan.ID(s.Plan.NextID()), Kind: plan.Drain, Name: "Old drain",
		Geometry: orb.LineString{{500_030, 4_800_078}, {500_030, 4_800_002}},
	}}
	s.Plan.Schemes = []plan.Scheme{{ID: plan.SchemeID(s.Plan.NextID()), Name: "Meander"}}
	return s
}

// at returns where a place of the site is seen in the map.
func (b *bench) at(east, north float64) fyne.Position {
	x, y := b.pane.camera.ToScreen(orb.Point{500_000 + east, 4_800_000 + north})
	return fyne.NewPos(float32(x/b.pane.scale), float32(y/b.pane.scale))
}

func (b *bench) press(at fyne.Position) {
	b.pane.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}})
	e := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: desktop.MouseButtonPrimary}
	b.pane.MouseDown(e)
	b.pane.MouseUp(e)
}

// drag presses at one place and lets go at another, as the toolkit reports it.
func (b *bench) drag(from, to fyne.Position) {
	b.pane.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: from}, Button: desktop.MouseButtonPrimary})
	last := from
	for i := 1; i <= 8; i++ {
		share := float32(i) / 8
		now := fyne.NewPos(from.X+(to.X-from.X)*share, from.Y+(to.Y-from.Y)*share)
		b.pane.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: now}, Dragged: fyne.NewDelta(now.X-last.X, now.Y-last.Y)})
		last = now
	}
	b.pane.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: to}, Button: desktop.MouseButtonPrimary})
	b.pane.DragEnd()
}

func (b *bench) key(name fyne.KeyName) { b.pane.TypedKey(&fyne.KeyEvent{Name: name}) }

// drawChannel draws a channel of three points in the step Shape.
func (b *bench) drawChannel() plan.Feature {
	b.t.Helper()
	b.goTo(2)
	b.choose(plan.Channel)
	b.press(b.at(30, 70))
	b.press(b.at(45, 45))
	b.press(b.at(30, 20))
	b.key(fyne.KeyReturn)
	f, ok := b.selected()
	if !ok || f.Kind != plan.Channel {
		b.t.Fatalf("no channel is drawn; selected is %v; the trace:\n%s", f, b.trace.String())
	}
	return f
}

// texts gathers every word that is shown in an object.
func texts(o fyne.CanvasObject) string {
	var b strings.Builder
	for _, found := range test.LaidOutObjects(o) {
		if t, ok := found.(*canvas.Text); ok && t.Visible() {
			b.WriteString(t.Text + "\n")
		}
	}
	return b.String()
}

// shownError returns what the uppermost dialog says.
func (b *bench) dialogText() string {
	overlay := b.win.Canvas().Overlays().Top()
	if overlay == nil {
		return ""
	}
	return texts(overlay)
}

func TestTheStartScreenOffersTheDemoSite(t *testing.T) {
	b := newBench(t)
	shown := texts(b.win.Content())
	for _, want := range []string{"Open the demo site", "New from a raster…", "Open…", "Hand over"} {
		if !strings.Contains(shown, want) {
			t.Errorf("the start screen does not offer %q:\n%s", want, shown)
		}
	}
	b.open()
	if b.win.Title() != "Valley – Runnel" {
		t.Errorf("the title is %q", b.win.Title())
	}
}

func TestAStepBringsItsToolsItsMapAndItsLedger(t *testing.T) {
	b := newBench(t)
	b.open()
	for i, s := range steps {
		b.goTo(i)
		if len(b.tools.buttons) != len(s.kinds)+1 {
			t.Errorf("%s: %d tools, want %d", s.word, len(b.tools.buttons), len(s.kinds)+1)
		}
		if b.pane.scene.Show != s.show {
			t.Errorf("%s: the map shows %b, want %b", s.word, b.pane.scene.Show, s.show)
		}
		for j, button := range b.rail.buttons {
			if button.marked != (i == j) {
				t.Errorf("%s: step %d is marked: %v", s.word, j, button.marked)
			}
		}
	}
}

func TestAToolThatDrawsInASchemeShowsOne(t *testing.T) {
	b := newBench(t)
	b.open()
	b.showScheme(plan.AsItIs)
	b.choose(plan.Channel)
	if b.schemeName() != "Meander" {
		t.Errorf("the scheme is %q", b.schemeName())
	}
}

func TestADrawnChannelChangesTheFigures(t *testing.T) {
	b := newBench(t)
	b.open()
	before := b.figures.scheme.Contact
	b.drawChannel()
	b.settle()
	if after := b.figures.scheme.Contact; !(after > before+10) {
		t.Errorf("contact is %g m² before and %g m² after a channel of 58 m", before, after)
	}
	if shown := texts(b.ledger.object); !strings.Contains(shown, Metric.area(b.figures.scheme.Contact)) {
		t.Errorf("the ledger does not show %s:\n%s", Metric.area(b.figures.scheme.Contact), shown)
	}
}

func TestUndoTakesAChannelBackAndRedoBringsIt(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.drawChannel()
	if !strings.Contains(b.menu.undo.Label, f.Title()) {
		t.Errorf("the menu offers %q", b.menu.undo.Label)
	}
	b.menu.undo.Action()
	if _, ok := b.doc.Site().Plan.Find(f.ID); ok {
		t.Error("the channel is still there")
	}
	b.menu.redo.Action()
	if _, ok := b.doc.Site().Plan.Find(f.ID); !ok {
		t.Error("the channel is not back")
	}
}

func TestUndoInAFieldTakesBackWhatWasTyped(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	edits, _ := b.doc.UndoText()
	name := b.ledger.parts[0].(*selectedPart).fields[0].(*nameField).answer
	b.win.Canvas().Focus(name)
	test.Type(name, "North arm")
	b.menu.undo.Action()
	if name.Text == "North arm" {
		t.Error("the typed name still stands")
	}
	if now, _ := b.doc.UndoText(); now != edits {
		t.Errorf("the site's history went from %q to %q", edits, now)
	}
}

func TestADraggedPointIsOneUndo(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.drawChannel()
	b.takeUp(plan.NoKind)
	b.drag(b.at(45, 45), b.at(52, 45))
	moved, _ := b.selected()
	if got := moved.Line()[1]; math.Abs(got[0]-500_052) > 0.3 {
		t.Fatalf("the point is at %v", got)
	}
	b.menu.undo.Action()
	back, _ := b.doc.Site().Plan.Find(f.ID)
	if !orb.Equal(back.Geometry, f.Geometry) {
		t.Errorf("undo gives %v, want %v", back.Geometry, f.Geometry)
	}
}

func TestADragOnEmptyGroundMovesTheMap(t *testing.T) {
	b := newBench(t)
	b.open()
	before := b.pane.ground(fyne.NewPos(100, 100))
	b.drag(fyne.NewPos(100, 100), fyne.NewPos(160, 130))
	after := b.pane.ground(fyne.NewPos(160, 130))
	if math.Hypot(after[0]-before[0], after[1]-before[1]) > 0.01 {
		t.Errorf("the ground that was held went from %v to %v", before, after)
	}
	if b.doc.Dirty() {
		t.Error("moving the map changes the site")
	}
}

func TestTheWheelZoomsAboutThePointer(t *testing.T) {
	b := newBench(t)
	b.open()
	at := fyne.NewPos(210, 333)
	before, scale := b.pane.ground(at), b.pane.camera.Scale
	b.pane.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: at}, Scrolled: fyne.NewDelta(0, 50)})
	after := b.pane.ground(at)
	if math.Hypot(after[0]-before[0], after[1]-before[1]) > 1e-6 {
		t.Errorf("the ground under the pointer went from %v to %v", before, after)
	}
	if got := b.pane.camera.Scale / scale; math.Abs(got-zoomStep*zoomStep) > 1e-9 {
		t.Errorf("two clicks of the wheel scale by %g", got)
	}
}

func TestThePointerShowsPlaceHeightAndTheDropsPath(t *testing.T) {
	b := newBench(t)
	b.open()
	b.pane.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: b.at(30.1, 40)}})
	for _, want := range []string{"500\u2009030.1", "4\u2009800\u2009040.0", "101.0"} {
		if !strings.Contains(b.status.where.Text, want) {
			t.Errorf("the strip says %q, want %s in it", b.status.where.Text, want)
		}
	}
	if !strings.Contains(b.status.drop.Text, "south edge") || len(b.pane.overlay.Drop) < 70 {
		t.Errorf("the drop: %q, %d points", b.status.drop.Text, len(b.pane.overlay.Drop))
	}
	b.pane.MouseOut()
	if b.status.where.Text != "" || b.pane.overlay.Drop != nil {
		t.Error("the place stays when the pointer has left")
	}
}

func TestAFieldChangesTheFeatureOrSaysWhatIsWrong(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	field := b.ledger.parts[0].(*selectedPart).fields[1].(*typedField)
	field.answer.SetText("0,8")
	field.answer.FocusLost()
	if f, _ := b.selected(); f.Num("bed_width") != 0.8 {
		t.Errorf("the bed is %g m wide", f.Num("bed_width"))
	}
	field.answer.SetText("wide")
	field.answer.OnSubmitted("wide")
	if !field.fault.Visible() || !strings.Contains(field.fault.Text, "give a number") {
		t.Errorf("nothing is said of a width of \"wide\": %q", field.fault.Text)
	}
	if f, _ := b.selected(); f.Num("bed_width") != 0.8 {
		t.Errorf("the bed is %g m wide", f.Num("bed_width"))
	}
	field.answer.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if field.answer.Text != "0.8" {
		t.Errorf("Escape leaves %q", field.answer.Text)
	}
}

func TestUSUnitsAreTypedAndShownInFeet(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.turnUnits()
	field := b.ledger.parts[0].(*selectedPart).fields[1].(*typedField)
	field.answer.SetText("3")
	field.answer.FocusLost()
	// 3 ft is 0.9144 m exactly.
	if f, _ := b.selected(); math.Abs(f.Num("bed_width")-0.9144) > 1e-12 {
		t.Errorf("a bed of 3 ft is %g m", f.Num("bed_width"))
	}
	if shown := texts(b.ledger.object); !strings.Contains(shown, "ft²") || strings.Contains(shown, "m²") {
		t.Errorf("the ledger is not in feet:\n%s", shown)
	}
}

func TestEachSchemeHasATab(t *testing.T) {
	b := newBench(t)
	b.open()
	b.addScheme()
	b.drawChannel()
	b.copyScheme(b.board.Scheme)
	if shown := texts(b.tabs.object); shown != "As it is\nMeander\nScheme A\nScheme B\n+\nCompare\n" {
		t.Errorf("the tabs are:\n%s", shown)
	}
	if channels := b.doc.Site().Plan.Of(plan.Channel, b.board.Scheme); len(channels) != 1 {
		t.Errorf("the copy has %d channels", len(channels))
	}
	b.complain(b.doc.Do(&site.RemoveScheme{ID: b.board.Scheme}))
	if b.board.Scheme != plan.AsItIs {
		t.Error("a scheme that is gone is still shown")
	}
}

func TestTheComparisonLaysSchemesSideBySide(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.compareSchemes()
	b.until("the comparison", func() bool { return b.covered() })
	shown := b.dialogText()
	for _, want := range []string{"As it is", "Meander", "Contact area", "Storage", "Recharge potential", "Cautions"} {
		if !strings.Contains(shown, want) {
			t.Errorf("the comparison has no %q:\n%s", want, shown)
		}
	}
}

func TestAFileThatIsNoSiteIsOneSentence(t *testing.T) {
	b := newBench(t)
	path := filepath.Join(t.TempDir(), "broken.gpkg")
	if err := os.WriteFile(path, []byte("this is no site"), 0o600); err != nil {
		t.Fatal(err)
	}
	b.openAny(path)
	b.until("the sentence", func() bool { return b.covered() })
	if b.doc != nil {
		t.Error("something was opened")
	}
	if shown := b.dialogText(); !strings.Contains(shown, "broken.gpkg") {
		t.Errorf("the sentence does not name the file:\n%s", shown)
	}
}

func TestASiteIsSavedAndOpenedAgain(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.drawChannel()
	path := filepath.Join(t.TempDir(), "valley.gpkg")
	b.saveIn(path, nil)
	b.until("the save", func() bool { return !b.doc.Dirty() && b.doc.Path() == path })
	b.openAny(path)
	b.until("the site", func() bool { return b.board.Selected == 0 && b.doc.Path() == path && b.step == 0 })
	back, ok := b.doc.Site().Plan.Find(f.ID)
	if !ok || !orb.Equal(back.Geometry, f.Geometry) {
		t.Errorf("the channel comes back as %v", back)
	}
	if len(b.recents) != 1 || b.recents[0] != path {
		t.Errorf("the recent files are %v", b.recents)
	}
}

func TestUnsavedChangesAreAskedAboutBeforeTheyAreLeft(t *testing.T) {
	b := newBench(t)
	b.open()
	left := false
	b.leave(func() { left = true })
	if !left {
		t.Error("a site without changes is asked about")
	}
	b.drawChannel()
	b.leave(func() { t.Error("the changes are left without asking") })
	if !strings.Contains(b.dialogText(), "not saved") {
		t.Errorf("the question is:\n%s", b.dialogText())
	}
}

func TestWhatACrashLeftIsOffered(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	if err := b.keeper.Flush(); err != nil {
		t.Fatal(err)
	}
	// A copy whose program is gone is a copy that nobody holds.
	dir := b.recoveryFolder()
	crashed := filepath.Join(t.TempDir(), "runnel", "recovery")
	if err := os.CopyFS(crashed, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	b.options.Folder = filepath.Dir(crashed)
	b.offerRecovery()
	if !strings.Contains(b.dialogText(), "Valley") {
		t.Errorf("the offer is:\n%s", b.dialogText())
	}
}

func TestAFaultInAJobIsASentenceAndTheWindowLives(t *testing.T) {
	b := newBench(t)
	b.open()
	var got error
	b.start(job{doing: "Failing", run: func(context.Context) error { panic("no such cell") }, done: func(err error) { got = err }})
	b.until("the fault", func() bool { return got != nil })
	if !strings.Contains(got.Error(), "mistake in the program") {
		t.Errorf("the fault is %q", got)
	}
}

func TestALongJobShowsItselfAndCanBeStopped(t *testing.T) {
	b := newBench(t)
	b.start(job{
		doing: "Waiting for rain",
		run:   func(ctx context.Context) error { <-ctx.Done(); return ctx.Err() },
		done:  func(error) { t.Error("a cancelled job reports") },
	})
	b.until("the progress", b.covered)
	for _, o := range test.LaidOutObjects(b.win.Canvas().Overlays().Top()) {
		if button, ok := o.(*widget.Button); ok && button.Text == "Cancel" {
			test.Tap(button)
		}
	}
	b.until("the end", func() bool { return strings.Contains(b.trace.String(), `"ok":false`) })
}

func TestTheTraceIsLinesOfJSON(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(3)
	seen := map[string]bool{}
	for line := range strings.Lines(b.trace.String()) {
		var event struct{ Event string }
		if err := json.Unmarshal([]byte(line), &event); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		seen[event.Event] = true
	}
	for _, want := range []string{"opened", "tool", "step", "figures", "shown"} {
		if !seen[want] {
			t.Errorf("the trace has no %q", want)
		}
	}
}
