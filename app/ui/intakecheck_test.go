package ui

import (
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/paulmach/orb"

	"runnel/analysis/accuracy"
	"runnel/app/groundwork"
	"runnel/geo/grid"
	"runnel/geo/survey"
)

// elsewhere is level ground that lies so far to the east of the open site's.
func (b *bench) elsewhere(metres float64) grid.Ground {
	f := b.doc.Site().Ground.Frame
	f.West += f.Bound().Max[0] - f.Bound().Min[0] + metres
	return grid.New[float32](f)
}

func TestAGroundThatLiesElsewhereIsAskedFor(t *testing.T) {
	b := newBench(t)
	b.open()
	before := b.doc.Site().Ground
	c := b.onPage(replacing, b.hill("elev"))
	c.made = &madeGround{Made: groundwork.Made{Ground: b.elsewhere(1_900_000), Survey: c.survey}}
	c.refresh()
	if shown := texts(c.face.object); !strings.Contains(shown, "about 1\u2009900\u00a0km") || !strings.Contains(shown, "All that is") {
		t.Errorf("the page says:\n%s", shown)
	}
	b.pressOn("Bring it in")
	if !b.covered() || !strings.Contains(b.dialogText(), "1\u2009900\u00a0km") || !sameGround(b.doc.Site().Ground, before) {
		t.Fatalf("it is brought in without a question:\n%s", b.dialogText())
	}
	b.answer("Go on here")
	if !c.on || c.made == nil {
		t.Fatal("the page is gone")
	}
	b.pressOn("Bring it in")
	b.answer("Bring it in")
	if c.on || sameGround(b.doc.Site().Ground, before) {
		t.Error("it is not brought in though that was agreed to")
	}
}

func TestAGroundUnderAllThatIsDrawnIsNotAskedFor(t *testing.T) {
	b := newBench(t)
	b.open()
	c := b.onPage(replacing, b.hill("elev"))
	c.made = &madeGround{Made: groundwork.Made{Ground: b.doc.Site().Ground.Clone(), Survey: c.survey}}
	if words := c.suitWords(); words != "" {
		t.Errorf("of the same ground it says %q", words)
	}
}

func TestWhatWasMadeIsNotLostWithoutAQuestion(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.hill("elev"))
	c.made = &madeGround{Made: groundwork.Made{Ground: grid.New[float32](grid.Square(2, 2, 0, 2, 1)), Survey: c.survey}}
	c.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if !c.on || !strings.Contains(b.dialogText(), "not been brought in") {
		t.Fatalf("Escape loses the ground; it says:\n%s", b.dialogText())
	}
	b.answer("Go on here")
	b.surveyOn(beginning, b.hill("elev"))
	if len(c.files) != 1 || c.made == nil || !b.covered() {
		t.Fatal("another file takes its place without a question")
	}
	b.answer("Leave")
	b.read()
	if !c.on || c.made != nil {
		t.Error("the other file is not on the page")
	}
}

func TestCellsAreTypedInTheUnitsOfTheResults(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.hill("elev"))
	c.ask.typedCell, c.ask.typedPart[0] = "2", "500050"
	if err := c.askAgain(); err != nil || c.ask.cell != 2 {
		t.Fatalf("%v, a cell of %v", err, c.ask.cell)
	}
	b.turnUnits()
	defer b.turnUnits()
	if c.ask.typedCell != "6.5617" || c.ask.typedPart[0] != "1640583.9895" {
		t.Errorf("in feet they stand as %q and %q", c.ask.typedCell, c.ask.typedPart[0])
	}
	c.ask.typedCell = "10"
	if err := c.askAgain(); err != nil || c.ask.cell < 3.0479 || c.ask.cell > 3.0481 {
		t.Errorf("%v; 10 ft are %v m", err, c.ask.cell)
	}
	c.ask.typedCell = "wide"
	if err := c.askAgain(); err == nil {
		t.Error("a word is a cell")
	}
}

func TestCodesAreGuessedFromTheirNames(t *testing.T) {
	uses := likelyUses([]string{"KERB", "kb2 start", "EDGE", "BL10", "TREE", "BED", ""})
	want := map[string]survey.Use{"KERB": survey.Kerb, "kb2 start": survey.Kerb, "EDGE": survey.Edge, "BL10": survey.Break}
	if len(uses) != len(want) {
		t.Errorf("%v", uses)
	}
	for code, use := range want {
		if uses[code] != use {
			t.Errorf("%s is a %v, want a %v", code, uses[code], use)
		}
	}
}

func TestHarmlessRepeatsComeLast(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.hill("elev"))
	c.takeFaults(foundFaults{c.faults.asked, []accuracy.Fault{
		{Sort: accuracy.Repeated, At: orb.Point{1, 1}, Spots: []int{0}, Says: "a point lies twice; no harm"},
		{Sort: accuracy.Blunder, At: orb.Point{2, 2}, Lines: []int{2}, Says: "line 3 is off; leave it out", Leave: true},
	}}, nil)
	if c.faults.list[0].Sort != accuracy.Blunder {
		t.Error("what does no harm is listed first")
	}
}

func TestAReadingThatIsStoppedCanBeBegunAgain(t *testing.T) {
	b := newBench(t)
	c := b.surveying
	b.surveyOn(beginning, b.hill("elev"))
	c.stop()
	b.until("the end", func() bool { return c.doing == "" && c.trouble != "" })
	b.pressOn("Read again")
	b.read()
	if len(c.survey.Lines) != 10 || !c.ready() {
		t.Errorf("%d lines are read", len(c.survey.Lines))
	}
}

func TestThePointerMayLeaveAMapThatIsGone(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.hill("elev"))
	m := c.face.view
	c.leave()
	m.MouseMoved(&desktop.MouseEvent{})
	m.MouseOut()
	if c.face != nil {
		t.Error("the page is still there")
	}
}

func TestWhatIsChosenStaysUnderThePointer(t *testing.T) {
	b := newBench(t)
	var rows strings.Builder
	for i := range 40 {
		fmt.Fprintf(&rows, "%d,%d,%d,%d,%s\n", i+1, 4800000+7*(i/8), 500000+5*(i%8), 100+i%3, []string{"GROUND", "WALL", "LAWN", "HEDGE", "PATH"}[i%5])
	}
	c := b.onPage(beginning, b.write("points.csv", rows.String()))
	c.face.scroll.ScrollToOffset(fyne.NewPos(0, 60))
	chosen := func() *picker {
		for _, o := range c.face.file.fields {
			if p, ok := o.(*picker); ok && len(p.Options) == 4 && p.Options[0] == "plain points" {
				return p
			}
		}
		t.Fatal("there is no list of uses")
		return nil
	}
	before := topOf(chosen())
	chosen().SetSelectedIndex(1)
	b.read()
	b.until("the form", func() bool { return c.held == anchor{} })
	if after := topOf(chosen()); after != before || c.files[0].how.Uses["GROUND"] != survey.Break {
		t.Errorf("the list moves from %v to %v down the window", before, after)
	}
}
