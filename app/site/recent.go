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

// Paths lists the files, the last opened first. Those that are gone are left
// out, and a list that cannot be read is empty.
func (r Recent) Paths() []string {
	return slices.DeleteFunc(r.read(), func(path string) bool {
		info, err := os.Stat(path)
		return err != nil || info.IsDir()
	})
}

// Add puts path at the head of the list.
func (r Recent) Add(path string) error {
	whole, err := filepath.Abs(path)
	if err != nil {
		return fmt.Errorf("remember %s: %w", path, err)
	}
	paths := slices.DeleteFunc(r.read(), func(other string) bool { return other == whole })
	paths = slices.Insert(paths, 0, whole)
	if err := os.MkdirAll(filepath.Dir(r.File), 0o700); err != nil {
		return fmt.Errorf("remember %s: %w", path, err)
	}
	if err := writeJSON(r.File, recentList{paths[:min(len(paths), maxRecent)]}); err != nil {
		return fmt.Errorf("remember %s: %w", path, err)
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
