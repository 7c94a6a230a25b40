package gdal

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// atomically makes a file whole or not at all: write fills a file that lies in
// the same folder under another name, which takes the name of path once its
// bytes are on the disk. Killed before, path is as it was.
func atomically(path string, write func(temporary string) error) error {
	if target, err := filepath.EvalSymlinks(path); err == nil {
		path = target
	}
	folder, name := filepath.Split(path)
	if folder == "" {
		folder = "."
	}
	temporary, err := claim(folder, name)
	if err != nil {
		return Unwritable(path, err)
	}
	defer os.Remove(temporary) // nothing is left to remove once it is renamed
	if err := write(temporary); err != nil {
		return err
	}
	if err := settle(temporary, path); err != nil {
		return Unwritable(path, err)
	}
	return nil
}

// Unwritable returns the sentence for a file that cannot be written because of
// err: it names the file and says what to do.
func Unwritable(path string, err error) error {
	folder := filepath.Dir(path)
	switch info, missing := os.Stat(folder); {
	case errors.Is(missing, fs.ErrNotExist):
		return fmt.Errorf("%s cannot be written: there is no folder %s; make it, or choose another", path, folder)
	case missing == nil && !info.IsDir():
		return fmt.Errorf("%s cannot be written: %s is a file, not a folder; choose another", path, folder)
	case errors.Is(err, syscall.ENOSPC):
		return fmt.Errorf("%s cannot be written: the disk is full; make room on it, or choose another", path)
	case errors.Is(err, fs.ErrPermission), errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.EROFS):
		return fmt.Errorf("%s cannot be written: the folder %s is closed to you; choose one that you may write in", path, folder)
	}
	var at *fs.PathError
	if errors.As(err, &at) {
		err = at.Err // without the name of the temporary file
	}
	return fmt.Errorf("%s cannot be written: %w", path, err)
}

// claim makes an empty file beside the one to be written, with its ending,
// since GDAL goes by that.
func claim(folder, name string) (string, error) {
	file, err := os.CreateTemp(folder, "."+name+".*"+filepath.Ext(name))
	if err != nil {
		return "", err
	}
	full, err := filepath.Abs(file.Name())
	file.Close()
	return full, err
}

// settle flushes a finished file and gives it its name.
func settle(temporary, path string) error {
	mode := os.FileMode(0o644)
	if info, err := os.Stat(path); err == nil {
		if !info.Mode().IsRegular() {
			return fmt.Errorf("there is a folder of that name")
		}
		mode = info.Mode().Perm()
	}
	if err := os.Chmod(temporary, mode); err != nil {
		return err
	}
	if err := flush(temporary); err != nil {
		return err
	}
	if err := os.Rename(temporary, path); err != nil {
		return err
	}
	flush(filepath.Dir(path)) // the name itself; not every system can, and the file is whole either way
	return nil
}

func flush(path string) error {
	file, err := os.Open(path)
	if err != nil {
		return err
	}
	defer file.Close()
	return file.Sync()
}
