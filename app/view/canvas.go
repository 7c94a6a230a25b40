package view

import (
	"context"
	"image"
	"math"
	"runtime"
	"sync"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A canvas is one picture while it is drawn.
type canvas struct {
	*stencil
	dst    *image.RGBA
	camera Camera
	look   Palette
	// px is one pixel of the unscaled palette.
	px      float64
	tiles   map[hatchKey]tile
	letters *typesetter
	// taken is where labels and symbols stand already.
	taken occupancy
	// islets are the islands in view, as they are seen.
	islets []orb.Ring
	// dug is set when the scheme's digging is drawn from its proposed ground:
	// then the banks of channels are not drawn from their sections.
	dug bool
	// parts says which islands a channel runs through; nil where that is not known.
	parts map[plan.ID]bool
	// stances says how what lies across a channel stands.
	stances map[plan.ID]stance
	// view is the part that is in sight while what is about it is arranged too; empty
	// where all is.
	view orb.Bound
	// before is what was arranged of this map before; empty for none. named are the
	// features and deep the hollows that have their labels, levels is where the
	// heights of contours are written.
	before arranged
	named  map[plan.ID]bool
	deep   map[int32]bool
	levels []orb.Point
}

// hatchKey tells hatches apart by their first stroke, size and width.
type hatchKey struct {
	stroke      Stroke
	size, width float64
}

func newCanvas(dst *image.RGBA, c Camera, p Palette) *canvas {
	w, h := dst.Rect.Dx(), dst.Rect.Dy()
	return &canvas{
		stencil: newStencil(w, h), dst: dst, camera: c, look: p, px: p.unit(),
		tiles: map[hatchKey]tile{}, letters: newTypesetter(), taken: newOccupancy(w, h),
	}
}

// spare are canvases for what is drawn over each frame: making one takes longer
// than drawing on it.
var spare sync.Pool

// borrowCanvas returns a canvas that is to be given back with its stencil clear.
func borrowCanvas(dst *image.RGBA, c Camera, p Palette) *canvas {
	k, ok := spare.Get().(*canvas)
	if !ok || k.w != dst.Rect.Dx() || k.h != dst.Rect.Dy() {
		return newCanvas(dst, c, p)
	}
	k.dst, k.camera, k.look, k.px = dst, c, p, p.unit()
	return k
}

func (k *canvas) giveBack() {
	k.clear()
	k.dst = nil
	spare.Put(k)
}

// at returns the canvas seen by another camera; both draw on one picture.
func (k *canvas) at(c Camera) *canvas {
	other := *k
	other.camera = c
	return &other
}

// point returns where a ground point is seen.
func (k *canvas) point(p orb.Point) orb.Point {
	x, y := k.camera.ToScreen(p)
	return orb.Point{x, y}
}

func (k *canvas) ground(seen orb.Point) orb.Point { return k.camera.ToGround(seen[0], seen[1]) }

// nearer is how close together [px] the points of a line may be before some are left out.
const nearer = 0.7

// line returns a ground line as it is seen, without points closer together
// than the eye can tell.
func (k *canvas) line(ground []orb.Point) []orb.Point {
	seen := make([]orb.Point, 0, min(len(ground), 256))
	for i, p := range ground {
		q := k.point(p)
		if n := len(seen); n > 0 && i < len(ground)-1 &&
			math.Abs(q[0]-seen[n-1][0]) < nearer && math.Abs(q[1]-seen[n-1][1]) < nearer {
			continue
		}
		seen = append(seen, q)
	}
	return seen
}

func (k *canvas) rings(area orb.Polygon) []orb.Ring {
	rings := make([]orb.Ring, len(area))
	for i, ring := range area {
		rings[i] = k.line(ring)
	}
	return rings
}

// ink colours what the stencil covers and clears it.
func (k *canvas) ink(c Colour) {
	k.wash(c)
	k.clear()
}

// wash colours what the stencil covers and keeps it for more.
func (k *canvas) wash(c Colour) {
	for y := k.top; y < k.bottom; y++ {
		lo, hi := k.lo[y], k.hi[y]
		if lo >= hi {
			continue
		}
		pix := k.dst.Pix[y*k.dst.Stride+4*lo : y*k.dst.Stride+4*hi]
		for x, cover := range k.cover[y*k.w+lo : y*k.w+hi] {
			if cover != 0 {
				blend(pix[4*x:], c, uint32(cover))
			}
		}
	}
}

// washHatch colours the strokes of a hatch where the stencil covers. The hatch
// keeps its place on the ground while the view is panned.
func (k *canvas) washHatch(h Hatch) {
	t := k.tile(h)
	if t.size == 0 {
		return
	}
	ox, oy := k.anchor(t.size)
	for y := k.top; y < k.bottom; y++ {
		row := t.cover[(y+oy)%t.size*t.size:][:t.size]
		pix := k.dst.Pix[y*k.dst.Stride:]
		for x := k.lo[y]; x < k.hi[y]; x++ {
			if cover := uint32(k.cover[y*k.w+x]); cover != 0 {
				blend(pix[4*x:], h.Colour, div255(cover*uint32(row[(x+ox)%t.size])))
			}
		}
	}
}

// anchor returns where in a tile the picture's first pixel falls.
func (k *canvas) anchor(size int) (x, y int) {
	x = int(math.Mod(math.Round(k.camera.West*k.camera.Scale), float64(size)))
	y = int(math.Mod(math.Round(-k.camera.North*k.camera.Scale), float64(size)))
	return (x + size) % size, (y + size) % size
}

func (k *canvas) tile(h Hatch) tile {
	if len(h.Strokes) == 0 {
		return tile{}
	}
	key := hatchKey{h.Strokes[0], h.Size, h.Width}
	t, ok := k.tiles[key]
	if !ok {
		t = h.tile()
		k.tiles[key] = t
	}
	return t
}

// draw strokes one line and inks it.
func (k *canvas) draw(line []orb.Point, pen Pen) {
	k.stroke(line, pen, add)
	k.ink(pen.Colour)
}

// fill inks rings.
func (k *canvas) fill(rings []orb.Ring, c Colour) {
	k.area(rings, add)
	k.ink(c)
}

// disc inks a circle with an edge.
func (k *canvas) disc(at orb.Point, radius float64, s Style) {
	if s.Body.A == 255 && len(s.Edge.Dash) == 0 { // two fills are quicker than a stroke
		k.fill([]orb.Ring{circle(at, radius+s.Edge.Width/2)}, s.Edge.Colour)
		k.fill([]orb.Ring{circle(at, radius-s.Edge.Width/2)}, s.Body)
		return
	}
	ring := circle(at, radius)
	k.fill([]orb.Ring{ring}, s.Body)
	k.draw(append(ring, ring[0]), s.Edge)
}

// sees reports whether any of a ground rectangle may lie in the picture, with
// margin pixels round it.
func (k *canvas) sees(b orb.Bound, margin float64) bool {
	x0, y0 := k.camera.ToScreen(orb.Point{b.Min[0], b.Max[1]})
	x1, y1 := k.camera.ToScreen(orb.Point{b.Max[0], b.Min[1]})
	return x1 >= -margin && y1 >= -margin && x0 <= float64(k.w)+margin && y0 <= float64(k.h)+margin
}

// pollRows is how many rows are drawn between looks at whether to stop, bandRows
// the fewest that are worth a goroutine of their own.
const (
	pollRows = 64
	bandRows = 320
)

// rows calls draw for each row from y0 up to before y1, in as many bands at a
// time as there are processors. draw must write its own row only.
func rows(ctx context.Context, y0, y1 int, draw func(y int)) error {
	bands := max(1, min(runtime.GOMAXPROCS(0), (y1-y0)/bandRows))
	var wait sync.WaitGroup
	for band := range bands - 1 {
		wait.Go(func() { drawBand(ctx, y0+(y1-y0)*band/bands, y0+(y1-y0)*(band+1)/bands, draw) })
	}
	drawBand(ctx, y0+(y1-y0)*(bands-1)/bands, y1, draw)
	wait.Wait()
	return ctx.Err()
}

func drawBand(ctx context.Context, y0, y1 int, draw func(y int)) {
	for y := y0; y < y1; y++ {
		if (y-y0)%pollRows == 0 && ctx.Err() != nil {
			return
		}
		draw(y)
	}
}

// steps runs drawing steps in turn until one fails or ctx ends.
func steps(ctx context.Context, each ...func(context.Context) error) error {
	for _, step := range each {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := step(ctx); err != nil {
			return err
		}
	}
	return nil
}
