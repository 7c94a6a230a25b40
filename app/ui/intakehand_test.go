package ui

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/paulmach/orb"
)

func TestHeightsAreTypedLineByLine(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.hill(""))
	if got := c.missing(); got != 10 || c.ready() {
		t.Fatalf("%d lines lack a height, want 10, and no ground can be made", got)
	}
	b.pressOn("Type heights")
	var order []int
	for z := 100.0; z < hillTop; z++ {
		order = append(order, c.survey.Lines[c.hand.line].Number)
		field := c.face.hand.fields[0].(*answer)
		if b.win.Canvas().Focused() != fyne.Focusable(field) {
			t.Fatal("the field does not have the keyboard")
		}
		field.SetText(fmt.Sprint(z))
		field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	}
	if !slices.IsSorted(order) {
		t.Errorf("the lines are asked for in the order %v; each is nearest to the next", order)
	}
	if c.missing() != 0 || c.survey.Lines[9].Level() != 109 || !c.ready() {
		t.Errorf("%d lack a height, the last is %v", c.missing(), c.survey.Lines[9].Level())
	}
	b.undoLast()
	if c.missing() != 1 || c.survey.Lines[9].Known() || !c.survey.Lines[8].Known() {
		t.Error("the last height is not taken back alone")
	}
	b.redoLast()
	if c.survey.Lines[9].Level() != 109 {
		t.Error("it is not typed again")
	}
}

func TestAPressOnALineAsksForItsHeight(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.hill(""))
	b.pressOn("Type heights")
	m := c.face.view
	m.fit()
	x, y := m.camera.ToScreen(orb.Point{hillEast + 15, hillNorth})
	at := fyne.NewPos(float32(x/m.scale), float32(y/m.scale))
	e := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: desktop.MouseButtonPrimary}
	m.MouseDown(e)
	m.MouseUp(e)
	if c.hand.line != 5 { // of 15 m radius
		t.Errorf("line %d is asked for, want 5", c.hand.line)
	}
	if err := c.giveHeight("high"); err == nil || c.missing() != 10 {
		t.Errorf("%v; a word is no height", err)
	}
	if err := c.giveHeight("105,5"); err != nil || c.survey.Lines[5].Level() != 105.5 {
		t.Errorf("%v; the height is %v", err, c.survey.Lines[5].Level())
	}
}

func TestHeightsAreCountedAlongAStroke(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.hill(""))
	b.pressOn("Count along a stroke")
	m := c.face.view
	place := func(east float64) fyne.Position {
		x, y := m.camera.ToScreen(orb.Point{hillEast + east, hillNorth + 0.5})
		return fyne.NewPos(float32(x/m.scale), float32(y/m.scale))
	}
	m.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: place(-32)}, Button: desktop.MouseButtonPrimary})
	for east := -30.0; east <= 32; east += 2 {
		m.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: place(east)}})
	}
	m.DragEnd()
	first := c.face.hand.fields[0].(*answer)
	first.SetText("100")
	first.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	step := c.face.hand.fields[1].(*answer)
	step.SetText("1")
	step.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if len(c.hand.levels) != 10 || c.hand.fault != "" {
		t.Fatalf("%d lines are counted over the top, want each of 10 once; %s", len(c.hand.levels), c.hand.fault)
	}
	b.pressOn("Give these heights")
	for i, l := range c.survey.Lines {
		if l.Level() != 100+float64(i) {
			t.Errorf("line %d is %v", i, l.Level())
		}
	}
	b.undoLast()
	if c.missing() != 10 {
		t.Error("the count is not one step to take back")
	}
}

func TestACountThatContradictsWhatIsKnownSetsNothing(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.hill("elev"))
	c.take(counting)
	c.hand.first, c.hand.step = "100", "2"
	c.drag(orb.LineString{{hillEast - 32, hillNorth}, {hillEast - 1, hillNorth}})
	if !strings.Contains(c.hand.fault, "known as 101.00") || !strings.Contains(texts(c.face.object), "stroke is known as") {
		t.Errorf("it says %q", c.hand.fault)
	}
	c.giveCounted()
	if len(c.hand.z) != 0 {
		t.Error("heights are set all the same")
	}
}
