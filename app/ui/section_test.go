package ui

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/paulmach/orb"

	"runnel/app/site"
	"runnel/geo"
	"runnel/geo/plan"
)

// sectioned waits until the sections show the document as it is now.
func (b *bench) sectioned() {
	b.t.Helper()
	b.win.Canvas().Capture()
	b.until("the sections", func() bool {
		s := b.section
		return s.drawn.longPicture != nil && s.drawn.request == s.asked && s.asked.site == b.doc.Site()
	})
}

// dig adds a straight channel of 30 m, and selects it. Its bed is level and lies
// 0.4 m and more below the ground, which falls along it.
func (b *bench) dig() plan.Feature {
	b.t.Helper()
	f := plan.Feature{Kind: plan.Channel, Scheme: b.board.Scheme, Geometry: orb.LineString{{500_045, 4_800_060}, {500_045, 4_800_030}}}
	add := &site.Add{Features: []plan.Feature{f.With("bed_start", plan.Value{Number: 100.6}).With("bed_end", plan.Value{Number: 100.6})}}
	if err := b.doc.Do(add); err != nil {
		b.t.Fatal(err)
	}
	b.goTo(2)
	b.board.Select(add.Features[0].ID)
	b.selectionChanged()
	return add.Features[0]
}

// gripOf returns where the grip of a field is in the long section.
func (b *bench) gripOf(field string) fyne.Position {
	b.t.Helper()
	for _, g := range b.section.grips() {
		if g.field == field {
			return b.inSection(g.Chainage, g.Level)
		}
	}
	b.t.Fatalf("the section has no grip of %s", field)
	return fyne.Position{}
}

func (b *bench) inSection(chainage, level float64) fyne.Position {
	x, y := b.section.drawn.long.View.ToScreen(chainage, level)
	scale := b.section.long.pixels.scale
	return fyne.NewPos(float32(x/scale), float32(y/scale))
}

// pull drags from a place in the long section, some way down the pane, in steps
// between which the workers' results come in.
func (b *bench) pull(from fyne.Position, down float32) {
	l := b.section.long
	e := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: from}, Button: desktop.MouseButtonPrimary}
	l.MouseMoved(e)
	l.MouseDown(e)
	for i := range 4 {
		b.pump()
		at := fyne.NewPos(from.X, from.Y+down*float32(i+1)/4)
		l.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: at}})
	}
}

func (b *bench) letGo() {
	b.section.long.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary})
	b.section.long.DragEnd()
}

func (b *bench) field(id plan.ID, name string) float64 {
	f, _ := b.doc.Site().Plan.Find(id)
	return f.Num(name)
}

func TestTheWaterIsDraggedInTheLongSectionAndComesBackInOneUndo(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.dig()
	b.sectioned()
	b.settle()
	flooded := b.figures.scheme.Contact
	metre := b.section.drawn.long.View.Up / b.section.long.pixels.scale
	level := b.section.drawn.long.Pools[0].Level
	b.pull(b.gripOf("water_level"), float32(0.1*metre))
	if got := b.field(f.ID, "water_level"); math.Abs(got-(level-0.1)) > 0.5/metre+0.001 {
		t.Errorf("the water is at %.3f m, want %.3f", got, level-0.1)
	}
	b.letGo()
	b.settle()
	if !(b.figures.scheme.Contact < flooded) {
		t.Errorf("the water touches %.1f m² when it is lower, and %.1f before", b.figures.scheme.Contact, flooded)
	}
	b.sectioned()
	if got, want := b.section.drawn.long.Pools[0].Level, b.field(f.ID, "water_level"); math.Abs(got-want) > 1e-9 {
		t.Errorf("the section shows %.3f m, the field says %.3f", got, want)
	}
	if want := "move water level of " + f.Title(); !strings.Contains(b.menu.undo.Label, want) {
		t.Errorf("the menu offers %q, want %q in it", b.menu.undo.Label, want)
	}
	b.menu.undo.Action()
	if got := b.field(f.ID, "water_level"); !math.IsNaN(got) {
		t.Errorf("one undo leaves the water at %.3f m", got)
	}
	for _, event := range []string{`"event":"level"`, `"event":"section"`, `"P":`} {
		if !strings.Contains(b.trace.String(), event) {
			t.Errorf("the trace does not say %s", event)
		}
	}
}

func TestTheWaterGoesNoHigherThanTheBrim(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.dig()
	b.sectioned()
	brim := b.section.drawn.long.Pools[0].Brim
	b.pull(b.gripOf("water_level"), -500)
	if got := b.field(f.ID, "water_level"); got != brim {
		t.Errorf("the water is at %.3f m, want the brim, %.3f", got, brim)
	}
	// The ground falls to the south, where the line ends.
	if b.section.hold.stop != "full to the brim at 30.0\u00a0m" {
		t.Errorf("the grip says %q", b.section.hold.stop)
	}
	b.section.long.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if got := b.field(f.ID, "water_level"); !math.IsNaN(got) {
		t.Errorf("Escape leaves the water at %.3f m", got)
	}
}

func TestAnEndOfTheBedIsDragged(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.dig()
	b.sectioned()
	bed := b.section.drawn.long.Places[0].Bed
	b.pull(b.gripOf("bed_start"), 12)
	b.letGo()
	if got := b.field(f.ID, "bed_start"); !(got < bed) {
		t.Errorf("the bed starts at %.3f m, and before at %.3f", got, bed)
	}
	if got := b.field(f.ID, "bed_end"); got != 100.6 {
		t.Errorf("the other end goes to %.3f m", got)
	}
	if want := "move bed level of " + f.Title(); !strings.Contains(b.menu.undo.Label, want) {
		t.Errorf("the menu offers %q", b.menu.undo.Label)
	}
}

func TestWithShiftALevelGoesByWholeSteps(t *testing.T) {
	for _, u := range []units{metric, usFeet} {
		b := newBench(t)
		b.Window.units = u
		b.open()
		b.dig()
		b.sectioned()
		for _, g := range b.section.grips() {
			if g.field == "water_level" {
				b.section.grab(g, g.Level)
			}
		}
		b.section.drag(b.section.hold.value-0.0432, stepped)
		step := map[units]float64{metric: 0.01, usFeet: geo.Foot / 20}[u]
		if steps := b.section.hold.value / step; math.Abs(steps-math.Round(steps)) > 1e-6 {
			t.Errorf("units %d: %.4f m is no whole number of steps", u, b.section.hold.value)
		}
		b.section.drop()
	}
}

func TestArrowKeysMoveTheWaterAndTheStation(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.dig()
	b.sectioned()
	l := b.section.long
	b.win.Canvas().Focus(l)
	level := b.section.drawn.long.Pools[0].Level
	for range 3 {
		l.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	}
	if got := b.field(f.ID, "water_level"); math.Abs(got-(level-0.03)) > 0.0051 {
		t.Errorf("three presses take the water from %.3f to %.3f m", level, got)
	}
	b.menu.undo.Action()
	if got := b.field(f.ID, "water_level"); !math.IsNaN(got) {
		t.Errorf("one undo leaves the water at %.3f m", got)
	}
	before := b.section.here()
	l.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if !(b.section.here() > before) || b.pane.overlay.Station == nil {
		t.Errorf("the station goes from %.2f to %.2f m; on the map it is %v", before, b.section.here(), b.pane.overlay.Station)
	}
}

func TestThePointerInTheLongSectionShowsItsStationOnTheMap(t *testing.T) {
	b := newBench(t)
	b.open()
	b.dig()
	b.sectioned()
	l := b.section.long
	l.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: b.inSection(10, b.section.drawn.long.View.Low)}})
	b.sectioned()
	want := orb.Point{500_045, 4_800_050}
	if at := b.pane.overlay.Station; at == nil || math.Hypot(at[0]-want[0], at[1]-want[1]) > 0.2 {
		t.Errorf("the map shows %v, want %v", at, want)
	}
	b.used() // what the tool is about is drawn anew
	if b.pane.overlay.Station == nil || len(b.pane.overlay.Section) != 2 {
		t.Error("the station goes from the map when the tool moves")
	}
	l.MouseOut()
	if b.pane.overlay.Station != nil || b.pane.overlay.Section != nil {
		t.Error("the station stays on the map")
	}
}

func TestThePointerByTheChannelMovesTheCrossSection(t *testing.T) {
	b := newBench(t)
	b.open()
	b.dig()
	b.sectioned()
	b.pane.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: b.at(45, 45)}})
	if got := b.section.here(); math.Abs(got-15) > 0.2 {
		t.Errorf("the station is %.2f m, want 15", got)
	}
	b.pane.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: b.at(5, 5)}})
	if got := b.section.here(); math.Abs(got-15) > 0.2 || b.pane.overlay.Station != nil {
		t.Errorf("away from it the station is %.2f m, on the map %v", got, b.pane.overlay.Station)
	}
}

func TestThePanelFollowsWhatIsSelected(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(2)
	if b.section.of != 0 || !strings.Contains(b.section.hint.Text, "Select a channel") {
		t.Errorf("with nothing drawn it shows %d and says %q", b.section.of, b.section.hint.Text)
	}
	channel := b.dig()
	b.sectioned()
	if b.section.hint.Text != "" || b.section.drawn.long.ID != channel.ID {
		t.Errorf("it shows %d and says %q", b.section.drawn.long.ID, b.section.hint.Text)
	}
	path := plan.Feature{Kind: plan.Path, Scheme: b.board.Scheme, Geometry: orb.LineString{{500_005, 4_800_010}, {500_055, 4_800_060}}}
	add := &site.Add{Features: []plan.Feature{path}}
	if err := b.doc.Do(add); err != nil {
		t.Fatal(err)
	}
	b.board.Select(add.Features[0].ID)
	b.selectionChanged()
	b.sectioned()
	if got := b.section.drawn.long; got.ID != add.Features[0].ID || math.Abs(got.Length-math.Hypot(50, 50)) > 1e-6 || len(b.section.grips()) != 0 {
		t.Errorf("of the path it shows %d, %.2f m long, with %d grips", got.ID, got.Length, len(b.section.grips()))
	}
	b.board.Select()
	b.selectionChanged()
	b.sectioned()
	if b.section.drawn.long.ID != channel.ID {
		t.Error("with nothing selected it does not show the scheme's first channel")
	}
}

func TestThePanelTakesTheKeyboard(t *testing.T) {
	b := newBench(t)
	b.open()
	b.dig()
	b.sectioned()
	l := b.section.long
	b.win.Canvas().Focus(l)
	if !l.focused {
		t.Fatal("the long section does not take the keyboard")
	}
	l.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if l.focused {
		t.Error("Escape does not give the keyboard back to the map")
	}
}
