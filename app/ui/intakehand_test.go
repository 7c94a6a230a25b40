package ui

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
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

// strokeOverTheHill drags from west of the hill to east of it.
func (m *surveyMap) strokeOverTheHill() {
	place := func(east float64) fyne.Position {
		x, y := m.camera.ToScreen(orb.Point{hillEast + east, hillNorth + 0.5})
		return fyne.NewPos(float32(x/m.scale), float32(y/m.scale))
	}
	m.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: place(-32)}, Button: desktop.MouseButtonPrimary})
	for east := -30.0; east <= 32; east += 2 {
		m.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: place(east)}})
	}
	m.DragEnd()
}

func TestHeightsAreCountedAlongAStroke(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.hill(""))
	b.pressOn("Count along a stroke")
	c.face.view.strokeOverTheHill()
	first := c.face.hand.fields[0].(*answer)
	first.SetText("100")
	first.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	step := c.face.hand.fields[1].(*answer)
	if b.win.Canvas().Focused() != fyne.Focusable(step) || !c.hand.stroke.lacking || c.hand.stroke.said.Importance == widget.DangerImportance {
		t.Error("Return goes on to the interval, whose lack is no fault yet")
	}
	if tags := c.drawing().Tags; len(tags) != 10 || tags[0].Word != "1" || tags[9].Word != "10" {
		t.Errorf("before the interval is known the lines are numbered %v", tags)
	}
	step.SetText("1")
	if tags := c.drawing().Tags; tags[3].Word != "103.00\u00a0m" {
		t.Errorf("while it is typed the map shows %v", tags)
	}
	if len(c.hand.stroke.levels) != 10 || c.hand.stroke.fault != "" {
		t.Fatalf("%d lines are counted over the top, want each of 10 once; %s", len(c.hand.stroke.levels), c.hand.stroke.fault)
	}
	if c.missing() != 10 {
		t.Error("heights are given before Return")
	}
	step.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	for i, l := range c.survey.Lines {
		if l.Level() != 100+float64(i) {
			t.Errorf("line %d is %v", i, l.Level())
		}
	}
	if b.win.Canvas().Focused() != fyne.Focusable(c.face.view) {
		t.Errorf("the keyboard is at %T, which is gone", b.win.Canvas().Focused())
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
	c.hand.stroke.first, c.hand.stroke.step = "100", "2"
	c.drag(orb.LineString{{hillEast - 32, hillNorth}, {hillEast - 1, hillNorth}})
	if !strings.Contains(c.hand.stroke.fault, "known as 101.00") || !strings.Contains(texts(c.face.object), "stroke is known as") {
		t.Errorf("it says %q", c.hand.stroke.fault)
	}
	c.giveCounted()
	if len(c.hand.z) != 0 {
		t.Error("heights are set all the same")
	}
}

// A field that holds what was given last leaves the shortcut to the page.
func TestCtrlZInAFieldTakesTheLastHeightBack(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.hill(""))
	b.pressOn("Type heights")
	field := c.face.hand.fields[0].(*answer)
	field.SetText("100")
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	next, ok := b.win.Canvas().Focused().(*answer)
	if !ok || c.missing() != 9 {
		t.Fatalf("%T has the keyboard, %d lack a height", b.win.Canvas().Focused(), c.missing())
	}
	next.TypedShortcut(&fyne.ShortcutUndo{})
	if c.missing() != 10 {
		t.Error("nothing is taken back")
	}
	c.face.hand.fields[0].(*answer).TypedShortcut(&fyne.ShortcutRedo{})
	if c.missing() != 9 {
		t.Error("nothing is done again")
	}
}

func TestTheNextLineIsSeenAmongThoseAroundIt(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.hill(""))
	m := c.face.view
	m.fit()
	whole := m.camera
	side := float64(min(m.width, m.height))
	m.reveal(orb.Bound{Min: orb.Point{hillEast, hillNorth}, Max: orb.Point{hillEast + 20, hillNorth + 20}})
	if m.camera != whole {
		t.Error("the map moves though the line is seen well")
	}
	small := orb.Bound{Min: orb.Point{hillEast, hillNorth}, Max: orb.Point{hillEast + 1, hillNorth + 1}}
	m.reveal(small)
	if seen := m.camera.Scale / side; seen > 0.1001 || seen < 0.04 || !m.camera.Bound(m.width, m.height).Contains(small.Center()) {
		t.Errorf("a small line is %.3f of the view", seen)
	}
	m.fit()
	sliver := orb.Bound{Min: orb.Point{hillEast, hillNorth}, Max: orb.Point{hillEast + 0.001, hillNorth + 0.001}}
	m.reveal(sliver)
	if m.camera.Scale > 6.001*whole.Scale {
		t.Errorf("for a sliver the map comes %.1f times closer", m.camera.Scale/whole.Scale)
	}
}

func TestAFileWithHeightsMissingIsNotSaidToBeAllAlike(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.hill(""))
	c.hand.line = 0
	if err := c.giveHeight("100"); err != nil {
		t.Fatal(err)
	}
	b.read()
	if shown := texts(c.face.object); strings.Contains(shown, "All heights") {
		t.Errorf("the page says:\n%s", shown)
	}
}
