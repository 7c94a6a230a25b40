package gdal

import (
	"fmt"
	"os"
	"path/filepath"
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
		return fmt.Errorf("%s cannot be written: %w; choose a folder that you may write in", name, err)
	}
	defer os.Remove(temporary) // nothing is left to remove once it is renamed
	if err := write(temporary); err != nil {
		return err
	}
	if err := settle(temporary, path); err != nil {
		return fmt.Errorf("%s cannot be written: %w", name, err)
	}
	return nil
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
