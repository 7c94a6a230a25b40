package site

import (
	"fmt"
	"sync"
	"time"

	"runnel/app/work"
	"runnel/geo/plan"
)

// usualWait is how long after a change the recovery copy is written.
const usualWait = 2 * time.Second

// restShare is how many times as long as the last copy took the Keeper rests
// before the next, so that a large ground does not keep the disk busy.
const restShare = 4

// Keeping says where and how recovery copies are kept.
type Keeping struct {
	// Dir is the recovery folder; it is made when it is needed.
	Dir string
	// Save writes a site's file; a crash while it runs must leave what was
	// there before. It is called on the Keeper's goroutine.
	Save func(path string, s *plan.Site) error
	// Wait is how long after a change the copy is written; zero for 2 s.
	Wait time.Duration
	// Failed is told, on the Keeper's goroutine, of the first of a row of
	// failures. It may be nil.
	Failed func(error)
}

// A Keeper keeps a full copy of a document that has unsaved changes, so that a
// crash loses no more than the last moments. The copy goes when the document
// is saved, or undone to what was saved, and when the Keeper is closed.
type Keeper struct {
	keeping Keeping
	wake    chan struct{}
	quit    chan struct{}
	ended   chan struct{}

	mu     sync.Mutex
	newest moment

	writing sync.Mutex
	slot    *slot
	written *plan.Site
	took    time.Duration
	failing bool
}

// moment is a document as it was after a change.
type moment struct {
	site  *plan.Site
	path  string
	dirty bool
}

// NewKeeper starts to keep copies of d, which it watches from then on. It must
// be closed.
func NewKeeper(d *Document, keeping Keeping) *Keeper {
	if keeping.Wait == 0 {
		keeping.Wait = usualWait
	}
	k := &Keeper{
		keeping: keeping,
		wake:    make(chan struct{}, 1),
		quit:    make(chan struct{}),
		ended:   make(chan struct{}),
	}
	note := func() { k.note(moment{d.Site(), d.Path(), d.Dirty()}) }
	note()
	d.Watch(note)
	go k.run()
	return k
}

// Flush brings the copy up to date now and waits for it.
func (k *Keeper) Flush() error { return k.write() }

// Close stops the Keeper and deletes the copy: the site is saved, or the
// person has chosen not to save it. Changes made later are not kept.
func (k *Keeper) Close() {
	close(k.quit)
	<-k.ended
	k.writing.Lock()
	defer k.writing.Unlock()
	k.drop()
}

func (k *Keeper) note(m moment) {
	k.mu.Lock()
	k.newest = m
	k.mu.Unlock()
	select {
	case k.wake <- struct{}{}:
	default:
	}
}

func (k *Keeper) latest() moment {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.newest
}

func (k *Keeper) run() {
	defer close(k.ended)
	for {
		select {
		case <-k.quit:
			return
		case <-k.wake:
		}
		if !k.rest() {
			return
		}
		k.report(k.write())
	}
}

// rest waits for more changes to gather, unless there is nothing to keep any
// more. It reports false when the Keeper is closed meanwhile.
func (k *Keeper) rest() bool {
	k.writing.Lock()
	timer := time.NewTimer(max(k.keeping.Wait, restShare*k.took))
	k.writing.Unlock()
	defer timer.Stop()
	for k.latest().dirty {
		select {
		case <-k.quit:
			return false
		case <-timer.C:
			return true
		case <-k.wake:
		}
	}
	return true
}

func (k *Keeper) report(err error) {
	if err != nil && !k.failing && k.keeping.Failed != nil {
		k.keeping.Failed(err)
	}
	k.failing = err != nil
}

// write makes the copy agree with the newest moment.
func (k *Keeper) write() error {
	k.writing.Lock()
	defer k.writing.Unlock()
	m := k.latest()
	if !m.dirty {
		k.drop()
		return nil
	}
	if k.slot != nil && k.slot.path == m.path && k.written == m.site {
		return nil
	}
	started := time.Now()
	if err := k.copy(m); err != nil {
		return fmt.Errorf("keep a recovery copy in %s: %w", k.keeping.Dir, err)
	}
	k.written, k.took = m.site, time.Since(started)
	return nil
}

func (k *Keeper) copy(m moment) error {
	if k.slot != nil && k.slot.path != m.path {
		k.drop()
	}
	if k.slot == nil {
		taken, err := takeSlot(k.keeping.Dir, m.path)
		if err != nil {
			return err
		}
		k.slot = taken
	}
	err := work.Guard(func() error { return k.keeping.Save(k.slot.copyFile(), m.site) })
	if err != nil {
		return err
	}
	return k.slot.label(m)
}

func (k *Keeper) drop() {
	if k.slot != nil {
		k.slot.clear()
	}
	k.slot, k.written = nil, nil
}
