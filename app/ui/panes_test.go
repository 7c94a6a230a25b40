package ui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
)

func TestWhatIsChosenOfTheWindowIsRemembered(t *testing.T) {
	b := newBench(t)
	b.open()
	b.panes.moveLedger(-60)
	b.panes.ledgerDivider.DragEnd()
	b.panes.sectionDivider.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	b.run(b.command("Show the tools"))
	b.run(b.command("High contrast, dark"))
	b.run(b.command("Large text"))
	b.win.Resize(fyne.NewSize(1100, 700))
	b.keepSize()
	again := NewWindow(b.app, Options{Folder: t.TempDir()})
	defer again.win.Close()
	if p, was := again.panes, b.panes; p.ledgerWidth != was.ledgerWidth || p.ledgerWidth == ledgerWidth || p.sectionHeight != usualSection+dividerStep || !p.folded[toolsPane] || p.folded[ledgerPane] {
		t.Errorf("the panes come back as %v wide, %v high, folded %v", p.ledgerWidth, p.sectionHeight, p.folded)
	}
	if again.look.style != darkStyle|starkStyle || again.look.size != 1 {
		t.Errorf("the look comes back as %d, its text as %d", again.look.style, again.look.size)
	}
	if size := again.lastSize(); size != b.win.Canvas().Size() {
		t.Errorf("the window comes back %v large", size)
	}
}

func TestAPaneThatIsFoldedGivesItsRoomToTheMap(t *testing.T) {
	b := newBench(t)
	b.open()
	wide := b.stage.Size().Width
	ledger := b.ledger.object.Size().Width
	b.run(b.command("Show the ledger"))
	if got := b.stage.Size().Width; got < wide+ledger {
		t.Errorf("the map is %v wide, and was %v beside a ledger of %v", got, wide, ledger)
	}
	b.run(b.command("Show the ledger"))
	if got := b.stage.Size().Width; got != wide {
		t.Errorf("the map comes back %v wide, not %v", got, wide)
	}
}

func TestTheKeyboardGoesFromPaneToPane(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(2)
	b.win.Canvas().Unfocus()
	next, seen := b.command("Go to the next pane"), []bool{}
	for range 4 {
		b.run(next)
		f := b.win.Canvas().Focused()
		switch len(seen) {
		case 0:
			seen = append(seen, f == b.rail.buttons[0])
		case 1:
			seen = append(seen, holds(b.tools.object, f))
		case 2:
			seen = append(seen, holds(b.tabs.object, f))
		default:
			seen = append(seen, f == b.pane)
		}
	}
	for i, ok := range seen {
		if !ok {
			t.Errorf("stop %d of the keyboard is wrong", i)
		}
	}
}

// cutOff lists the texts that need more width than they have.
func cutOff(b *bench) (list []string) {
	b.win.Canvas().Capture()
	for _, o := range test.LaidOutObjects(b.win.Content()) {
		words, ok := o.(*canvas.Text)
		if ok && words.Visible() && words.Text != "" && words.Size().Width > 0 && words.MinSize().Width > words.Size().Width+0.5 {
			list = append(list, words.Text)
		}
	}
	return list
}

func TestNoTextIsCutOffInSmallWindowsAndLargeText(t *testing.T) {
	for _, c := range []struct {
		name string
		size fyne.Size
		text int
	}{
		{"1024 by 700", fyne.NewSize(1024, 700), 0},
		{"1280 by 800 in large text", fyne.NewSize(1280, 800), 1},
		{"1280 by 800 in larger text", fyne.NewSize(1280, 800), 2},
		{"1920 by 1080 in larger text", fyne.NewSize(1920, 1080), 2},
	} {
		b := newBench(t)
		b.win.Resize(c.size)
		b.setTextSize(c.text)
		if list := cutOff(b); len(list) > 0 {
			t.Errorf("%s: the start screen cuts off %q", c.name, list)
		}
		b.open()
		b.drawChannel()
		b.settle()
		for i := range steps {
			b.goTo(i)
			if list := cutOff(b); len(list) > 0 {
				t.Errorf("%s: %s cuts off %q", c.name, steps[i].word(), list)
			}
		}
	}
}

func TestAFileThatIsGoneIsSaidAndTakenOffTheList(t *testing.T) {
	b := newBench(t)
	dir := t.TempDir()
	here, gone := filepath.Join(dir, "here.gpkg"), filepath.Join(dir, "gone.gpkg")
	for _, path := range []string{here, gone} {
		if err := os.WriteFile(path, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		b.remember(path)
	}
	if err := os.Remove(gone); err != nil {
		t.Fatal(err)
	}
	b.run(b.command("Open a recent site…"))
	if shown := b.dialogText(); !strings.Contains(shown, "here.gpkg") || strings.Count(shown, "no longer in") != 1 {
		t.Errorf("the list says:\n%s", shown)
	}
	b.answer("Take off the list")
	if shown := b.dialogText(); strings.Contains(shown, "gone.gpkg") || !strings.Contains(shown, "here.gpkg") {
		t.Errorf("the list says:\n%s", shown)
	}
}
