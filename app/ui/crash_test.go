package ui

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"runnel/app/site"
)

func TestAMistakeInACallbackLosesNothing(t *testing.T) {
	b := newBench(t)
	status := 0
	b.options.Exit = func(s int) { status = s }
	b.open()
	f := b.drawChannel()
	func() {
		defer b.catch()
		panic("a callback fell over")
	}()
	if status == 0 {
		t.Error("the program goes on with whatever is left of it")
	}
	copies, err := filepath.Glob(filepath.Join(b.recoveryFolder(), "*.gpkg"))
	if err != nil || len(copies) != 1 {
		t.Fatalf("the copies are %v, %v", copies, err)
	}
	kept, err := b.options.In.Site(t.Context(), copies[0])
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := kept.Plan.Find(f.ID); !ok {
		t.Error("the channel is not in the copy")
	}
	known, err := os.ReadFile(filepath.Join(b.options.folder(), crashFile))
	if err != nil || !strings.Contains(string(known), "a callback fell over") {
		t.Errorf("the crash file holds %q, %v", known, err)
	}
}

func TestTheRecoverySaysWhatEndedWhatIsKeptAndWhatToDo(t *testing.T) {
	b := newBench(t)
	path := filepath.Join(b.options.folder(), crashFile)
	if err := os.WriteFile(path, []byte("a stack"), 0o600); err != nil {
		t.Fatal(err)
	}
	b.watchForCrash()
	words := b.recoveryWords(site.Left{Name: "Valley", Path: "/home/me/valley.gpkg", Time: time.Date(2026, 5, 4, 9, 30, 0, 0, time.Local)})
	for _, want := range []string{"ended before Valley was closed", "09:30, 2026-05-04", "/home/me/valley.gpkg", "until you save over it", lastCrashFile} {
		if !strings.Contains(words, want) {
			t.Errorf("the words have no %q:\n%s", want, words)
		}
	}
	if words := b.recoveryWords(site.Left{}); !strings.Contains(words, "an untitled site") || !strings.Contains(words, "in no file yet") {
		t.Errorf("of a site without a file it says:\n%s", words)
	}
}

func TestATroubleSaysWhatHappenedWhatWasKeptAndCanBeCopied(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.saveIn(filepath.Join(t.TempDir(), "no such folder", "valley.gpkg"), nil)
	b.until("the trouble", b.covered)
	shown := strings.ReplaceAll(b.dialogText(), "\n", " ")
	for _, want := range []string{"The site was not saved", "Nothing is lost", "Save as"} {
		if !strings.Contains(shown, want) {
			t.Errorf("the window does not say %q:\n%s", want, shown)
		}
	}
	b.answer("Copy the text")
	if copied := b.app.Clipboard().Content(); !strings.Contains(copied, "not saved") || !strings.Contains(copied, "valley.gpkg") {
		t.Errorf("copied is %q", copied)
	}
	if !b.doc.Dirty() {
		t.Error("the site counts as saved")
	}
}

func TestAKeeperThatCannotKeepIsSaidInPlainWords(t *testing.T) {
	b := newBench(t)
	b.keeping().Failed(errors.Join(fs.ErrPermission))
	b.until("the words", b.covered)
	if shown := b.dialogText(); !strings.Contains(shown, "No recovery copy is kept now") {
		t.Errorf("the window says:\n%s", shown)
	}
}
