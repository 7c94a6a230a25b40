package site

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"runnel/app/work"
	"runnel/geo/plan"
)

// shelf is a recovery folder with a save that writes the site's name.
type shelf struct {
	dir   string
	mu    sync.Mutex
	saves int
	fail  error
	told  []error
}

func (s *shelf) keep(doc *Document) *Keeper {
	return NewKeeper(doc, Keeping{Dir: s.dir, Save: s.save, Failed: func(err error) { s.told = append(s.told, err) }})
}

func (s *shelf) save(path string, site *plan.Site) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.saves++
	if s.fail != nil {
		return s.fail
	}
	return os.WriteFile(path, []byte(site.Name), 0o600)
}

func (s *shelf) saved() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.saves
}

// copies reads the copies in the folder.
func (s *shelf) copies(t *testing.T) []string {
	t.Helper()
	paths, _ := filepath.Glob(filepath.Join(s.dir, "[^.]*"+copyEnd))
	var held []string
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		held = append(held, string(text))
	}
	return held
}

func (s *shelf) files(t *testing.T) []string {
	t.Helper()
	entries, err := os.ReadDir(s.dir)
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func rename(t *testing.T, doc *Document, name string) {
	t.Helper()
	if err := doc.Do(&Rename{Name: name}); err != nil {
		t.Fatal(err)
	}
}

func after(d time.Duration) {
	time.Sleep(d)
	synctest.Wait()
}

func TestKeeperCopiesTheNewestOnce(t *testing.T) {
	s := &shelf{dir: filepath.Join(t.TempDir(), "recovery")}
	synctest.Test(t, func(t *testing.T) {
		doc := New(field(), "field.gpkg")
		keeper := s.keep(doc)
		for i := range 15 {
			rename(t, doc, fmt.Sprint("name ", i))
			after(100 * time.Millisecond)
		}
		if n := s.saved(); n != 0 {
			t.Errorf("saved %d times within 1.5 s", n)
		}
		after(600 * time.Millisecond)
		if got := s.copies(t); s.saved() != 1 || len(got) != 1 || got[0] != "name 14" {
			t.Errorf("after 2 s: %d saves, copies %q; want one of the newest", s.saved(), got)
		}
		after(time.Minute)
		if n := s.saved(); n != 1 {
			t.Errorf("%d saves of a site at rest", n)
		}
		keeper.Close()
	})
	if left := s.files(t); len(left) != 0 {
		t.Errorf("Close left %q", left)
	}
}

func TestKeeperDropsTheCopyOfACleanDocument(t *testing.T) {
	tests := []struct {
		name  string
		clean func(*Document)
	}{
		{"when it is saved", func(d *Document) { d.Saved("field.gpkg") }},
		{"when it is saved under another name", func(d *Document) { d.Saved("other.gpkg") }},
		{"when it is undone to what was saved", func(d *Document) { d.Undo() }},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := &shelf{dir: t.TempDir()}
			synctest.Test(t, func(t *testing.T) {
				doc := New(field(), "field.gpkg")
				keeper := s.keep(doc)
				rename(t, doc, "Far field")
				after(3 * time.Second)
				if got := s.copies(t); len(got) != 1 {
					t.Fatalf("copies %q before", got)
				}
				test.clean(doc)
				synctest.Wait()
				if left := s.files(t); len(left) != 0 {
					t.Errorf("left %q", left)
				}
				rename(t, doc, "Near field")
				after(3 * time.Second)
				if got := s.copies(t); len(got) != 1 || got[0] != "Near field" {
					t.Errorf("copies %q after the next edit", got)
				}
				keeper.Close()
			})
		})
	}
}

func TestKeeperTellsOfTheFirstFailureInARow(t *testing.T) {
	s := &shelf{dir: t.TempDir(), fail: errors.New("the disk is full; make room")}
	synctest.Test(t, func(t *testing.T) {
		doc := New(field(), "field.gpkg")
		keeper := s.keep(doc)
		for i := range 6 {
			s.mu.Lock()
			if i == 3 {
				s.fail = nil
			} else if i == 4 {
				s.fail = errors.New("the disk is full again; make room")
			}
			s.mu.Unlock()
			rename(t, doc, fmt.Sprint("name ", i))
			after(3 * time.Second)
		}
		keeper.Close()
		if s.saves != 6 || len(s.told) != 2 {
			t.Errorf("%d saves, told %v; want 6 saves and two failures", s.saves, s.told)
		}
		if got, want := s.told[0].Error(), "keep a recovery copy in "+s.dir+": the disk is full; make room"; got != want {
			t.Errorf("told %q, want %q", got, want)
		}
	})
}

func TestKeeperOutlivesAPanicInSave(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var told error
		doc := New(field(), "")
		keeper := NewKeeper(doc, Keeping{
			Dir:    t.TempDir(),
			Save:   func(string, *plan.Site) error { panic("a driver went wrong") },
			Failed: func(err error) { told = err },
		})
		rename(t, doc, "Far field")
		after(3 * time.Second)
		keeper.Close()
		if fault := (*work.Fault)(nil); !errors.As(told, &fault) {
			t.Errorf("told %v, want a fault", told)
		}
	})
}

func TestWindowsDoNotShareACopy(t *testing.T) {
	for _, path := range []string{"", "field.gpkg"} {
		s := &shelf{dir: t.TempDir()}
		var keepers []*Keeper
		for _, name := range []string{"One", "Two"} {
			doc := New(field(), path)
			keepers = append(keepers, s.keep(doc))
			rename(t, doc, name)
			if err := keepers[len(keepers)-1].Flush(); err != nil {
				t.Fatal(err)
			}
		}
		if got := strings.Join(s.copies(t), " "); got != "One Two" {
			t.Errorf("path %q: copies %q, want one of each window", path, got)
		}
		if left, err := Recoverable(s.dir); err != nil || len(left) != 0 {
			t.Errorf("path %q: copies of open windows are offered: %v, %v", path, left, err)
		}
		keepers[0].Close()
		if got := strings.Join(s.copies(t), " "); got != "Two" {
			t.Errorf("path %q: copies %q after the first window closed, want the second's", path, got)
		}
		keepers[1].Close()
	}
}

// TestCrash kills a program while it keeps a copy, and recovers the site.
func TestCrash(t *testing.T) {
	if dir := os.Getenv("RUNNEL_TEST_CRASH"); dir != "" {
		keepUntilKilled(dir)
	}
	s := &shelf{dir: t.TempDir()}
	path := filepath.Join(t.TempDir(), "field.gpkg")
	program := exec.Command(os.Args[0], "-test.run=^TestCrash$")
	program.Env = append(os.Environ(), "RUNNEL_TEST_CRASH="+s.dir, "RUNNEL_TEST_PATH="+path)
	out, err := program.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := program.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := io.ReadFull(out, make([]byte, len("kept"))); err != nil {
		t.Fatal(err)
	}
	if left, err := Recoverable(s.dir); err != nil || len(left) != 0 {
		t.Errorf("the copy of a running program is offered: %v, %v", left, err)
	}
	program.Process.Kill()
	program.Wait()

	left, err := Recoverable(s.dir)
	if err != nil || len(left) != 1 {
		t.Fatalf("after the crash %v, %v are offered; want one copy", left, err)
	}
	if text, _ := os.ReadFile(left[0].Copy); string(text) != "Far field" || left[0].Path != path || left[0].Name != "Far field" || left[0].Time.IsZero() {
		t.Errorf("offered %+v holding %q", left[0], text)
	}
	s.recover(t, left[0])
}

func keepUntilKilled(dir string) {
	doc := New(field(), os.Getenv("RUNNEL_TEST_PATH"))
	keeper := (&shelf{dir: dir}).keep(doc)
	doc.Do(&Rename{Name: "Far field"})
	if err := keeper.Flush(); err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
	cutShort := "." + filepath.Base(keeper.slot.copyFile()) + ".77.gpkg"
	os.WriteFile(filepath.Join(dir, cutShort), nil, 0o600)
	fmt.Print("kept")
	select {}
}

// recover takes up what a crash left, as a window does.
func (s *shelf) recover(t *testing.T, left Left) {
	recovered := field()
	recovered.Name = left.Name
	keeper := s.keep(Recovered(recovered, left.Path))
	if err := keeper.Flush(); err != nil {
		t.Fatal(err)
	}
	if got := s.copies(t); len(got) != 2 {
		t.Errorf("copies %q; the one that was left must not be overwritten", got)
	}
	if err := left.Discard(); err != nil {
		t.Error(err)
	}
	if got := s.copies(t); len(got) != 1 {
		t.Errorf("copies %q after the old one was discarded", got)
	}
	keeper.Close()
	if got := s.files(t); len(got) != 0 {
		t.Errorf("recovered and closed, %q is left", got)
	}
}

func TestDiscardLeavesARunningWindowsCopy(t *testing.T) {
	s := &shelf{dir: t.TempDir()}
	doc := New(field(), "")
	keeper := s.keep(doc)
	defer keeper.Close()
	rename(t, doc, "Far field")
	if err := keeper.Flush(); err != nil {
		t.Fatal(err)
	}
	left := Left{Copy: filepath.Join(s.dir, "untitled-1.gpkg"), Name: "Far field"}
	if err := left.Discard(); !errors.Is(err, errHeld) {
		t.Errorf("got %v, want that a window holds it", err)
	}
	if got := s.copies(t); len(got) != 1 {
		t.Errorf("copies %q", got)
	}
}

func TestACopyWithASpoiltLabelIsStillOffered(t *testing.T) {
	for name, text := range map[string]string{
		"no label": "", "not JSON": "{", "another shape": `["path"]`, "too long": strings.Repeat(" ", maxLabel+1),
	} {
		dir := t.TempDir()
		copied := filepath.Join(dir, "untitled-3.gpkg")
		if err := os.WriteFile(copied, []byte("x"), 0o600); err != nil {
			t.Fatal(err)
		}
		if text != "" {
			os.WriteFile(filepath.Join(dir, "untitled-3.json"), []byte(text), 0o600)
		}
		left, err := Recoverable(dir)
		if err != nil || len(left) != 1 || left[0].Copy != copied || left[0].Name != "untitled-3" || left[0].Time.IsZero() {
			t.Errorf("%s: offered %+v, %v", name, left, err)
		}
	}
}

func TestRecoverableListsCopiesOnly(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{".untitled-1.gpkg.123-4.gpkg", "untitled-1.json", "untitled-1.lock", "notes.txt", "site.gpkg"} {
		os.WriteFile(filepath.Join(dir, name), nil, 0o600)
	}
	os.Mkdir(filepath.Join(dir, "folder-1.gpkg"), 0o700)
	if left, err := Recoverable(dir); err != nil || len(left) != 0 {
		t.Errorf("offered %v, %v", left, err)
	}
	if left, err := Recoverable(filepath.Join(dir, "not there")); err != nil || left != nil {
		t.Errorf("a folder that is not there gives %v, %v", left, err)
	}
}

func TestSlotNames(t *testing.T) {
	if a, b := slotBase("/a/field.gpkg"), slotBase("/b/field.gpkg"); a == b || !strings.HasPrefix(a, "field-") {
		t.Errorf("files of one name in two folders are %q and %q", a, b)
	}
	for _, path := range []string{"/a/../é ü*?[x].gpkg", "/" + strings.Repeat("長", 300) + ".gpkg", "/.gpkg", "/"} {
		if base := slotBase(path); len(base) > 200 || base != filepath.Base(base) || strings.ContainsAny(base, `/\*?[`) {
			t.Errorf("%q is kept as %q", path, base)
		}
	}
}
