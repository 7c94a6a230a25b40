package ui

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"
	"github.com/paulmach/orb"
)

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
	b.until("the site", func() bool { return b.board.Selected == 0 && b.doc.Path() == path })
	if b.step != 2 {
		t.Errorf("the work goes on in step %d, want where it was left", b.step)
	}
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
		if button, ok := o.(*button); ok && button.Text == "Cancel" {
			test.Tap(button)
		}
	}
	b.until("the end", func() bool { return strings.Contains(b.trace.String(), `"ok":false`) })
}
