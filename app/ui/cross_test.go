package ui

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/plan"
)

func TestAChannelIsDrawnByTheKeyboardAlone(t *testing.T) {
	b := newBench(t)
	b.open()
	b.run(b.command("Channel"))
	if b.win.Canvas().Focused() != b.pane {
		t.Fatal("the tool does not bring the keyboard to the map")
	}
	before := b.pane.camera
	for _, key := range []fyne.KeyName{fyne.KeyUp, fyne.KeyUp, fyne.KeyUp, fyne.KeySpace, fyne.KeyRight, fyne.KeyRight, fyne.KeyRight, fyne.KeyRight, fyne.KeyRight,
		fyne.KeyRight, fyne.KeyRight, fyne.KeySpace, fyne.KeyDown, fyne.KeyDown, fyne.KeyDown, fyne.KeyDown, fyne.KeyDown, fyne.KeyDown, fyne.KeySpace, fyne.KeyReturn} {
		b.typeKey(key)
	}
	f, ok := b.selected()
	if !ok || f.Kind != plan.Channel {
		t.Fatalf("no channel is drawn; selected is %v; the trace:\n%s", f, b.trace.String())
	}
	if b.pane.camera != before {
		t.Error("the arrows moved the map while they drew")
	}
	line := f.Geometry.(orb.LineString)
	ends := planar.Distance(line[0], line[len(line)-1])
	// Seven steps to the right and six down, of eight device-independent pixels.
	want := math.Hypot(7, 6) * crossStep * b.pane.scale / b.pane.camera.Scale
	if math.Abs(ends-want) > 3*crossStep/b.pane.camera.Scale {
		t.Errorf("its ends are %.1f m apart, want about %.1f", ends, want)
	}
}

func TestTheCrossGivesWayToThePointerAndMovesTheMapAtTheEdge(t *testing.T) {
	b := newBench(t)
	b.open()
	before := b.pane.camera
	b.key(fyne.KeyLeft)
	if b.pane.cross.on || b.pane.camera == before {
		t.Error("without a tool the arrows move the map")
	}
	b.key(fyne.KeySpace)
	if !b.pane.cross.on {
		t.Fatal("Space brings no cross")
	}
	before = b.pane.camera
	for range 200 {
		b.key(fyne.KeyRight)
	}
	if at := b.pane.cross.at; at.X < 0 || at.X > b.pane.Size().Width || b.pane.camera == before {
		t.Errorf("the cross is at %v, the camera at %v", at, b.pane.camera)
	}
	b.press(b.at(20, 20))
	if b.pane.cross.on {
		t.Error("the cross stays when the pointer moves")
	}
}
