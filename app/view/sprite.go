package view

import (
	"context"
	"image"
	"math"

	"github.com/paulmach/orb"
)

// A sprite is one thing that is laid over the map, drawn once.
type sprite struct {
	// at is its top left pixel on its level, of is the place that it stands at.
	at image.Point
	of orb.Point
	// image is laid over the map; under it, patch is the map without the contour
	// that a level interrupts, clear but for the gap.
	image, patch decal
	patchAt      image.Point
}

// A labelSheet is all that is laid over a part of a map at one level.
type labelSheet struct {
	moment
	// window is what it was arranged for, in pixels of the level, and view what was in
	// sight of that.
	window, view image.Rectangle
	stand        arranged
	sprites      []sprite
	// written are the sprites of the labels among them.
	written []sprite
}

// drawSheet arranges and draws what is laid over a window of a map; what stood on
// the sheet before stays where it was.
func drawSheet(ctx context.Context, j labelJob, before *labelSheet) (*labelSheet, error) {
	s := &labelSheet{moment: j.moment, window: j.window, view: j.view}
	k := newScribe(j)
	var kept []sprite
	if before != nil && before.same(j.moment) {
		k.before, kept = before.shifted(j.window)
	}
	s.stand = k.arrange(j.plate)
	for _, g := range s.stand.signs {
		if bound := pixelsOf(square(g.at[0], g.at[1], 2*k.look.Caution.Least), square(g.of[0], g.of[1], 4*k.px)); bound.Overlaps(k.dst.Rect) {
			s.sprites = append(s.sprites, k.sprite(bound, g.of, func(o *canvas, by orb.Point) {
				o.drawSign(sign{orb.Point{g.at[0] - by[0], g.at[1] - by[1]}, orb.Point{g.of[0] - by[0], g.of[1] - by[1]}, g.fault})
			}))
		}
	}
	s.written = kept
	for _, l := range s.stand.labels[len(kept):] {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		w, err := k.written(ctx, j.plate, l)
		if err != nil {
			return nil, err
		}
		s.written = append(s.written, w)
	}
	s.sprites = append(s.sprites, s.written...)
	for i, at := range s.stand.badges {
		if bound := pixelsOf(square(at[0], at[1], 3*badgeSize*k.px)); bound.Overlaps(k.dst.Rect) {
			s.sprites = append(s.sprites, k.sprite(bound, at, func(o *canvas, by orb.Point) {
				o.badge(orb.Point{at[0] - by[0], at[1] - by[1]}, j.plate.Trails[i].Number)
			}))
		}
	}
	return s, ctx.Err()
}

// A scribe arranges and draws what is laid over a window of a map.
type scribe struct {
	*canvas
	of     *edition
	level  level
	origin image.Point
}

// newScribe returns a scribe whose own canvas is never drawn on.
func newScribe(j labelJob) scribe {
	w, h := j.window.Dx(), j.window.Dy()
	k := &canvas{
		stencil: &stencil{w: w, h: h}, dst: &image.RGBA{Rect: image.Rect(0, 0, w, h)},
		tiles: map[hatchKey]tile{}, letters: j.letters, taken: newOccupancy(w, h),
	}
	k.use(j.edition, cameraAt(j.level, j.window.Min), k.dst)
	k.view = boundOf(j.view.Sub(j.window.Min))
	return scribe{k, j.edition, j.level, j.window.Min}
}

// part returns a canvas that draws a part of the window.
func (k scribe) part(bound image.Rectangle) *canvas {
	o := newCanvas(image.NewRGBA(image.Rectangle{Max: bound.Size()}), cameraAt(k.level, k.origin.Add(bound.Min)), k.of.look)
	o.letters = k.letters
	o.prepare(k.of.plate)
	return o
}

// sprite draws what stands at a place of the window; draw is told by how much its
// canvas is shifted.
func (k scribe) sprite(bound image.Rectangle, of orb.Point, draw func(o *canvas, by orb.Point)) sprite {
	o := k.part(bound)
	draw(o, orb.Point{float64(bound.Min.X), float64(bound.Min.Y)})
	return sprite{at: k.origin.Add(bound.Min), of: k.ground(of), image: newDecal(o.dst)}
}

// written draws a label, and the gap that it makes in a contour.
func (k scribe) written(ctx context.Context, p *plate, l label) (sprite, error) {
	i := -1
	pad := int(math.Ceil(haloShare*l.look.size)) + 1
	bound := k.inked(l.line, l.look.size, func(glyph) pose { i++; return l.poses[i] }).Inset(-pad)
	middle := l.poses[len(l.poses)/2].at
	s := k.sprite(bound, middle, func(o *canvas, by orb.Point) { o.drawLabels([]label{l.moved(-by[0], -by[1])}) })
	if l.gap == nil {
		return s, nil
	}
	bound = pixelsOf(orb.MultiPoint(l.gap).Bound().Pad(l.look.size + 2))
	o := k.part(bound)
	moved := l.moved(-float64(bound.Min.X), -float64(bound.Min.Y))
	if err := o.drawMap(ctx, p, []label{moved}); err != nil {
		return sprite{}, err
	}
	gap := newStencil(o.w, o.h)
	gap.stroke(moved.gap, moved.gapPen(), add)
	for at, cover := range gap.cover {
		if cover == 0 {
			clear(o.dst.Pix[4*at : 4*at+4])
		}
	}
	s.patch, s.patchAt = newDecal(o.dst), k.origin.Add(bound.Min)
	return s, nil
}

// moved returns a label elsewhere on the screen.
func (l label) moved(dx, dy float64) label {
	poses, gap := make([]pose, len(l.poses)), make([]orb.Point, len(l.gap))
	for i, p := range l.poses {
		p.at = orb.Point{p.at[0] + dx, p.at[1] + dy}
		poses[i] = p
	}
	for i, p := range l.gap {
		gap[i] = orb.Point{p[0] + dx, p[1] + dy}
	}
	l.poses = poses
	if l.gap != nil {
		l.gap = gap
	}
	return l
}

// gapPen covers the stretch of contour that a label interrupts.
func (l label) gapPen() Pen { return Pen{Width: 1.15 * l.look.size} }

// shifted returns the labels of a sheet that lie wholly in another window, as they
// are seen there, with their sprites.
func (s *labelSheet) shifted(window image.Rectangle) (arranged, []sprite) {
	by := s.window.Min.Sub(window.Min)
	old := s.window.Sub(window.Min)
	stand := arranged{window: boundOf(old)}
	var sprites []sprite
	for i, l := range s.stand.labels {
		w := s.written[i]
		if w.image.Rect.Add(w.at).In(window) {
			stand.labels = append(stand.labels, l.moved(float64(by.X), float64(by.Y)))
			sprites = append(sprites, w)
		}
	}
	return stand, sprites
}

func boundOf(r image.Rectangle) orb.Bound {
	return orb.Bound{Min: orb.Point{float64(r.Min.X), float64(r.Min.Y)}, Max: orb.Point{float64(r.Max.X), float64(r.Max.Y)}}
}

func pixelsOf(bounds ...orb.Bound) image.Rectangle {
	var r image.Rectangle
	for _, b := range bounds {
		r = r.Union(image.Rect(int(math.Floor(b.Min[0])), int(math.Floor(b.Min[1])), int(math.Ceil(b.Max[0]))+1, int(math.Ceil(b.Max[1]))+1))
	}
	return r
}

// lay lays a sheet's sprites. At another scale than their own they stand at their
// places at their own size, without gaps in contours.
func (s *labelSheet) lay(dst *image.RGBA, c Camera) {
	if s == nil {
		return
	}
	l := levelOf(c.Scale)
	if l != s.level {
		if ratio := c.Scale / s.level.scale(); ratio < 0.55 || ratio > 1.9 {
			return // too many or too few
		}
	}
	corner := c.corner(l)
	for _, w := range s.sprites {
		at := w.at
		if l != s.level {
			x, y := c.ToScreen(w.of)
			u, v := cameraAt(s.level, w.at).ToScreen(w.of)
			at = image.Pt(int(math.Round(x-u)), int(math.Round(y-v))).Add(corner)
		} else if w.patch.RGBA != nil {
			w.patch.lay(dst, w.patchAt.Sub(corner))
		}
		w.image.lay(dst, at.Sub(corner))
	}
}

// A decal is a picture with clear parts. runs are the columns of each row between
// its first and last pixel that is not clear.
type decal struct {
	*image.RGBA
	runs []cellRun
}

func newDecal(of *image.RGBA) decal {
	d := decal{of, make([]cellRun, of.Rect.Dy())}
	for y := range d.runs {
		row := of.Pix[y*of.Stride:][:4*of.Rect.Dx()]
		lo, hi := inkedSpan(row)
		d.runs[y] = cellRun{lo / 4, (hi + 3) / 4}
	}
	return d
}

// lay lays a decal on a picture.
func (d decal) lay(dst *image.RGBA, at image.Point) {
	to := d.Rect.Add(at).Intersect(dst.Rect)
	for y := to.Min.Y; y < to.Max.Y; y++ {
		run := d.runs[y-at.Y]
		lo, hi := max(run.lo, to.Min.X-at.X), min(run.hi, to.Max.X-at.X)
		if lo >= hi {
			continue
		}
		layRow(dst.Pix[dst.PixOffset(at.X+lo, y):][:4*(hi-lo)], d.Pix[d.PixOffset(lo, y-at.Y):][:4*(hi-lo)])
	}
}

func layRow(out, in []uint8) {
	for i := 0; i+4 <= len(in) && i+4 <= len(out); i += 4 {
		p, q := in[i:i+4:i+4], out[i:i+4:i+4]
		switch p[3] {
		case 0:
		case 255:
			copy(q, p)
		default:
			rest := uint32(255 - p[3])
			q[0] = p[0] + uint8(div255(uint32(q[0])*rest))
			q[1] = p[1] + uint8(div255(uint32(q[1])*rest))
			q[2] = p[2] + uint8(div255(uint32(q[2])*rest))
			q[3] = p[3] + uint8(div255(uint32(q[3])*rest))
		}
	}
}
