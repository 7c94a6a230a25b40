//go:build !unix

package site

import (
	"errors"
	"io/fs"
	"os"
)

// A lock is a file held open by its owner. Windows does not let an open file
// be deleted, so one that can be deleted has no live owner.
type lock struct{ file *os.File }

// takeLock takes the lock at path, or returns errHeld.
func takeLock(path string) (*lock, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		if os.Remove(path) != nil {
			return nil, errHeld
		}
		f, err = os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	}
	if err != nil {
		return nil, err
	}
	return &lock{f}, nil
}

func (l *lock) release() {
	l.file.Close()
	os.Remove(l.file.Name())
}
