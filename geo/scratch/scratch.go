// Package scratch keeps slices that are larger than memory in files on disk.
//
// A slice of a Space is used like any other, as the system maps the file into
// memory: what is touched is read in, and what is let go of is on disk, or in
// what memory nobody else needs. Nobody but the program sees the files, and they
// are gone when it ends, however it ends.
package scratch

import (
	"errors"
	"fmt"
	"os"
	"sync"
	"unsafe"
)

// A Space is room in a folder. A nil Space is the program's own memory, which
// needs no care. Release may be called from any goroutine.
type Space struct {
	dir    string
	mu     sync.RWMutex
	mapped [][]byte
}

// New returns a Space in a folder, which must be there. Close gives it back.
func New(dir string) *Space { return &Space{dir: dir} }

// Make returns n elements of nought. T must hold no pointers. The slice must not
// be touched once the Space is closed.
func Make[T any](s *Space, n int) ([]T, error) {
	if s == nil || n == 0 {
		return make([]T, n), nil
	}
	var one T
	bytes, err := s.take(int64(n) * int64(unsafe.Sizeof(one)))
	if err != nil {
		return nil, err
	}
	return unsafe.Slice((*T)(unsafe.Pointer(&bytes[0])), n), nil
}

// take maps a new file of n bytes.
func (s *Space) take(n int64) ([]byte, error) {
	if !here {
		return nil, errHere
	}
	f, err := os.CreateTemp(s.dir, ".runnel-*")
	if err != nil {
		return nil, fmt.Errorf("no file can be made in the folder %s; choose a folder that you may write in", s.dir)
	}
	defer f.Close()
	if err := os.Remove(f.Name()); err != nil { // it lives on for as long as it is mapped
		return nil, err
	}
	if err := reserve(f, n); err != nil {
		return nil, fmt.Errorf("the disk has no room for %d MB more in the folder %s; make room or choose another folder", n>>20+1, s.dir)
	}
	bytes, err := mapFile(f, n)
	if err != nil {
		return nil, fmt.Errorf("a file in the folder %s cannot be mapped into memory; choose a folder on a disk of this computer", s.dir)
	}
	s.mu.Lock()
	s.mapped = append(s.mapped, bytes)
	s.mu.Unlock()
	return bytes, nil
}

// errHere is that of systems on which there are no Spaces.
var errHere = errors.New("a ground larger than memory can be worked on only on Linux and macOS; cut it to the site or choose a larger cell")

// enough is how much memory the program may hold before slices are let go of.
const enough = 1 << 30

// Release lets go of the memory that the slices take up, where the program holds
// more than a gigabyte. What is in them stays. Whoever walks through slices calls
// it often: every few megabytes.
func (s *Space) Release() {
	if s != nil && held() > enough {
		s.letGo()
	}
}

func (s *Space) letGo() {
	s.mu.RLock()
	defer s.mu.RUnlock()
	for _, bytes := range s.mapped {
		letGo(bytes)
	}
}

// Close gives back the slices and their room on disk.
func (s *Space) Close() {
	if s == nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, bytes := range s.mapped {
		unmap(bytes)
	}
	s.mapped = nil
}
