package site

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
)

// maxRecent is how many files the list of recent ones holds.
const maxRecent = 10

// Recent is the list of files opened of late, kept in a file of its own.
type Recent struct {
	// File holds the list; its folder is made when it is needed.
	File string
}

type recentList struct {
	Paths []string `json:"paths"`
}

// Paths lists the files, the last opened first, those that are gone among them: a
// disk that is not in the machine today may be tomorrow. A list that cannot be read
// is empty.
func (r Recent) Paths() []string { return r.read() }

// Forget takes path off the list.
func (r Recent) Forget(path string) error {
	return r.write(slices.DeleteFunc(r.read(), func(other string) bool { return other == path }))
}

// Add puts path at the head of the list.
func (r Recent) Add(path string) error {
	whole, err := filepath.Abs(path)
	if err != nil {
		return fmt.Errorf("remember %s: %w", path, err)
	}
	paths := slices.DeleteFunc(r.read(), func(other string) bool { return other == whole })
	return r.write(slices.Insert(paths, 0, whole))
}

func (r Recent) write(paths []string) error {
	err := os.MkdirAll(filepath.Dir(r.File), 0o700)
	if err == nil {
		err = writeJSON(r.File, recentList{paths[:min(len(paths), maxRecent)]})
	}
	if err != nil {
		return fmt.Errorf("keep the list of recent files: %w", err)
	}
	return nil
}

func (r Recent) read() []string {
	var list recentList
	if err := readJSON(r.File, &list); err != nil {
		return nil
	}
	return list.Paths
}
