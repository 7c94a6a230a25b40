package view

import (
	"context"
	"image"
	"runtime"
	"slices"
	"sync"
	"time"

	"runnel/app/work"
)

// Pause has those who draw wait, so that a frame has the processors; Resume lets
// them go on.
func (t *Tiles) Pause() { t.frame.Lock() }

// Resume ends a Pause.
func (t *Tiles) Resume() { t.frame.Unlock() }

// A polite context waits for frames whenever it is asked whether to go on, and lets
// others on its processor.
type polite struct {
	context.Context
	frame *sync.RWMutex
}

// Err implements context.Context.
func (p polite) Err() error {
	runtime.Gosched()
	p.frame.RLock()
	defer p.frame.RUnlock()
	return p.Context.Err()
}

// start sees that as many goroutines draw as there is work for.
func (t *Tiles) start() {
	_, more := t.next()
	for t.working < runtime.GOMAXPROCS(0) && !t.stopped && (more || t.label != nil && t.labelling == nil) {
		t.working++
		go t.work()
	}
}

// work draws until nothing is wanted.
func (t *Tiles) work() {
	t.mu.Lock()
	defer t.mu.Unlock()
	k := newTileCanvas()
	if n := len(t.canvases); n > 0 {
		k, t.canvases = t.canvases[n-1], t.canvases[:n-1]
	}
	for t.drawLabels() || t.drawNext(k) {
	}
	t.canvases = append(t.canvases, k)
	t.working--
	t.idle.Broadcast()
}

// tell says, once between two looks, that there is more to lay.
func (t *Tiles) tell() {
	if t.told || t.stopped {
		return
	}
	t.told = true
	t.mu.Unlock()
	t.more()
	t.mu.Lock()
}

// drawNext draws the tile that is wanted most, and reports whether there was one.
func (t *Tiles) drawNext(k *canvas) bool {
	key, ok := t.next()
	if !ok || t.stopped {
		return false
	}
	e := t.target.edition
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	t.flying[key] = cancel
	t.mu.Unlock()
	var tile *image.RGBA
	err := work.Guard(func() (err error) { tile, err = k.drawTile(polite{ctx, &t.frame}, e, key); return err })
	t.mu.Lock()
	delete(t.flying, key)
	if ctx.Err() != nil {
		return true
	}
	if err != nil { // bare desk, not the same mistake over and over
		tile = image.NewRGBA(image.Rect(0, 0, tileSide, tileSide))
		fill(tile, tile.Rect, e.look.Desk)
	}
	t.store.put(key, tile)
	if slices.Contains(t.near, key) {
		t.tell()
	}
	return true
}

func (t *Tiles) next() (tileKey, bool) {
	wanted := func(key tileKey) bool { return t.flying[key] == nil && !t.store.has(key) }
	if i := slices.IndexFunc(t.near, wanted); i >= 0 {
		return t.near[i], true
	}
	if i := slices.IndexFunc(t.far, wanted); i >= 0 && !time.Now().Before(t.rested) {
		return t.far[i], true
	}
	return tileKey{}, false
}
