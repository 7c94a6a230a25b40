//go:build linux || darwin

package scratch

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

type pair struct {
	a int32
	b float64
}

func TestWhatIsLetGoOfIsStillThere(t *testing.T) {
	s := New(t.TempDir())
	defer s.Close()
	numbers, err := Make[uint32](s, 3_000_001)
	if err != nil {
		t.Fatal(err)
	}
	pairs, err := Make[pair](s, 1000)
	if err != nil {
		t.Fatal(err)
	}
	for i := range numbers {
		if numbers[i] != 0 {
			t.Fatalf("element %d is %d from the start", i, numbers[i])
		}
		numbers[i] = uint32(i) * 7
	}
	pairs[999] = pair{3, 0.5}
	before := held()
	s.letGo()
	if after := held(); after > before-8<<20 && after != math.MaxInt64 {
		t.Errorf("%d bytes are held after 12 MB are let go of, %d before", after, before)
	}
	for i, v := range numbers {
		if v != uint32(i)*7 {
			t.Fatalf("element %d is %d, want %d", i, v, uint32(i)*7)
		}
	}
	if pairs[999] != (pair{3, 0.5}) {
		t.Errorf("the last pair is %v", pairs[999])
	}
}

func TestTheFolderShowsNoFiles(t *testing.T) {
	dir := t.TempDir()
	s := New(dir)
	if _, err := Make[byte](s, 1<<20); err != nil {
		t.Fatal(err)
	}
	if files, _ := os.ReadDir(dir); len(files) != 0 {
		t.Errorf("%d files are left while the space is in use", len(files))
	}
	s.Close()
}

func TestWithoutASpaceMemoryIsTheProgramsOwn(t *testing.T) {
	var s *Space
	got, err := Make[int16](s, 5)
	if err != nil || len(got) != 5 {
		t.Errorf("%v, %v", got, err)
	}
	s.Release()
	s.Close()
}

func TestWhereThereIsNoRoomOneSentenceSaysSo(t *testing.T) {
	s := New(t.TempDir())
	defer s.Close()
	if _, err := Make[byte](s, 1<<55); err == nil || !strings.Contains(err.Error(), "no room") {
		t.Errorf("%v", err)
	}
	if _, err := Make[byte](New(filepath.Join(t.TempDir(), "none")), 1); err == nil || !strings.Contains(err.Error(), "no file can be made") {
		t.Errorf("%v", err)
	}
}
