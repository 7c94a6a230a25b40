//go:build unix

package site

import (
	"errors"
	"os"
	"syscall"
)

// A lock is held by one open file at a time. The system lets go of it when the
// program ends, however it ends, so a lock that can be taken has no live owner.
type lock struct{ file *os.File }

// takeLock takes the lock at path, or returns errHeld.
func takeLock(path string) (*lock, error) {
	for {
		f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
		if err != nil {
			return nil, err
		}
		if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
			f.Close()
			if errors.Is(err, syscall.EWOULDBLOCK) {
				return nil, errHeld
			}
			return nil, err
		}
		if still(f, path) {
			return &lock{f}, nil
		}
		f.Close()
	}
}

// still reports that path names f: its last owner may have deleted it between
// our opening and our locking it.
func still(f *os.File, path string) bool {
	ours, err := f.Stat()
	if err != nil {
		return false
	}
	named, err := os.Stat(path)
	return err == nil && os.SameFile(ours, named)
}

func (l *lock) release() {
	os.Remove(l.file.Name())
	l.file.Close()
}
