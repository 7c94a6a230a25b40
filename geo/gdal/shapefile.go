package gdal

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"runnel/geo/delimited"
)

// shapeParts are the endings of the files that make a Shapefile and are read.
var shapeParts = []string{".shp", ".dbf", ".prj", ".cpg"}

// stemOf returns the name of a file without its ending, which names its layer.
func stemOf(full string) string {
	return strings.TrimSuffix(filepath.Base(full), filepath.Ext(full))
}

// lacksTable reports a Shapefile without the file of its fields.
func lacksTable(full string) bool {
	return strings.EqualFold(filepath.Ext(full), ".shp") && sibling(full, ".dbf") == ""
}

// sibling returns the file of the same name with another ending, in whatever
// case; empty where there is none.
func sibling(full, ending string) string {
	stem := strings.TrimSuffix(full, filepath.Ext(full))
	for _, e := range []string{ending, strings.ToUpper(ending)} {
		if info, err := os.Stat(stem + e); err == nil && info.Mode().IsRegular() {
			return stem + e
		}
	}
	return ""
}

// besideOurs makes a folder with the parts of a Shapefile that lacks its index,
// in which the library may write one: nothing is written beside a person's files.
func besideOurs(full string) (string, error) {
	folder, err := os.MkdirTemp("", "runnel")
	if err != nil {
		return "", fmt.Errorf("its index, the file that ends in .shx, is missing, and there is no room to make one; get all parts of the Shapefile")
	}
	stem := stemOf(full)
	for _, ending := range shapeParts {
		from := sibling(full, ending)
		if from == "" {
			continue
		}
		to := filepath.Join(folder, stem+ending)
		if os.Symlink(from, to) == nil {
			continue
		}
		if err := copyFile(from, to); err != nil {
			os.RemoveAll(folder)
			return "", fmt.Errorf("its index, the file that ends in .shx, is missing, and there is no room to make one; get all parts of the Shapefile")
		}
	}
	return folder, nil
}

func copyFile(from, to string) error {
	source, err := os.Open(from)
	if err != nil {
		return err
	}
	defer source.Close()
	target, err := os.Create(to)
	if err != nil {
		return err
	}
	_, err = io.Copy(target, source)
	if closed := target.Close(); err == nil {
		err = closed
	}
	return err
}

// usualCodePages are the marks of a .dbf that say no more than that nobody chose
// an encoding (from memory of the file format's tables).
var usualCodePages = []byte{0, 3, 87}

// anyEncoding reports whether a Shapefile says in which encoding its texts are.
func anyEncoding(full string) bool {
	if sibling(full, ".cpg") != "" {
		return true
	}
	file, err := os.Open(sibling(full, ".dbf"))
	if err != nil {
		return true // there are no texts
	}
	defer file.Close()
	head := make([]byte, 30)
	if _, err := io.ReadFull(file, head); err != nil {
		return true
	}
	return !slices.Contains(usualCodePages, head[29])
}

// readable returns a text that may be of another encoding as UTF-8.
func readable(text string) string { return delimited.Readable(text) }
