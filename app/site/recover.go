package site

import (
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode"
)

// A slot is a set of files in the recovery folder that one Keeper owns: the
// copy, a label that says what it is a copy of, and a lock that lives as long
// as the program that holds it.
type slot struct {
	// path is the file that the copy is of; stem begins the names of the slot's own.
	path, stem string
	lock       *lock
}

const (
	copyEnd  = ".gpkg"
	labelEnd = ".json"
	lockEnd  = ".lock"
)

// copyName matches the names of copies, and none that a save uses on its way.
var copyName = regexp.MustCompile(`^[^.].*-[0-9]+\.gpkg$`)

// maxLabel is the largest label that is read [bytes]; ours are a few hundred.
const maxLabel = 64 << 10

// errHeld marks a slot whose program is still running.
var errHeld = errors.New("a running window holds this recovery copy")

func (s *slot) copyFile() string { return s.stem + copyEnd }

// takeSlot takes the first slot for path that no running window holds and in
// which no crash has left a copy.
func takeSlot(dir, path string) (*slot, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, err
	}
	base := slotBase(path)
	for n := 1; ; n++ {
		s := &slot{path: path, stem: filepath.Join(dir, fmt.Sprintf("%s-%d", base, n))}
		held, err := takeLock(s.stem + lockEnd)
		if errors.Is(err, errHeld) {
			continue
		}
		if err != nil {
			return nil, err
		}
		if _, err := os.Lstat(s.copyFile()); errors.Is(err, fs.ErrNotExist) {
			s.lock = held
			return s, nil
		}
		held.release()
	}
}

// longestBase keeps file names well under the 255 bytes that file systems take.
const longestBase = 40

// slotBase names a slot after the file that it is a copy of. The digest parts
// files of one name in different folders.
func slotBase(path string) string {
	if path == "" {
		return "untitled"
	}
	if whole, err := filepath.Abs(path); err == nil {
		path = whole
	}
	name := []rune(strings.TrimSuffix(filepath.Base(path), filepath.Ext(path)))
	for i, r := range name {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			name[i] = '-'
		}
	}
	return fmt.Sprintf("%s-%.4x", string(name[:min(len(name), longestBase)]), sha256.Sum256([]byte(path)))
}

// label is what stands in a copy's label file.
type label struct {
	Path string    `json:"path"`
	Name string    `json:"name"`
	Time time.Time `json:"time"`
	PID  int       `json:"pid"`
}

func (s *slot) label(m moment) error {
	return writeJSON(s.stem+labelEnd, label{m.path, m.site.Name, time.Now().UTC(), os.Getpid()})
}

// clear deletes the slot's files, the lock last: also what a save that was cut
// short has left beside the copy under a name that begins with the copy's.
func (s *slot) clear() {
	dir, base := filepath.Dir(s.stem), filepath.Base(s.stem)
	entries, _ := os.ReadDir(dir)
	for _, entry := range entries {
		if strings.HasPrefix(strings.TrimPrefix(entry.Name(), "."), base+copyEnd) {
			os.Remove(filepath.Join(dir, entry.Name()))
		}
	}
	os.Remove(s.stem + labelEnd)
	s.lock.release()
}

// Left is a recovery copy left by a program that ended without closing its
// site. To bring it back: read Copy, make a Recovered document of it for Path,
// Flush a Keeper of that document, and only then Discard what was left.
type Left struct {
	// Copy is the file to read.
	Copy string
	// Path is the file that the site was opened from or saved in; empty when
	// it had none. Name is the site's name.
	Path, Name string
	// Time is when the copy was made.
	Time time.Time
}

// Recoverable lists what crashes have left in a recovery folder, newest first.
// What a running window holds is not listed.
func Recoverable(dir string) ([]Left, error) {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("look for recovery copies: %w", err)
	}
	var found []Left
	for _, entry := range entries {
		if !entry.Type().IsRegular() || !copyName.MatchString(entry.Name()) {
			continue
		}
		stem := filepath.Join(dir, strings.TrimSuffix(entry.Name(), copyEnd))
		held, err := takeLock(stem + lockEnd)
		if err != nil {
			continue
		}
		found = append(found, readLeft(stem))
		held.release()
	}
	slices.SortFunc(found, func(a, b Left) int { return b.Time.Compare(a.Time) })
	return found, nil
}

// readLeft describes a copy. One whose label is lost or spoilt is still worth
// having: it is listed under its file's name.
func readLeft(stem string) Left {
	left := Left{Copy: stem + copyEnd, Name: filepath.Base(stem)}
	if info, err := os.Stat(left.Copy); err == nil {
		left.Time = info.ModTime()
	}
	var l label
	if err := readJSON(stem+labelEnd, &l); err == nil {
		left.Path, left.Name, left.Time = l.Path, l.Name, l.Time
	}
	return left
}

// Discard deletes the copy, unless a running window has taken it up.
func (l Left) Discard() error {
	stem := strings.TrimSuffix(l.Copy, copyEnd)
	held, err := takeLock(stem + lockEnd)
	if err != nil {
		return fmt.Errorf("discard the recovery copy of %s: %w", l.Name, err)
	}
	(&slot{stem: stem, lock: held}).clear()
	return nil
}

// writeJSON replaces a small file as a whole.
func writeJSON(path string, v any) error {
	text, err := json.MarshalIndent(v, "", "\t")
	if err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".*")
	if err != nil {
		return err
	}
	_, err = f.Write(append(text, '\n'))
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err
}

func readJSON(path string, v any) error {
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	if info.Size() > maxLabel {
		return fmt.Errorf("%s is %d bytes, more than Runnel writes; delete it", path, info.Size())
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	return json.Unmarshal(text, v)
}
