package view

import (
	"image"
	"math"
	"time"
)

// hold is how long a map that was whole stays, while only some of the tiles of the
// next have come: pieces of two maps side by side are worse than a late one.
const hold = 110 * time.Millisecond

// Lay lays the map that a settled camera sees on a picture, and asks for what it
// lacks: until that is there, tiles of the map before or of another scale stand in.
// moved is when the camera last moved. It returns since when the picture has not
// shown sharply all that it should; the zero time where it does.
func (t *Tiles) Lay(dst *image.RGBA, c Camera, moved time.Time) (since time.Time) {
	if dst.Rect.Empty() || c.check(dst.Rect.Dx(), dst.Rect.Dy()) != nil {
		return time.Time{}
	}
	t.mu.Lock()
	if t.now == nil {
		t.mu.Unlock()
		return time.Time{}
	}
	l := levelOf(c.Scale)
	view := dst.Rect.Add(c.corner(l))
	t.told = false
	t.enter(l, moved)
	e := t.now
	layings, bare, whole := t.cover(view)
	sprites := t.sprites()
	since = t.reckon(whole, view, moved)
	t.aim(view)
	t.askLabels(view)
	t.start()
	t.mu.Unlock()

	inBands(dst, func(band *image.RGBA) {
		for _, r := range bare {
			fill(band, r.Sub(view.Min), e.look.Desk)
		}
		for _, g := range layings {
			g.lay(band, view.Min)
		}
		sprites.lay(band, c)
	})
	return since
}

// reckon says since when something in view has been older than it should be.
// whole is the newest moment of which all in view is there.
func (t *Tiles) reckon(whole *moment, view image.Rectangle, moved time.Time) time.Time {
	m := t.past[len(t.past)-1]
	tiles := whole != nil && whole.same(m)
	labels := t.labelsFit(m, view)
	if tiles && labels {
		t.unsharp = time.Time{}
		return time.Time{}
	}
	if t.unsharp.IsZero() {
		t.unsharp = moved
		if t.shownAt.After(moved) {
			t.unsharp = t.shownAt
		}
	}
	since := time.Now()
	if !tiles {
		since = t.unsharp
		if whole != nil && whole.left.After(since) {
			since = whole.left
		}
	}
	if !labels {
		since = earlier(since, later(t.unsharp, t.labelsLeft()))
	}
	return since
}

func earlier(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// cover lists what to lay over the view, in order, what to leave bare, and the
// newest moment of which all in view is there.
func (t *Tiles) cover(view image.Rectangle) (layings []laying, bare []image.Rectangle, whole *moment) {
	m := t.past[len(t.past)-1]
	over := tilesOver(view)
	for i := len(t.past) - 1; i >= 0 && whole == nil; i-- {
		if p := &t.past[i]; p.mark.look == m.mark.look && t.holds(p, view, m) {
			whole = p
		}
	}
	sheet := m.sheet()
	if whole != nil && whole.level == m.level && (whole.left.IsZero() || time.Since(whole.left) < hold) {
		sheet = whole.sheet()
	}
	for row := over.Min.Y; row < over.Max.Y; row++ {
		for col := over.Min.X; col < over.Max.X; col++ {
			key := tileKey{sheet, col, row}
			to := key.bounds().Intersect(view)
			if tile := t.either(key, m); tile != nil {
				layings = append(layings, laying{tile, key, 1, to})
				continue
			}
			found, all := t.standIn(to, m)
			if layings = append(layings, found...); !all {
				bare = append(bare, to)
			}
		}
	}
	return layings, bare, whole
}

// either returns a tile, or the one at its place in the map that is shown now, which
// has taken over those that are the same.
func (t *Tiles) either(key tileKey, m moment) *image.RGBA {
	if tile := t.store.get(key); tile != nil {
		return tile
	}
	key.edition = m.number
	return t.store.get(key)
}

// holds reports whether all tiles of a moment are there that a view at another
// shows.
func (t *Tiles) holds(p *moment, view image.Rectangle, m moment) bool {
	over := tilesOver(scaled(view, p.level.scale()/m.level.scale()))
	if over.Dx()*over.Dy() > mostStandIns {
		return false
	}
	for row := over.Min.Y; row < over.Max.Y; row++ {
		for col := over.Min.X; col < over.Max.X; col++ {
			key := tileKey{p.sheet(), col, row}
			if !t.store.has(key) && !t.store.has(tileKey{sheetKey{m.number, p.level}, col, row}) {
				return false
			}
		}
	}
	return true
}

// mostStandIns is how many tiles are looked at to stand in for a view.
const mostStandIns = 600

func scaled(r image.Rectangle, by float64) image.Rectangle {
	low := func(v int) int { return int(math.Floor(float64(v) * by)) }
	high := func(v int) int { return int(math.Ceil(float64(v) * by)) }
	return image.Rect(low(r.Min.X), low(r.Min.Y), high(r.Max.X), high(r.Max.Y))
}

// standIn returns what is laid where a tile is lacking, and whether it covers all:
// the newest sheet that does, or bits of the newest over the coarse one.
func (t *Tiles) standIn(to image.Rectangle, m moment) (found []laying, all bool) {
	var bits []laying
	seen := map[sheetKey]bool{m.sheet(): true}
	for i := len(t.past) - 1; i >= 0; i-- {
		p := t.past[i]
		if p.mark.look != m.mark.look {
			continue
		}
		for _, sheet := range []sheetKey{p.sheet(), {m.number, p.level}} {
			if seen[sheet] {
				continue
			}
			seen[sheet] = true
			some, all := t.from(sheet, to, m.level)
			if all {
				return some, true
			}
			if len(bits) == 0 {
				bits = some
			}
		}
	}
	for i := len(t.past) - 1; i >= 0; i-- {
		if p := t.past[i]; p.mark.look == m.mark.look {
			sheet, _ := p.coarse()
			if some, _ := t.from(sheet, to, m.level); len(some) > 0 {
				return append(some, bits...), false
			}
		}
	}
	return bits, false
}

// from returns the tiles of a sheet that show a part of another level, and whether
// none is lacking.
func (t *Tiles) from(sheet sheetKey, to image.Rectangle, l level) (found []laying, all bool) {
	ratio := sheet.level.scale() / l.scale()
	over := tilesOver(scaled(to, ratio))
	if over.Dx()*over.Dy() > 36 {
		return nil, false
	}
	all = true
	for row := over.Min.Y; row < over.Max.Y; row++ {
		for col := over.Min.X; col < over.Max.X; col++ {
			key := tileKey{sheet, col, row}
			if tile := t.store.get(key); tile != nil {
				found = append(found, laying{tile, key, ratio, to})
			} else {
				all = false
			}
		}
	}
	return found, all
}
