// Package site holds the open document: a site, the edits made to it, and the
// copies that bring it back after a crash.
//
// A Document's site is never changed in place. Each edit makes a new value, so
// a pointer taken from it is a picture of that moment, safe to read on another
// goroutine for as long as it is wanted. The Document itself belongs to one
// goroutine; only Site may be called from others.
//
// Files are read and written by functions that are passed in.
package site

import (
	"errors"
	"fmt"
	"sync/atomic"

	"runnel/geo/plan"
)

// An Edit is one change to a site that a person can see and take back. It is
// made once, with a pointer, and given to one Document: it remembers there what
// it needs to take itself back.
type Edit interface {
	// Apply makes the change, or says why it cannot be made.
	Apply(*plan.Site) error
	// Revert takes it back from a site that is as Apply left it.
	Revert(*plan.Site)
	// String completes "Undo …" in a menu.
	String() string
}

// errUnchanged is what an edit returns that would leave everything as it was.
var errUnchanged = errors.New("nothing changes")

// Unchanged reports whether an edit failed to apply because it would leave everything as
// it was.
func Unchanged(err error) bool { return errors.Is(err, errUnchanged) }

// A merger takes the later steps of one gesture into itself.
type merger interface {
	// merge reports whether next continues the receiver, and has been taken in.
	merge(next Edit) bool
	// idle reports that all it took in has led back to where it began.
	idle() bool
}

// A Gesture names one drag of the pointer; edits of one gesture are undone
// together. The zero Gesture is none.
type Gesture int64

// A Document is a site with its history.
type Document struct {
	site         atomic.Pointer[plan.Site]
	path         string
	done, undone []Edit
	// saved is how many edits were done when the site was last saved; -1 when
	// no undo or redo leads back there.
	saved int
	// open is set while the last edit may still take in another.
	open     bool
	gestures Gesture
	watchers []func()
}

// New returns a document of s, which counts as saved. The path is that of its
// file, or empty. Numbers start above the highest that s uses, whatever s says.
func New(s plan.Site, path string) *Document {
	d := &Document{path: path}
	own := s.Clone()
	for _, f := range own.Plan.Features {
		own.Plan.Last = max(own.Plan.Last, int64(f.ID))
	}
	for _, scheme := range own.Plan.Schemes {
		own.Plan.Last = max(own.Plan.Last, int64(scheme.ID))
	}
	for _, u := range own.Underlays {
		own.Plan.Last = max(own.Plan.Last, int64(u.ID))
	}
	d.site.Store(&own)
	return d
}

// Recovered returns a document of a site that a crash left unsaved.
func Recovered(s plan.Site, path string) *Document {
	d := New(s, path)
	d.saved = -1
	return d
}

// Site returns the site as it is now. It must not be changed.
func (d *Document) Site() *plan.Site { return d.site.Load() }

// Do makes an edit. One that cannot be made leaves everything as it was; so
// does one that changes nothing, which is not an error.
func (d *Document) Do(e Edit) error {
	next := d.Site().Clone()
	if err := e.Apply(&next); err != nil {
		if Unchanged(err) {
			return nil
		}
		return err
	}
	if d.saved > len(d.done) {
		d.saved = -1
	}
	d.undone = nil
	d.record(e)
	d.put(&next)
	return nil
}

// record puts an edit that was made behind the others, or into the last. A drag
// that has come back to its start is no step.
func (d *Document) record(e Edit) {
	if last, ok := d.last().(merger); ok && last.merge(e) {
		if last.idle() {
			d.done, d.open = d.done[:len(d.done)-1], false
		}
		return
	}
	d.done, d.open = append(d.done, e), true
}

// last returns the last edit while it is open; nil when it is not.
func (d *Document) last() Edit {
	if !d.open || len(d.done) == 0 {
		return nil
	}
	return d.done[len(d.done)-1]
}

// Gesture returns a key for the edits of one drag.
func (d *Document) Gesture() Gesture {
	d.gestures++
	return d.gestures
}

// Abandon takes back the last edit if it is of gesture g and still open, and
// leaves no redo of it. It reports whether it did.
func (d *Document) Abandon(g Gesture) bool {
	if last, ok := d.last().(interface{ of(Gesture) bool }); !ok || !last.of(g) {
		return false
	}
	next := d.takeBack()
	d.undone = nil
	d.put(next)
	return true
}

// Undo takes back the last edit, if there is one.
func (d *Document) Undo() {
	if len(d.done) == 0 {
		return
	}
	d.put(d.takeBack())
}

// takeBack reverts the last edit and returns the site as it was before it.
func (d *Document) takeBack() *plan.Site {
	last := len(d.done) - 1
	next := d.Site().Clone()
	d.done[last].Revert(&next)
	d.undone = append(d.undone, d.done[last])
	d.done = d.done[:last]
	d.open = false
	return &next
}

// Redo makes the last undone edit again, if there is one.
func (d *Document) Redo() {
	if len(d.undone) == 0 {
		return
	}
	last := len(d.undone) - 1
	next := d.Site().Clone()
	if err := d.undone[last].Apply(&next); err != nil {
		panic("site: an edit that was done before cannot be done again: " + err.Error())
	}
	d.done = append(d.done, d.undone[last])
	d.undone = d.undone[:last]
	d.open = false
	d.put(&next)
}

// UndoText names what Undo takes back, as "Undo remove Well 4"; ok is false
// when there is nothing.
func (d *Document) UndoText() (text string, ok bool) {
	if len(d.done) == 0 {
		return "Undo", false
	}
	return fmt.Sprintf("Undo %s", d.done[len(d.done)-1]), true
}

// RedoText names what Redo does again; ok is false when there is nothing.
func (d *Document) RedoText() (text string, ok bool) {
	if len(d.undone) == 0 {
		return "Redo", false
	}
	return fmt.Sprintf("Redo %s", d.undone[len(d.undone)-1]), true
}

// Watch has f called after every change to the site, its path or its saved
// state, on the goroutine that made the change.
func (d *Document) Watch(f func()) { d.watchers = append(d.watchers, f) }

// Path returns the path of the site's file; empty when it has none yet.
func (d *Document) Path() string { return d.path }

// Dirty reports whether the site differs from what was last saved.
func (d *Document) Dirty() bool { return d.saved != len(d.done) }

// Saved marks the site as it is now as saved in the file at path.
func (d *Document) Saved(path string) { d.SavedAt(path, d.Site()) }

// SavedAt marks s, a site taken from d, as saved in the file at path. Edits
// made since it was taken are not in the file, so the document stays dirty.
func (d *Document) SavedAt(path string, s *plan.Site) {
	d.path, d.saved, d.open = path, -1, false
	if s == d.Site() {
		d.saved = len(d.done)
	}
	d.tell()
}

func (d *Document) put(s *plan.Site) {
	d.site.Store(s)
	d.tell()
}

func (d *Document) tell() {
	for _, f := range d.watchers {
		f()
	}
}
