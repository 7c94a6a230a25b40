package view

import (
	"context"
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
)

// A pond is standing water prepared for drawing: depths that go on, below
// nought, one cell past the shore, so that the shore can be found between cells.
type pond struct {
	depth grid.Ground
	// deepest is the greatest depth [m].
	deepest float64
	// bound is the ground that holds all of the water.
	bound orb.Bound
	// runs are, for each row, the columns at or beside water in it or in the
	// rows above and below.
	runs [][]cellRun
}

// A cellRun is the columns from lo up to before hi.
type cellRun struct{ lo, hi int }

// findRuns lists where water is, so that drawing passes over the rest.
func (p *pond) findRuns() {
	p.runs = make([][]cellRun, p.depth.H)
	eachRow(p.depth.H, func(y int) {
		above, here, below := p.depth.Row(max(y-1, 0)), p.depth.Row(y), p.depth.Row(min(y+1, p.depth.H-1))
		var runs []cellRun
		for x, depth := range here {
			if !(depth > 0 || above[x] > 0 || below[x] > 0) {
				continue
			}
			lo, hi := max(x-1, 0), min(x+2, p.depth.W)
			if n := len(runs); n > 0 && lo <= runs[n-1].hi {
				runs[n-1].hi = hi
			} else {
				runs = append(runs, cellRun{lo, hi})
			}
		}
		p.runs[y] = runs
	})
}

// eachRow calls f for each of so many rows, several at a time.
func eachRow(count int, f func(y int)) {
	// There is nothing to cancel: the work is over in milliseconds.
	_ = rows(context.Background(), 0, count, f)
}

// holds reports whether a ground point lies in the pond.
func (p pond) holds(at orb.Point) bool {
	x, y, ok := p.depth.Cell(at)
	return ok && p.depth.At(x, y) > 0
}

// newPond continues the water's level over the dry cells beside it: what the
// ground rises above the level is depth below nought. Away from water the depth
// is 0, which is not drawn.
func newPond(wet, ground grid.Ground) pond {
	w := windowOf(wet.Frame, func(y int, mark func(x int)) {
		for x, depth := range wet.Row(y) {
			if depth > 0 {
				mark(x)
			}
		}
	})
	p := pond{depth: grid.New[float32](w.frame)}
	eachRow(p.depth.H, func(y int) {
		to := p.depth.Row(y)
		for x, depth := range wet.Row(w.y + y)[w.x : w.x+len(to)] {
			if depth > 0 {
				to[x] = depth
			}
		}
	})
	p.findRuns()
	if ground.Frame != wet.Frame {
		ground = grid.Ground{}
	}
	p.eachRun(func(y int, r cellRun) {
		for x := r.lo; x < r.hi; x++ {
			if !(wet.At(w.x+x, w.y+y) > 0) {
				p.depth.Set(x, y, shoreDepth(wet, ground, w.x+x, w.y+y))
			}
		}
	})
	p.bind()
	return p
}

// A span is a part of a frame, from column x and row y on.
type span struct {
	frame grid.Frame
	x, y  int
}

// windowOf returns the part of a frame that holds what each row marks, and a cell
// more on each side where there is one; no cells where nothing is marked.
func windowOf(f grid.Frame, each func(y int, mark func(x int))) span {
	first, last := make([]int, f.H), make([]int, f.H)
	eachRow(f.H, func(y int) {
		lo, hi := f.W, -1
		each(y, func(x int) { lo, hi = min(lo, x), max(hi, x) })
		first[y], last[y] = lo, hi
	})
	x0, x1, y0, y1 := f.W, -1, f.H, -1
	for y := range first {
		if last[y] >= 0 {
			x0, x1, y0, y1 = min(x0, first[y]), max(x1, last[y]), min(y0, y), y
		}
	}
	if y1 < 0 {
		return span{}
	}
	x0, y0 = max(x0-1, 0), max(y0-1, 0)
	part := f
	part.W, part.H = min(x1+2, f.W)-x0, min(y1+2, f.H)-y0
	part.West, part.North = f.West+float64(x0)*f.DX, f.North-float64(y0)*f.DY
	return span{part, x0, y0}
}

// eachRun calls f for each run, several rows at a time.
func (p *pond) eachRun(f func(y int, r cellRun)) {
	eachRow(len(p.runs), func(y int) {
		for _, r := range p.runs[y] {
			f(y, r)
		}
	})
}

// bind works out the deepest place and the bound of the water.
func (p *pond) bind() {
	first, last, top, bottom := p.depth.W, -1, -1, -1
	for y, runs := range p.runs {
		for _, r := range runs {
			for i, depth := range p.depth.Row(y)[r.lo:r.hi] {
				if depth > 0 {
					p.deepest = max(p.deepest, float64(depth))
					first, last, bottom = min(first, r.lo+i), max(last, r.lo+i), y
				}
			}
		}
		if top < 0 && bottom == y {
			top = y
		}
	}
	if top >= 0 {
		f := p.depth.Frame
		p.bound = orb.Bound{Min: f.Centre(first, bottom), Max: f.Centre(last, top)}.Pad(max(f.DX, f.DY))
	}
}

// shoreDepth returns the depth below nought of a dry cell beside water. Where the
// ground is not known the bed is taken to rise as it fell.
func shoreDepth(wet, ground grid.Ground, x, y int) float32 {
	level, deepest := math.Inf(-1), 0.01
	for d := range grid.StepX {
		nx, ny := x+grid.StepX[d], y+grid.StepY[d]
		if !wet.In(nx, ny) || !(wet.At(nx, ny) > 0) {
			continue
		}
		depth := float64(wet.At(nx, ny))
		deepest = max(deepest, depth)
		if ground.Len() > 0 {
			level = max(level, float64(ground.At(nx, ny))+depth)
		}
	}
	if ground.Len() > 0 && !grid.IsNoData(ground.At(x, y)) {
		return float32(min(-0.002, level-float64(ground.At(x, y))))
	}
	return float32(-deepest)
}

// depthSteps is how many shades of depth there are.
const depthSteps = 64

// drawPond lays the water over the ground, darker where it is deeper, up to a
// shoreline drawn between cells.
func (k *canvas) drawPond(ctx context.Context, p pond, look Pond) error {
	if p.depth.Len() == 0 || !(p.deepest > 0) || !k.sees(p.bound, 2) {
		return nil
	}
	columns, lines := k.columns(p.depth.Frame), k.lines(p.depth.Frame)
	y0, y1 := k.windowRows(p.bound)
	// Seen from far, where a cell is less than a pixel, the shores of one
	// channel would hide its water.
	look.Shore.Width *= max(0.45, min(1, k.camera.Scale*p.depth.DX/k.px))
	brush := pondBrush{colours: look.steps(), shore: look.Shore, perMetre: (depthSteps - 1) / p.deepest,
		perPixelX: 1 / (k.camera.Scale * p.depth.DX), perPixelY: 1 / (k.camera.Scale * p.depth.DY)}
	return rows(ctx, y0, y1, func(y int) {
		r := lines[y]
		if r.a < 0 {
			return
		}
		for _, run := range p.runs[r.a] {
			x0, x1 := k.pixels(p.depth.Frame, run)
			pix := k.dst.Pix[y*k.dst.Stride+4*x0 : y*k.dst.Stride+4*x1]
			brush.row(pix, columns[x0:x1], [2][]float32{p.depth.Row(int(r.a)), p.depth.Row(int(r.b))}, float64(r.t)/256)
		}
	})
}

// windowRows returns the rows of pixels that show a ground rectangle.
func (k *canvas) windowRows(b orb.Bound) (y0, y1 int) {
	_, top := k.camera.ToScreen(b.Max)
	_, bottom := k.camera.ToScreen(b.Min)
	return int(clampTo(top, k.h)), int(math.Ceil(clampTo(bottom, k.h)))
}

// pixels returns the columns of pixels whose middles lie in a run of cells.
func (k *canvas) pixels(f grid.Frame, r cellRun) (x0, x1 int) {
	left, _ := k.camera.ToScreen(orb.Point{f.West + float64(r.lo)*f.DX, 0})
	right, _ := k.camera.ToScreen(orb.Point{f.West + float64(r.hi)*f.DX, 0})
	return int(math.Ceil(clampTo(left-0.5, k.w))), int(math.Ceil(clampTo(right-0.5, k.w)))
}

// anyWet reports whether water reaches a place between four cells.
func anyWet(four [4]float32) bool {
	return four[0] > 0 || four[1] > 0 || four[2] > 0 || four[3] > 0
}

func (p Pond) steps() (colours [depthSteps]Colour) {
	for i := range colours {
		t := 2 * float64(i) / (depthSteps - 1)
		if t < 1 {
			colours[i] = mix(p.Shallow, p.Middle, t)
		} else {
			colours[i] = mix(p.Middle, p.Deep, t-1)
		}
	}
	return colours
}

// A pondBrush paints one pixel of water.
type pondBrush struct {
	colours [depthSteps]Colour
	shore   Pen
	// perMetre is how many steps of colour there are in a metre of depth.
	perMetre float64
	// perPixel is how many cells wide and high a pixel is.
	perPixelX, perPixelY float64
}

func (b *pondBrush) row(pix []uint8, columns []tap, rows [2][]float32, down float64) {
	top, bottom := rows[0], rows[1]
	for x, c := range columns {
		if c.a < 0 {
			continue
		}
		four := [4]float32{top[c.a], top[c.b], bottom[c.a], bottom[c.b]}
		if anyWet(four) {
			b.paint(pix[4*x:], four, float64(c.t)/256, down)
		}
	}
}

// paint blends the depths of four cells; the distance to the shore is the depth
// over how fast it changes from pixel to pixel. Where one of four cells is wet
// the others are its neighbours, so that all have a depth.
func (b *pondBrush) paint(pix []uint8, four [4]float32, right, down float64) {
	p, q, r, s := float64(four[0]), float64(four[1]), float64(four[2]), float64(four[3])
	top, bottom := p+(q-p)*right, r+(s-r)*right
	depth := top + (bottom-top)*down
	gx := ((q-p)*(1-down) + (s-r)*down) * b.perPixelX
	gy := (bottom - top) * b.perPixelY
	// Most pixels lie clear of the shore, which the squares tell without a root.
	if reach := b.shore.Width/2 + 0.5; depth*depth >= reach*reach*(gx*gx+gy*gy) {
		if depth > 0 {
			blend(pix, b.colour(depth), 255)
		}
		return
	}
	toShore := depth / math.Sqrt(gx*gx+gy*gy)
	if cover := min(1, toShore+0.5); cover > 0 {
		blend(pix, b.colour(depth), uint32(cover*255+0.5))
	}
	if line := b.shore.Width/2 + 0.5 - math.Abs(toShore); line > 0 {
		blend(pix, b.shore.Colour, uint32(min(1, line)*255+0.5))
	}
}

func (b *pondBrush) colour(depth float64) Colour {
	step := int(depth*b.perMetre + 0.5)
	if step < 0 {
		step = 0
	}
	if step >= depthSteps {
		step = depthSteps - 1
	}
	return b.colours[step]
}
