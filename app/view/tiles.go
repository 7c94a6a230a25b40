package view

import (
	"context"
	"image"
	"math"
	"slices"
	"sync"
	"time"
)

// Tiles draws the map of a scene in squares, on goroutines of its own, keeps them
// and lays them on pictures. One goroutine calls its methods.
//
// The newest request wins: what is in sight first, from the middle outwards, then
// what is about it. Only a map that has not been sharp for long is finished first.
type Tiles struct {
	// more is told, on any goroutine, that there is more to lay than there was.
	more func()
	// frame is held while a frame is made, and awaited by those who draw.
	frame sync.RWMutex

	mu      sync.Mutex
	store   *tileStore
	numbers map[imprint]uint64
	given   uint64
	// now is the edition that is shown, since shownAt.
	now     *edition
	shownAt time.Time
	// past holds what was in sight, oldest first; the last is in sight.
	past []moment
	// unsharp is when the first change came that has not been seen sharp since.
	unsharp time.Time

	// target is what is being drawn: the tiles near, and from rested on those far.
	target    moment
	near, far []tileKey
	rested    time.Time
	flying    map[tileKey]context.CancelFunc
	// label is the labels that are wanted and inHand those that are being drawn, until
	// labelling ends it; labels are those that there are and sheets those of late, the
	// newest last.
	label     *labelJob
	inHand    *labelJob
	labelling context.CancelFunc
	labels    *labelSheet
	sheets    []*labelSheet
	letters   *typesetter

	canvases []*canvas
	working  int
	told     bool
	stopped  bool
	idle     sync.Cond
}

// A moment is an edition seen at one scale. left is when another came in its place.
type moment struct {
	*edition
	level level
	left  time.Time
}

func (m moment) sheet() sheetKey { return sheetKey{m.number, m.level} }

func (m moment) same(o moment) bool {
	return m.edition != nil && o.edition != nil && m.number == o.number && m.words == o.words && m.level == o.level
}

const (
	// patience is how long a map may be unsharp before what is being drawn is
	// finished whatever else is wanted.
	patience = 40 * time.Millisecond
	// restful is how long a map is left alone before what is out of sight is drawn.
	restful = 300 * time.Millisecond
	// mostPast is how many moments are remembered.
	mostPast = 24
)

// NewTiles returns tiles of nothing.
func NewTiles(more func()) *Tiles { return newTiles(more, mostTiles) }

func newTiles(more func(), most int) *Tiles {
	t := &Tiles{more: more, letters: newTypesetter(), store: newTileStore(most), numbers: map[imprint]uint64{}, flying: map[tileKey]context.CancelFunc{}}
	t.idle.L = &t.mu
	return t
}

// Show puts another scene or look on the map.
func (t *Tiles) Show(s *Scene, look Palette) {
	p := newPlate(s)
	e := &edition{mark: p.imprint(look), words: p.words(), plate: p, look: look, bound: s.Bound()}
	t.mu.Lock()
	defer t.mu.Unlock()
	t.stopped = false
	e.number = t.numberOf(e.mark)
	if t.now == nil || t.now.number != e.number || t.now.words != e.words {
		t.shownAt = time.Now()
	}
	if t.now != nil && t.now.number != e.number {
		if where, known := t.now.patches(e); known {
			t.store.handOn(t.now.number, e.number, func(key tileKey) bool { return touch(where, key, look.unit()) })
		}
	}
	t.now = e
}

// mostNumbers is how many editions are known again.
const mostNumbers = 256

func (t *Tiles) numberOf(mark imprint) uint64 {
	number, ok := t.numbers[mark]
	if !ok {
		if len(t.numbers) >= mostNumbers {
			clear(t.numbers)
		}
		t.given++
		number = t.given
		t.numbers[mark] = number
	}
	return number
}

// Clear forgets all, for another site.
func (t *Tiles) Clear() {
	t.Stop()
	t.mu.Lock()
	defer t.mu.Unlock()
	t.store, t.past, t.now, t.labels, t.sheets, t.unsharp = newTileStore(t.store.most), nil, nil, nil, nil, time.Time{}
	clear(t.numbers)
}

// Stop cancels what is being drawn and returns when it has ended. Show starts again.
func (t *Tiles) Stop() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.stopped = true
	t.drop()
	for t.working > 0 {
		t.idle.Wait()
	}
}

// drop wants nothing more.
func (t *Tiles) drop() {
	t.near, t.far, t.label, t.target = nil, nil, nil, moment{}
	for _, cancel := range t.flying {
		cancel()
	}
	if t.labelling != nil {
		t.labelling()
	}
}

// enter notes what is in sight since some time.
func (t *Tiles) enter(l level, moved time.Time) {
	m := moment{edition: t.now, level: l}
	last := len(t.past) - 1
	if last >= 0 && t.past[last].same(m) {
		t.past[last].edition = t.now
		return
	}
	if last >= 0 {
		at := moved
		if t.past[last].number != m.number || t.past[last].words != m.words {
			at = t.shownAt
		}
		t.past[last].left = at
		t.past[last].edition = t.past[last].outline()
	}
	t.past = append(t.past, m)
	t.past = t.past[max(0, len(t.past)-mostPast):]
	for _, s := range t.sheets {
		if s.same(m) {
			t.labels = s
		}
	}
}

// aim asks for what the view lacks, unless what is being drawn is to be finished.
func (t *Tiles) aim(view image.Rectangle) {
	m := t.past[len(t.past)-1]
	if !t.target.same(m) {
		slow := !t.unsharp.IsZero() && time.Since(t.unsharp) > patience
		if slow && t.target.edition != nil && t.target.mark.look == m.mark.look && t.lacking() {
			return
		}
		t.target, t.rested = m, time.Now().Add(restful)
		time.AfterFunc(restful+time.Millisecond, func() {
			t.mu.Lock()
			defer t.mu.Unlock()
			t.start()
		})
	}
	t.target.edition = m.edition
	t.near = t.missing(m.sheet(), tilesOver(view))
	t.far = append(t.missing(m.sheet(), tilesOver(view.Inset(-tileSide))), t.missing(m.coarse())...)
	for key, cancel := range t.flying {
		if !slices.Contains(t.near, key) && !slices.Contains(t.far, key) {
			cancel()
		}
	}
}

func (t *Tiles) lacking() bool {
	return slices.ContainsFunc(t.near, func(key tileKey) bool { return !t.store.has(key) })
}

// missing lists what a sheet lacks of some tiles, the nearest to their middle first.
func (t *Tiles) missing(sheet sheetKey, over image.Rectangle) []tileKey {
	var keys []tileKey
	for row := over.Min.Y; row < over.Max.Y; row++ {
		for col := over.Min.X; col < over.Max.X; col++ {
			if key := (tileKey{sheet, col, row}); !t.store.has(key) {
				keys = append(keys, key)
			}
		}
	}
	away := func(key tileKey) float64 {
		return math.Hypot(float64(2*key.col+1-over.Min.X-over.Max.X), float64(2*key.row+1-over.Min.Y-over.Max.Y))
	}
	slices.SortStableFunc(keys, func(a, b tileKey) int {
		switch {
		case away(a) < away(b):
			return -1
		case away(a) > away(b):
			return 1
		}
		return 0
	})
	return keys
}

// coarseSide is about how large the whole map is on its coarse sheet [px], which is
// stretched where there is nothing better.
const coarseSide = 1000

func (m moment) coarse() (sheetKey, image.Rectangle) {
	c := Fit(m.bound, coarseSide, coarseSide)
	l := levelOf(c.Scale)
	return sheetKey{m.number, l}, tilesOver(image.Rect(0, 0, coarseSide, coarseSide).Add(c.corner(l)))
}
