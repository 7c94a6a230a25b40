package ui

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"runnel/app/site"
	"runnel/geo"
	"runnel/geo/plan"
)

// figuresOf opens a part of the page of a scheme with a channel, and waits for it.
func (b *bench) figuresOf(part int) plan.Feature {
	b.t.Helper()
	b.open()
	f := b.drawChannel()
	b.settle()
	b.channelFigures()
	b.channels.turnTo(part)
	b.worked()
	return f
}

// worked waits until the part that is shown is of the drawing as it is now.
func (b *bench) worked() {
	b.t.Helper()
	b.until("the part's figures", func() bool {
		if b.figures.site != b.doc.Site() || b.figures.of != b.board.Scheme {
			return false
		}
		for _, of := range b.channels.now().works() {
			if !of.current() {
				return false
			}
		}
		return true
	})
	b.win.Canvas().Capture()
}

// column finds a column of a sheet by its head.
func (b *bench) column(s figureSheet, head string) figureColumn {
	b.t.Helper()
	for _, c := range s.columns {
		if c.title() == head {
			return c
		}
	}
	b.t.Fatalf("there is no column %q", head)
	return figureColumn{}
}

func TestTheFiguresFollowEditsSchemesAndUnits(t *testing.T) {
	b := newBench(t)
	f := b.figuresOf(0)
	contact := func() float64 {
		s := b.channels.now().sheets()[0]
		return b.column(s, "Contact area [m²]").value(s.rows - 1)
	}
	before := contact()
	b.complain(b.changeField([]plan.ID{f.ID}, "Bed width", func(f plan.Feature) plan.Feature {
		return f.With("bed_width", plan.Value{Number: f.Num("bed_width") + 1})
	}))
	b.worked()
	if now := contact(); now <= before*1.1 {
		t.Errorf("with a wider bed %v m² are touched, %v before", now, before)
	}
	b.doc.Undo()
	b.worked()
	if now := contact(); now != before {
		t.Errorf("once undone %v m² are touched, %v before", now, before)
	}
	b.turnUnits()
	b.worked()
	s := b.channels.now().sheets()[0]
	if got, want := b.column(s, "Contact area [ft²]").value(s.rows-1), before/(geo.Foot*geo.Foot); math.Abs(got-want) > 1e-9 {
		t.Errorf("in feet it is %v, want %v", got, want)
	}
	if seen := texts(b.channels.page); !strings.Contains(seen, "[ft³]") || strings.Contains(seen, "[m²]") {
		t.Errorf("the page does not follow the units:\n%s", seen)
	}
	b.showScheme(plan.AsItIs)
	b.settle()
	if seen := texts(b.channels.page); !strings.Contains(seen, "Nothing is designed") {
		t.Errorf("of the site as it is the page shows:\n%s", seen)
	}
}

func TestAnEmptySchemeSaysWhatToDo(t *testing.T) {
	b := newBench(t)
	b.open()
	b.channelFigures()
	b.settle()
	if seen := texts(b.channels.page); !strings.Contains(seen, "Meander has no channel yet.") || !strings.Contains(seen, "Draw a channel") {
		t.Errorf("the page shows:\n%s", seen)
	}
	if b.channels.head.copy.Visible() || b.channels.head.save.Visible() {
		t.Error("nothing can be copied, and a button offers it")
	}
	b.channels.drawChannel()
	if b.channels.on || b.held != drawer(plan.Channel) {
		t.Error("its button does not bring the channel's tool")
	}
}

func TestEscapeGivesTheMapBackAndKeysStayOnThePage(t *testing.T) {
	b := newBench(t)
	f := b.figuresOf(3)
	b.win.Canvas().Unfocus()
	before := b.doc.Site()
	b.win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyDelete})
	b.win.Canvas().OnTypedRune()('i')
	if b.doc.Site() != before || b.held != selecting && b.held != drawer(plan.Channel) {
		t.Error("a key reaches the map beneath the page")
	}
	b.win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyDown})
	b.win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyDown})
	table := b.channels.now().focus()
	if table.chosen != 1 {
		t.Errorf("two presses of Down mark the row %d", table.chosen)
	}
	b.win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.channels.on || !b.channels.stage.Visible() || b.channels.page.Visible() {
		t.Fatal("Escape does not bring the map back")
	}
	pins := b.channels.pins()
	if len(pins) != 1 || pins[0].Name != "Peg 2" || b.board.Selected != f.ID || !b.pane.camera.Bound(b.pane.width, b.pane.height).Contains(pins[0].At) {
		t.Errorf("the map shows %v, selected is %d", pins, b.board.Selected)
	}
	b.board.Select(0)
	if len(b.channels.pins()) > 0 {
		t.Error("the pin stays once nothing is selected")
	}
	b.compareSchemes()
	b.channelFigures()
	if b.comparing.on || !b.channels.on {
		t.Error("two pages lie over the map")
	}
	b.compareSchemes()
	if !b.comparing.on || b.channels.on {
		t.Error("the comparison does not take the page's place")
	}
}

func TestTheTableAndThePegsAreWritten(t *testing.T) {
	b := newBench(t)
	b.figuresOf(3)
	folder := t.TempDir()
	b.channels.copyTable()
	rows, err := csv.NewReader(strings.NewReader(b.app.Clipboard().Content())).ReadAll()
	out := b.channels.pegs.value
	if err != nil || len(rows) != len(out.Pegs)+1 || rows[0][0] != "Peg" || rows[0][1] != "Chainage [m]" || rows[1][1] != "0" {
		t.Fatalf("%d rows are copied, %v: %q", len(rows), err, rows[:min(2, len(rows))])
	}
	b.app.Preferences().SetString(folderPreference, folder)
	part := b.channels.now().(*pegPart)
	for i, file := range []string{"pegs.csv", "pegs-table.csv", "pegs.gpx", "pegs-drawing.dxf", "pegs.txt"} {
		part.saveItems()[i].Action()
		b.answer("Save")
		path := filepath.Join(folder, "valley-meander-"+file)
		b.until(file, func() bool { _, err := os.Stat(path); return err == nil })
		if text, err := os.ReadFile(path); err != nil || len(text) < 1000 {
			t.Errorf("%s has %d bytes, %v", file, len(text), err)
		}
	}
	if note, err := os.ReadFile(filepath.Join(folder, "valley-meander-pegs.note.txt")); err != nil || !strings.Contains(string(note), "EPSG:32632") {
		t.Errorf("the note is %q, %v", note, err)
	}
	b.channels.turnTo(0)
	b.worked()
	b.channels.saveTable()
	b.answer("Save")
	path := filepath.Join(folder, "valley-meander-by-water-level.csv")
	b.until("the table", func() bool { _, err := os.Stat(path); return err == nil })
}

func TestWorkThatIsStoppedStaysStoppedUntilAskedFor(t *testing.T) {
	b := newBench(t)
	b.figuresOf(0)
	f := b.doc.Site().Plan.In(b.board.Scheme)
	b.complain(b.doc.Do(&site.Alter{After: []plan.Feature{f[len(f)-1].With("bed_width", plan.Value{Number: 2.2})}, What: "widen"}))
	b.until("the account", func() bool { return b.figures.site == b.doc.Site() })
	b.channels.stopWork()
	b.channels.refresh()
	working, given := b.channels.working()
	if working || !given || !b.channels.head.again.Visible() {
		t.Errorf("working: %v, given up: %v", working, given)
	}
	b.channels.workAgain()
	b.worked()
}

func TestARowFoldsWhereItIsNarrow(t *testing.T) {
	newBench(t)
	width := float32(400)
	left, right := atLeast{200, 20}, atLeast{150, 20}
	row := container.New(folding{width: &width}, container.New(left), container.New(right))
	row.Resize(fyne.NewSize(400, row.MinSize().Height))
	if at := row.Objects[1].Position(); at != fyne.NewPos(250, 0) || row.MinSize().Height != 20 {
		t.Errorf("beside each other the right one is at %v of %v", at, row.MinSize())
	}
	width = 300
	row.Resize(fyne.NewSize(300, row.MinSize().Height))
	if at := row.Objects[1].Position(); at != fyne.NewPos(0, 20+gap) || row.MinSize().Height != 40+gap {
		t.Errorf("folded it is at %v of %v", at, row.MinSize())
	}
	row.Objects[1].Hide()
	if high := row.MinSize().Height; high != 20 {
		t.Errorf("with one hidden the row is %v high", high)
	}
}
