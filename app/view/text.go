package view

import (
	"image"
	"math"
	"sync"

	"github.com/paulmach/orb"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// A weight is how heavy letters are.
type weight uint8

const (
	regularWeight weight = iota
	mediumWeight
)

// fonts reads the built-in typeface once; a parsed font may be shared.
var fonts = [...]func() *sfnt.Font{
	regularWeight: sync.OnceValue(func() *sfnt.Font { return parse(goregular.TTF) }),
	mediumWeight:  sync.OnceValue(func() *sfnt.Font { return parse(gomedium.TTF) }),
}

func parse(ttf []byte) *sfnt.Font {
	f, err := opentype.Parse(ttf)
	if err != nil {
		panic("view: the built-in typeface cannot be read")
	}
	return f
}

// lettering is how a piece of text is set.
type lettering struct {
	size   float64 // [px]
	weight weight
	colour Colour
	// halo is the colour that lifts the text off the map; none when transparent.
	halo Colour
}

// A line of letters, with the pen starting at (0, 0) on the baseline.
type letters struct {
	glyphs []glyph
	// width is the pen's whole way [px].
	width float64
}

// A glyph is one letter's place in its line and its outline there.
type glyph struct {
	x, advance float64
	outline    []sfnt.Segment
}

// A typesetter turns text into outlines. One goroutine may use it at a time.
type typesetter struct {
	buffer sfnt.Buffer
	halo   []uint8
	// spans are the inked columns of each row that is being spread.
	spans []cellRun
	// lines are those that were set before.
	lines map[lineKey]letters
}

// A lineKey tells lines of letters apart, whatever their colour.
type lineKey struct {
	text   string
	size   float64
	weight weight
}

// mostLines is how many lines are remembered.
const mostLines = 4096

func newTypesetter() *typesetter { return &typesetter{lines: map[lineKey]letters{}} }

// thinSpace is one letter that the typeface lacks; a space that does not break either
// stands for it.
const thinSpace, unbroken = '\u2009', '\u00a0'

// set lays out one line of text. Other letters that the typeface lacks show its box.
func (t *typesetter) set(text string, l lettering) letters {
	key := lineKey{text, l.size, l.weight}
	line, ok := t.lines[key]
	if !ok {
		if len(t.lines) >= mostLines {
			clear(t.lines)
		}
		line = t.lay(text, l)
		t.lines[key] = line
	}
	return line
}

func (t *typesetter) lay(text string, l lettering) letters {
	f := fonts[l.weight]()
	ppem := fixed.Int26_6(math.Round(l.size * 64))
	var line letters
	var before sfnt.GlyphIndex
	for i, r := range text {
		if r == thinSpace {
			r = unbroken
		}
		index, err := f.GlyphIndex(&t.buffer, r)
		if err != nil {
			continue
		}
		if i > 0 {
			if kern, err := f.Kern(&t.buffer, before, index, ppem, font.HintingNone); err == nil {
				line.width += float64(kern) / 64
			}
		}
		advance, err := f.GlyphAdvance(&t.buffer, index, ppem, font.HintingNone)
		if err != nil {
			continue
		}
		g := glyph{x: line.width, advance: float64(advance) / 64}
		if outline, err := f.LoadGlyph(&t.buffer, index, ppem, nil); err == nil {
			g.outline = append(g.outline, outline...)
		}
		line.glyphs = append(line.glyphs, g)
		line.width += g.advance
		before = index
	}
	return line
}

// measure returns the width of a text [px].
func (t *typesetter) measure(text string, l lettering) float64 { return t.set(text, l).width }

// ascent and descent are about how far letters reach above and below the
// baseline, as shares of the type size.
const (
	ascent  = 0.76
	descent = 0.22
)

// A pose is where the pen stands on the picture and which way it faces.
type pose struct {
	at       orb.Point
	sin, cos float64
}

func upright(x, y float64) pose { return pose{at: orb.Point{x, y}, cos: 1} }

func (p pose) place(x, y float64) orb.Point {
	return orb.Point{p.at[0] + x*p.cos - y*p.sin, p.at[1] + x*p.sin + y*p.cos}
}

// write draws text on one straight line that starts at p.
func (k *canvas) write(text string, l lettering, p pose) {
	line := k.letters.set(text, l)
	k.writeGlyphs(line, l, func(g glyph) pose {
		at := p.place(g.x, 0)
		return pose{at: at, sin: p.sin, cos: p.cos}
	})
}

// writeGlyphs draws each letter in its own pose: first the halo of all, then
// the letters.
func (k *canvas) writeGlyphs(line letters, l lettering, posed func(glyph) pose) {
	pad := int(math.Ceil(haloShare*l.size)) + 1
	bound := k.inked(line, l.size, posed).Inset(-pad).Intersect(k.dst.Rect)
	if bound.Empty() {
		return
	}
	k.begin(bound)
	for _, g := range line.glyphs {
		k.outline(g.outline, posed(g), bound.Min)
	}
	k.rasterize(bound)
	if l.halo.A > 0 {
		k.lay(k.letters.spread(&k.scratch, haloShare*l.size), bound, l.halo)
	}
	k.lay(k.scratch.Pix, bound, l.colour)
}

// haloShare is the width of a halo as a share of the type size.
const haloShare = 0.2

// inked returns the pixels that letters can touch.
func (k *canvas) inked(line letters, size float64, posed func(glyph) pose) image.Rectangle {
	var bound image.Rectangle
	for _, g := range line.glyphs {
		p := posed(g)
		if !finite(p.at) || math.Abs(p.at[0]) > 1e6 || math.Abs(p.at[1]) > 1e6 {
			continue
		}
		for _, c := range [4]orb.Point{{0, -size}, {g.advance, -size}, {0, size * 0.4}, {g.advance, size * 0.4}} {
			q := p.place(c[0], c[1])
			x, y := int(math.Floor(q[0])), int(math.Floor(q[1]))
			bound = bound.Union(image.Rect(x-1, y-1, x+2, y+2))
		}
	}
	return bound
}

func (k *canvas) outline(segments []sfnt.Segment, p pose, origin image.Point) {
	to := func(a fixed.Point26_6) (x, y float32) {
		q := p.place(float64(a.X)/64, float64(a.Y)/64)
		return float32(q[0] - float64(origin.X)), float32(q[1] - float64(origin.Y))
	}
	for i, s := range segments {
		x0, y0 := to(s.Args[0])
		x1, y1 := to(s.Args[1])
		x2, y2 := to(s.Args[2])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if i > 0 {
				k.raster.ClosePath()
			}
			k.raster.MoveTo(x0, y0)
		case sfnt.SegmentOpLineTo:
			k.raster.LineTo(x0, y0)
		case sfnt.SegmentOpQuadTo:
			k.raster.QuadTo(x0, y0, x1, y1)
		case sfnt.SegmentOpCubeTo:
			k.raster.CubeTo(x0, y0, x1, y1, x2, y2)
		}
	}
	if len(segments) > 0 {
		k.raster.ClosePath()
	}
}

// spread widens what is covered by a radius, softly at the rim.
func (t *typesetter) spread(from *image.Alpha, radius float64) []uint8 {
	w, h := from.Rect.Dx(), from.Rect.Dy()
	if cap(t.halo) < w*h {
		t.halo = make([]uint8, w*h)
	}
	out := t.halo[:w*h]
	clear(out)
	t.spans = t.spans[:0]
	for y := range h {
		lo, hi := inkedSpan(from.Pix[y*w : (y+1)*w])
		t.spans = append(t.spans, cellRun{lo, hi})
	}
	reach := int(math.Ceil(radius))
	for dy := -reach; dy <= reach; dy++ {
		for dx := -reach; dx <= reach; dx++ {
			share := min(1, radius+0.5-math.Hypot(float64(dx), float64(dy)))
			if share <= 0 {
				continue
			}
			level := uint32(share*256 + 0.5)
			for y := max(0, -dy); y < min(h, h-dy); y++ {
				if x0, x1 := max(t.spans[y].lo, -dx), min(t.spans[y].hi, w-dx); x0 < x1 {
					spreadRow(out[(y+dy)*w+x0+dx:(y+dy)*w+x1+dx], from.Pix[y*w+x0:y*w+x1], level)
				}
			}
		}
	}
	return out
}

func spreadRow(out, from []uint8, level uint32) {
	out = out[:len(from)]
	for x, c := range from {
		if c != 0 {
			out[x] = max(out[x], uint8(uint32(c)*level>>8))
		}
	}
}

// lay inks a coverage of bound's size.
func (k *canvas) lay(cover []uint8, bound image.Rectangle, c Colour) {
	for y := range bound.Dy() {
		pix := k.dst.Pix[(bound.Min.Y+y)*k.dst.Stride+4*bound.Min.X:]
		for x, v := range cover[y*bound.Dx() : (y+1)*bound.Dx()] {
			if v != 0 {
				blend(pix[4*x:], c, uint32(v))
			}
		}
	}
}
