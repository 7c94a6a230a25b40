package action

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"runnel/geo/gdal"
)

// sentence is an error whose text is made for a person.
func sentence(format string, values ...any) error { return fmt.Errorf(format, values...) }

// reason returns what the system says without the path that it repeats.
func reason(err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err
	}
	return err
}

// folder makes a folder for results, with those above it.
func folder(path string) error {
	if path == "" {
		return mistyped("the name of the folder is empty; give one for the results")
	}
	if info, err := os.Stat(path); err == nil && !info.IsDir() {
		return sentence("%s is a file; give a folder for the results", path)
	}
	if err := os.MkdirAll(path, 0o777); err != nil {
		return sentence("the folder %s cannot be made; choose a place that you may write in", path)
	}
	return nil
}

// writeFile writes a file whole or not at all: to another name beside it first,
// then in its place.
func writeFile(path string, write func(io.Writer) error) (err error) {
	defer func() {
		if err != nil {
			err = gdal.Unwritable(path, err)
		}
	}()
	f, err := os.CreateTemp(filepath.Dir(path), ".runnel-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // fails, as it should, once the file has its name
	defer f.Close()
	b := bufio.NewWriter(f)
	if err := write(b); err != nil {
		return err
	}
	if err := errors.Join(b.Flush(), f.Chmod(0o644), f.Sync(), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// writeJSON writes v as indented JSON.
func writeJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}
