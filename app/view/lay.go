package view

import (
	"encoding/binary"
	"image"
	"math"
	"time"
)

// hold is how long a map that was whole stays, while only some of the tiles of the
// next have come: pieces of two maps side by side are worse than a late one.
const hold = 110 * time.Millisecond

// A laying is a tile, or a part of one, and where it goes on a picture.
type laying struct {
	image *image.RGBA
	// key is what it shows, scale how many of its pixels go into one of the picture.
	key   tileKey
	scale float64
	to    image.Rectangle
}

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
	t.start()
	t.mu.Unlock()

	for _, r := range bare {
		fill(dst, r.Sub(view.Min), e.look.Desk)
	}
	for _, g := range layings {
		g.lay(dst, view)
	}
	sprites.lay(dst, c)
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

// lay copies whole rows where the scales are the same, else the nearest pixels.
func (g laying) lay(dst *image.RGBA, view image.Rectangle) {
	from := g.key.bounds()
	if g.scale == 1 {
		part := g.to.Intersect(from)
		at, of := part.Sub(view.Min), part.Sub(from.Min)
		for y := range part.Dy() {
			copy(dst.Pix[dst.PixOffset(at.Min.X, at.Min.Y+y):][:4*part.Dx()], g.image.Pix[g.image.PixOffset(of.Min.X, of.Min.Y+y):])
		}
		return
	}
	to := image.Rectangle{firstPixels(from.Min, g.scale), firstPixels(from.Max, g.scale)}.Intersect(g.to)
	if to.Empty() {
		return
	}
	columns := make([]int32, to.Dx())
	for x := range columns {
		columns[x] = 4 * int32(nearestPixel(to.Min.X+x, g.scale, from.Min.X))
	}
	last := -1
	var before []uint8
	for y := to.Min.Y; y < to.Max.Y; y++ {
		row := nearestPixel(y, g.scale, from.Min.Y)
		out := dst.Pix[dst.PixOffset(to.Min.X-view.Min.X, y-view.Min.Y):][:4*to.Dx()]
		if row == last {
			copy(out, before)
		} else {
			stretchRow(out, g.image.Pix[row*g.image.Stride:][:g.image.Stride], columns)
		}
		last, before = row, out
	}
}

func stretchRow(out, in []uint8, columns []int32) {
	for _, c := range columns {
		binary.LittleEndian.PutUint32(out, binary.LittleEndian.Uint32(in[c:]))
		out = out[4:]
	}
}

// firstPixels returns the first pixel whose middle lies at or after one of another
// scale.
func firstPixels(p image.Point, scale float64) image.Point {
	at := func(v int) int { return int(math.Ceil(float64(v)/scale - 0.5)) }
	return image.Pt(at(p.X), at(p.Y))
}

// nearestPixel returns the place in a tile of the pixel under the middle of another.
func nearestPixel(v int, scale float64, start int) int {
	return max(0, min(tileSide-1, int(math.Floor((float64(v)+0.5)*scale))-start))
}

// fill paints a rectangle in one opaque colour.
func fill(dst *image.RGBA, r image.Rectangle, c Colour) {
	if r = r.Intersect(dst.Rect); r.Empty() {
		return
	}
	first := dst.Pix[dst.PixOffset(r.Min.X, r.Min.Y):][:4*r.Dx()]
	for x := range r.Dx() {
		binary.LittleEndian.PutUint32(first[4*x:], pixel(c))
	}
	for y := r.Min.Y + 1; y < r.Max.Y; y++ {
		copy(dst.Pix[dst.PixOffset(r.Min.X, y):][:4*r.Dx()], first)
	}
}
