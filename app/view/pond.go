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
	columns, rows := k.columns(p.depth.Frame), k.lines(p.depth.Frame)
	x0, x1, y0, y1 := k.window(p.bound)
	// Seen from far, where a cell is less than a pixel, the shores of one
	// channel would hide its water.
	look.Shore.Width *= max(0.45, min(1, k.camera.Scale*p.depth.DX/k.px))
	brush := pondBrush{colours: look.steps(), shore: look.Shore, deepest: p.deepest,
		perPixelX: 1 / (k.camera.Scale * p.depth.DX), perPixelY: 1 / (k.camera.Scale * p.depth.DY)}
	for y := y0; y < y1; y++ {
		if y%pollRows == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if r := rows[y]; r.a >= 0 {
			pix := k.dst.Pix[y*k.dst.Stride+4*x0 : y*k.dst.Stride+4*x1]
			brush.row(pix, columns[x0:x1], [2][]float32{p.depth.Row(int(r.a)), p.depth.Row(int(r.b))}, float64(r.t)/256)
		}
	}
	return nil
}

// window returns the pixels that show a ground rectangle.
func (k *canvas) window(b orb.Bound) (x0, x1, y0, y1 int) {
	left, top := k.camera.ToScreen(orb.Point{b.Min[0], b.Max[1]})
	right, bottom := k.camera.ToScreen(orb.Point{b.Max[0], b.Min[1]})
	return int(clampTo(left, k.w)), int(math.Ceil(clampTo(right, k.w))),
		int(clampTo(top, k.h)), int(math.Ceil(clampTo(bottom, k.h)))
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
	deepest float64
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
// over how fast it changes from pixel to pixel.
func (b *pondBrush) paint(pix []uint8, four [4]float32, right, down float64) {
	deep := b.level(four)
	p, q, r, s := deep[0], deep[1], deep[2], deep[3]
	top, bottom := p+(q-p)*right, r+(s-r)*right
	depth := top + (bottom-top)*down
	gx := ((q-p)*(1-down) + (s-r)*down) * b.perPixelX
	gy := (bottom - top) * b.perPixelY
	toShore := depth / max(math.Hypot(gx, gy), 1e-9)
	if toShore < -b.shore.Width {
		return
	}
	if cover := min(1, toShore+0.5); cover > 0 && depth > -1e-6 {
		share := min(1, max(depth, 0)/b.deepest)
		blend(pix, b.colours[int(share*(depthSteps-1)+0.5)], uint32(cover*255+0.5))
	}
	if line := b.shore.Width/2 + 0.5 - math.Abs(toShore); line > 0 {
		blend(pix, b.shore.Colour, uint32(min(1, line)*255+0.5))
	}
}

// level gives cells away from the shore, whose depth is not known, that of the
// driest neighbour.
func (b *pondBrush) level(four [4]float32) (deep [4]float64) {
	driest := math.Inf(1)
	for _, v := range four {
		if !grid.IsNoData(v) {
			driest = min(driest, float64(v))
		}
	}
	for i, v := range four {
		deep[i] = float64(v)
		if grid.IsNoData(v) {
			deep[i] = min(driest, -0.002)
		}
	}
	return deep
}
