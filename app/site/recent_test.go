package site

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

func TestRecent(t *testing.T) {
	dir := t.TempDir()
	recent := Recent{File: filepath.Join(dir, "config", "recent.json")}
	if got := recent.Paths(); len(got) != 0 {
		t.Errorf("a new list holds %q", got)
	}
	var want []string
	for i := range maxRecent + 3 {
		path := filepath.Join(dir, fmt.Sprintf("site %d.gpkg", i))
		os.WriteFile(path, nil, 0o600)
		if err := recent.Add(path); err != nil {
			t.Fatal(err)
		}
		want = slices.Insert(want, 0, path)
	}
	want = want[:maxRecent]
	if got := recent.Paths(); !slices.Equal(got, want) {
		t.Errorf("got %q\nwant %q", got, want)
	}

	again := want[4]
	want = slices.Insert(slices.Delete(want, 4, 5), 0, again)
	if err := recent.Add(again); err != nil {
		t.Fatal(err)
	}
	if got := recent.Paths(); !slices.Equal(got, want) {
		t.Errorf("opened again: got %q\nwant %q", got, want)
	}

	os.Remove(want[2])
	if got := recent.Paths(); !slices.Equal(got, want) {
		t.Errorf("a file that is gone is left out: %q", got)
	}
	if err := recent.Forget(want[2]); err != nil {
		t.Fatal(err)
	}
	if got := recent.Paths(); !slices.Equal(got, slices.Delete(want, 2, 3)) {
		t.Errorf("one is taken off the list: %q", got)
	}
}

func TestASpoiltRecentListStartsAnew(t *testing.T) {
	dir := t.TempDir()
	recent := Recent{File: filepath.Join(dir, "recent.json")}
	os.WriteFile(recent.File, []byte("spoilt"), 0o600)
	if got := recent.Paths(); len(got) != 0 {
		t.Errorf("got %q", got)
	}
	path := filepath.Join(dir, "a.gpkg")
	os.WriteFile(path, nil, 0o600)
	if err := recent.Add(path); err != nil {
		t.Fatal(err)
	}
	if got := recent.Paths(); !slices.Equal(got, []string{path}) {
		t.Errorf("got %q, want %q", got, path)
	}
}
