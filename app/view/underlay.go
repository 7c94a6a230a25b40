package view

import (
	"context"
	"encoding/binary"
	"image"
	"image/draw"
	"runtime"
	"sync"
	"weak"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// drawUnderlays lays the images under the map over paper and colours, each at its
// opacity. Where the relief alone lies there it shows through them: they are lit
// as tints are, so that the shape of the ground stays to be seen.
func (k *canvas) drawUnderlays(ctx context.Context, s *Scene) error {
	var sheets []sheetOn
	for _, u := range s.Underlays {
		if u.Hidden || !k.sees(u.Frame.Bound(), 0) || u.Check() != nil {
			continue
		}
		if on := k.sheetOn(u); on.opacity > 0 {
			sheets = append(sheets, on)
		}
	}
	if len(sheets) == 0 {
		return ctx.Err()
	}
	light, desk := k.underlayLight(s), pixel(k.look.Desk)
	return rows(ctx, 0, k.h, func(y int) {
		row := k.dst.Pix[y*k.dst.Stride:][:4*k.w]
		lights := make([]uint16, k.w)
		for x := range lights {
			if lights[x] = light[row[4*x+1]]; binary.LittleEndian.Uint32(row[4*x:]) == desk {
				lights[x] = 256
			}
		}
		for _, on := range sheets {
			on.row(row, lights, y)
		}
	})
}

// underlayLight says how much a pixel lightens what is laid over it, by its green,
// in 256ths. Where there are colours already they stay as they are.
func (k *canvas) underlayLight(s *Scene) (light [256]uint16) {
	for i := range light {
		light[i] = 256
	}
	if tint, _ := s.tinted(k.look); tint != nil || !s.Show.Has(Shade) || s.Shade.Len() == 0 {
		return light
	}
	for i, l := range k.look.lights() {
		if l > 0 {
			light[i] = uint16(l)
		}
	}
	return light
}

// A sheetOn is one image as a canvas sees it.
type sheetOn struct {
	pixels         sheetLevel
	columns, lines []tap
	first, last    int
	// opacity is in 256ths.
	opacity uint32
}

func (k *canvas) sheetOn(u plan.Underlay) sheetOn {
	levels := levelsOf(u)
	f, i := u.Frame, 0
	for i < len(levels)-1 && min(f.DX, f.DY)*k.camera.Scale <= 0.7 {
		f, i = halved(f), i+1
	}
	on := sheetOn{pixels: levels[i], columns: k.columns(f), lines: k.lines(f), opacity: uint32(u.Opacity*256 + 0.5)}
	on.first, on.last = within(on.columns)
	return on
}

// row lays one row of the image, each pixel mixed from the four round it.
func (on sheetOn) row(pix []uint8, lights []uint16, y int) {
	line := on.lines[y]
	if line.a < 0 {
		return
	}
	top, bottom, down := on.pixels.row(int(line.a)), on.pixels.row(int(line.b)), uint32(line.t)
	columns := on.columns[on.first:on.last]
	pix, lights = pix[4*on.first:], lights[on.first:][:len(columns)]
	for x, c := range columns {
		t := uint32(c.t)
		v := between(between(top[c.a], top[c.b], t), between(bottom[c.a], bottom[c.b], t), down)
		if v != 0 {
			lay(pix[4*x:4*x+4:4*x+4], v, on.opacity, on.opacity*uint32(lights[x])>>9)
		}
	}
}

// between mixes two packed pixels, all four channels at once: t 256ths of the
// second.
func between(p, q, t uint32) uint32 {
	const even = 0x00ff00ff
	low := ((p&even)*(256-t) + (q&even)*t) >> 8 & even
	high := ((p>>8&even)*(256-t) + (q>>8&even)*t) &^ even
	return low | high
}

// lay puts a packed pixel over another, two channels at a time: lit, in 128ths, is
// its opacity and the light on it, which may be more than all. The pixel below is
// opaque, and so is the answer.
func lay(pix []uint8, v, opacity, lit uint32) {
	const even, nine = 0x00ff00ff, 0x01ff01ff
	cover := (v>>24*opacity + 128) >> 8
	rest := 256 - cover - cover>>7
	d := binary.LittleEndian.Uint32(pix)
	low := (v&even)*lit>>7&nine + (d&even)*rest>>8&even
	high := (v>>8&even)*lit>>7&nine + (d>>8&even)*rest>>8&even
	low |= low >> 8 & 0x00010001 * 255
	high |= high >> 8 & 0x00010001 * 255
	binary.LittleEndian.PutUint32(pix, low&even|high&even<<8|255<<24)
}

// A sheetLevel is an image at one size: its pixels packed as in an image.RGBA, row
// after row.
type sheetLevel struct {
	w, h int
	v    []uint32
}

func (l sheetLevel) row(y int) []uint32 { return l.v[y*l.w : (y+1)*l.w] }

// levels are the pixels of pictures at full size, half, a quarter and so on. They
// are forgotten with their picture: a picture never changes, and as long as a site
// or an undo step holds it, it may be drawn.
var levels sync.Map // of weak.Pointer[plan.Picture] to func() []sheetLevel

func levelsOf(u plan.Underlay) []sheetLevel {
	key, frame := weak.Make(u.Picture), u.Frame // what is kept must not hold the picture
	held, known := levels.LoadOrStore(key, sync.OnceValue(func() []sheetLevel { return decoded(key, frame) }))
	if !known {
		runtime.AddCleanup(u.Picture, func(key weak.Pointer[plan.Picture]) { levels.Delete(key) }, key)
	}
	return held.(func() []sheetLevel)()
}

// decoded makes a picture's pixels. What is damaged stays clear; the ledger tells
// of it.
func decoded(of weak.Pointer[plan.Picture], f grid.Frame) []sheetLevel {
	full := image.NewRGBA(image.Rect(0, 0, f.W, f.H))
	if p := of.Value(); p != nil {
		decodeInto(full, p)
	}
	level := sheetLevel{f.W, f.H, make([]uint32, f.W*f.H)}
	eachRow(f.H, func(y int) {
		for x := range f.W {
			level.v[y*f.W+x] = binary.LittleEndian.Uint32(full.Pix[y*full.Stride+4*x:])
		}
	})
	all := []sheetLevel{level}
	for max(level.w, level.h) > leastShade {
		level = level.half()
		all = append(all, level)
	}
	return all
}

// decodeInto lays the tiles of a picture side by side, as many at a time as there
// are processors.
func decodeInto(full *image.RGBA, p *plan.Picture) {
	across, workers := full.Rect.Dx()/p.TileW, runtime.GOMAXPROCS(0)
	var wait sync.WaitGroup
	for first := range workers {
		wait.Go(func() {
			for i := first; i < len(p.Tiles); i += workers {
				if tile, err := p.Tile(i); err == nil && tile != nil {
					corner := image.Pt(i%across*p.TileW, i/across*p.TileH)
					draw.Draw(full, image.Rectangle{corner, corner.Add(image.Pt(p.TileW, p.TileH))}, tile, tile.Bounds().Min, draw.Src)
				}
			}
		})
	}
	wait.Wait()
}

// half makes one pixel of four.
func (l sheetLevel) half() sheetLevel {
	small := sheetLevel{w: (l.w + 1) / 2, h: (l.h + 1) / 2}
	small.v = make([]uint32, small.w*small.h)
	eachRow(small.h, func(y int) {
		top, bottom, row := l.row(2*y), l.row(min(2*y+1, l.h-1)), small.row(y)
		for x := range row {
			left, right := 2*x, min(2*x+1, l.w-1)
			row[x] = between(between(top[left], top[right], 128), between(bottom[left], bottom[right], 128), 128)
		}
	})
	return small
}
