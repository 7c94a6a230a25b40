package view

import (
	"context"
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
	"runnel/geo/plan"
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
	for y := range p.runs {
		rows := [3][]float32{p.depth.Row(max(y-1, 0)), p.depth.Row(y), p.depth.Row(min(y+1, p.depth.H-1))}
		var runs []cellRun
		for x := range p.depth.W {
			if !(rows[0][x] > 0 || rows[1][x] > 0 || rows[2][x] > 0) {
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
	}
}

// holds reports whether a ground point lies in the pond.
func (p pond) holds(at orb.Point) bool {
	x, y, ok := p.depth.Cell(at)
	return ok && p.depth.At(x, y) > 0
}

// newPond continues the water's level over the dry cells beside it: what the
// ground rises above the level is depth below nought.
func newPond(wet, ground grid.Ground) pond {
	p := pond{depth: wet.Clone()}
	known := ground.Frame == wet.Frame
	for y := range wet.H {
		for x, depth := range wet.Row(y) {
			if !grid.IsNoData(depth) {
				p.deepest = max(p.deepest, float64(depth))
				p.include(x, y)
				continue
			}
			p.depth.Set(x, y, shoreDepth(wet, ground, [2]int{x, y}, known))
		}
	}
	p.findRuns()
	return p
}

func (p *pond) include(x, y int) {
	c := p.depth.Centre(x, y)
	cell := orb.Bound{Min: orb.Point{c[0] - p.depth.DX, c[1] - p.depth.DY}, Max: orb.Point{c[0] + p.depth.DX, c[1] + p.depth.DY}}
	if p.bound.IsZero() {
		p.bound = cell
		return
	}
	p.bound = p.bound.Union(cell)
}

// shoreDepth returns the depth below nought of a dry cell, NaN away from water.
func shoreDepth(wet, ground grid.Ground, cell [2]int, known bool) float32 {
	level, deepest := math.Inf(-1), math.Inf(-1)
	for d := range grid.StepX {
		x, y := cell[0]+grid.StepX[d], cell[1]+grid.StepY[d]
		if !wet.In(x, y) || grid.IsNoData(wet.At(x, y)) {
			continue
		}
		depth := float64(wet.At(x, y))
		deepest = max(deepest, depth)
		if known {
			level = max(level, float64(ground.At(x, y))+depth)
		}
	}
	if math.IsInf(deepest, -1) {
		return grid.NoData
	}
	if own := ground; known && !grid.IsNoData(own.At(cell[0], cell[1])) {
		return float32(min(-0.002, level-float64(own.At(cell[0], cell[1]))))
	}
	return float32(-max(deepest, 0.01))
}

// leastCut is the depth [m] from which a cut is drawn; less is within what a
// survey can tell.
const leastCut = 0.015

// newCut returns how far the proposed ground lies below the ground; it is empty
// where nothing is dug.
func newCut(ground, proposed grid.Ground) pond {
	if ground.Frame != proposed.Frame || ground.Len() == 0 || &ground.V[0] == &proposed.V[0] {
		return pond{}
	}
	dug := grid.New[float32](ground.Frame)
	for i, was := range ground.V {
		dug.V[i] = was - proposed.V[i]
	}
	p := pond{depth: grid.New[float32](ground.Frame)}
	for y := range dug.H {
		for x, depth := range dug.Row(y) {
			if depth > leastCut {
				p.deepest = max(p.deepest, float64(depth))
				p.include(x, y)
			} else {
				depth = beyond(dug, x, y)
			}
			p.depth.Set(x, y, depth)
		}
	}
	if p.deepest == 0 {
		return pond{}
	}
	p.findRuns()
	return p
}

// beyond continues the banks of a cut over a cell beside it, straight on from
// the two cells before, so that the line along which the bank meets the ground
// is found between cells.
func beyond(dug grid.Ground, x, y int) float32 {
	var sum, n float32
	for d := range grid.StepX {
		x1, y1 := x+grid.StepX[d], y+grid.StepY[d]
		x2, y2 := x1+grid.StepX[d], y1+grid.StepY[d]
		if !dug.In(x2, y2) {
			continue
		}
		if near, far := dug.At(x1, y1), dug.At(x2, y2); near > leastCut && far > near {
			sum, n = sum+2*near-far, n+1
		}
	}
	if n == 0 {
		return -leastCut
	}
	return min(sum/n, -0.001)
}

// drawCut tints what is dug and draws the line along which digging starts.
func (k *canvas) drawCut(ctx context.Context, p pond) error {
	s := k.look.Kinds[plan.Channel]
	return k.drawPond(ctx, p, Pond{Shallow: s.Body, Middle: s.Body, Deep: s.Body, Shore: s.Edge})
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
