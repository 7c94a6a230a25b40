package ui

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/paulmach/orb"

	"runnel/app/site"
	"runnel/geo/plan"
)

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

func TestADraggedPointIsOneUndo(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.drawChannel()
	b.takeUp(selecting)
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

func TestTheMapIsNotZoomedOutOfSight(t *testing.T) {
	b := newBench(t)
	b.open()
	b.pane.fit()
	fits := b.pane.camera.Scale
	for range 40 {
		b.pane.zoom(fyne.NewPos(100, 100), 0.8)
	}
	if got := b.pane.camera.Scale; math.Abs(got-smallest*fits) > 1e-9 {
		t.Errorf("the scale is %g of what it is when the ground fits", got/fits)
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
	if !strings.Contains(b.status.drop.Text, "south edge") || len(b.pane.overlay.Drop) != 1 || len(b.pane.overlay.Drop[0]) < 70 {
		t.Errorf("the drop: %q, its ways %v", b.status.drop.Text, b.pane.overlay.Drop)
	}
	b.pane.MouseOut()
	if b.status.where.Text != "" || b.pane.overlay.Drop != nil {
		t.Error("the place stays when the pointer has left")
	}
}

func TestADragInsideTheBoundaryMovesTheMapAndNotTheBoundary(t *testing.T) {
	b := newBench(t)
	b.open()
	boundary := plan.Feature{Kind: plan.Boundary, Geometry: orb.Polygon{{
		{500_005, 4_800_005}, {500_055, 4_800_005}, {500_055, 4_800_075}, {500_005, 4_800_075}, {500_005, 4_800_005}}}}
	if err := b.doc.Do(&site.Add{Features: []plan.Feature{boundary}}); err != nil {
		t.Fatal(err)
	}
	b.settle()
	b.press(b.at(45, 40))
	if f, ok := b.selected(); ok {
		t.Errorf("bare ground selects %s", f.Title())
	}
	b.press(b.at(5, 40))
	f, ok := b.selected()
	if !ok || f.Kind != plan.Boundary {
		t.Fatalf("its outline selects %v", f)
	}
	scale, west := b.pane.camera.Scale, b.pane.camera.West
	b.drag(b.at(45, 40), b.at(50, 40))
	if now, _ := b.selected(); !orb.Equal(now.Geometry, f.Geometry) {
		t.Error("the boundary has moved")
	}
	if moved := west - b.pane.camera.West; math.Abs(moved-5) > 2/scale {
		t.Errorf("the map has moved %g m, want 5", moved)
	}
}

func TestTwoClicksApartAreNoDoubleClick(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(2)
	b.choose(drawer(plan.Channel))
	b.press(b.at(20, 70))
	b.press(b.at(40, 40))
	if points := b.pane.tool.Sketch().Points; len(points) < 2 || b.board.Selected != 0 {
		t.Fatalf("two clicks in two places give %v, selected %d", points, b.board.Selected)
	}
	b.press(b.at(40, 40))
	if f, _ := b.selected(); f.Kind != plan.Channel || len(f.Line()) != 2 {
		t.Errorf("a double click finishes with %v", f.Geometry)
	}
}

func TestKeysMoveAndScaleTheMap(t *testing.T) {
	b := newBench(t)
	b.open()
	start := b.pane.camera
	b.key(fyne.KeyLeft)
	if !(b.pane.camera.West < start.West) {
		t.Error("the left arrow does not show what lies to the west")
	}
	b.key(fyne.KeyDown)
	if !(b.pane.camera.North < start.North) {
		t.Error("the down arrow does not show what lies to the south")
	}
	b.pane.TypedRune('+')
	if got := b.pane.camera.Scale / start.Scale; math.Abs(got-zoomStep) > 1e-9 {
		t.Errorf("+ scales by %g", got)
	}
	b.pane.TypedRune('f')
	if b.pane.camera != start {
		t.Errorf("f fits to %+v, want %+v", b.pane.camera, start)
	}
}

func TestEscapeLaysTheToolDownAndThenTheSelection(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.key(fyne.KeyEscape)
	if b.held != selecting {
		t.Error("the tool still draws")
	}
	b.key(fyne.KeyEscape)
	if b.board.Selected != 0 {
		t.Error("the channel is still selected")
	}
}

func TestAPressShowsAllThatDrainsThroughAPlace(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(1)
	b.choose(gathering)
	b.press(b.at(30, 40))
	region := b.pane.overlay.Region
	if region == nil {
		t.Fatal("nothing is marked")
	}
	marked := 0
	for _, in := range region.V {
		if in {
			marked++
		}
	}
	// What drains through a cell is the area of the cells whose drops pass it.
	area := float64(marked) * region.CellArea()
	if want := b.units.area(area); marked == 0 || !strings.HasPrefix(b.status.next.Text, want) {
		t.Errorf("%d cells are marked, %s; the strip says %q", marked, want, b.status.next.Text)
	}
	// Nothing is built here: a lawn sheds 0.16 of the usual storm of 40 mm.
	if want := "and " + b.units.volume(area*0.16*0.04) + " of a 40"; !strings.Contains(b.status.next.Text, want) {
		t.Errorf("the strip says %q, want it to say %q", b.status.next.Text, want)
	}
	b.escaped()
	if b.pane.overlay.Region != nil || b.held != selecting {
		t.Error("the mark stays when the instrument is laid down")
	}
}
