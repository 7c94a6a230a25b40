package runoff

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/internal/raster"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// raiseBarriers raises the cells along kerbs and walls by their height; where
// several meet, by the highest. Drains' beds and culverts' mouths stay open.
//
// A wall stands on the ground under it. A kerb's height is its upstand, over the
// gutter at its foot (common practice, no source).
func (b *builder) raiseBarriers() {
	before := b.Ground.V
	var after []float32
	for _, kind := range []plan.Kind{plan.Kerb, plan.Wall} {
		for _, f := range b.drawn[kind] {
			if after == nil {
				after = append(after, before...)
			}
			if !b.raiseAlong(f, before, after) {
				b.problem(f, "%s lies off the ground; move it onto the ground")
			}
		}
	}
	if after != nil {
		b.Ground.V = after
	}
}

// raiseAlong reports whether the line runs over ground.
func (b *builder) raiseAlong(f plan.Feature, before, after []float32) (found bool) {
	height := float32(f.Num("height"))
	raster.Along(b.Ground.Frame, f.Line(), func(c int32) {
		if b.is(c, unknown) {
			return
		}
		found = true
		if !b.is(c, opened) && height > 0 {
			foot := before[c]
			if f.Kind == plan.Kerb {
				foot = b.foot(c, before, height)
			}
			after[c] = max(after[c], foot+height)
			b.marks[c] |= raised
		}
	})
	return found
}

// foot returns the height at the foot of a kerb in cell c [m].
//
// A survey that shows the verge at the kerb's top has the kerb in it already, and
// it is not raised twice: a step of half to twice the kerb's height, down from c, is
// the kerb itself (common practice, no source), and its foot lies below. Else the
// kerb stands on c, and on a slope it stops what comes from the cell above.
func (b *builder) foot(c int32, z []float32, height float32) float32 {
	f, way, lowest := b.Ground.Frame, -1, z[c]
	x, y := int(c)%f.W, int(c)/f.W
	at := func(steps int) float32 { // that many cells on the way down, NaN off the ground
		if x, y := x+steps*grid.StepX[way], y+steps*grid.StepY[way]; f.In(x, y) {
			return z[y*f.W+x]
		}
		return grid.NoData
	}
	for d, off := range f.StepOffsets() {
		if f.In(x+grid.StepX[d], y+grid.StepY[d]) && z[int(c)+off] < lowest {
			way, lowest = d, z[int(c)+off]
		}
	}
	if way < 0 {
		return z[c]
	}
	slope := lowest - at(2) // what the ground falls in a cell without the step
	if grid.IsNoData(slope) {
		slope = at(-1) - z[c]
	}
	if !(slope > 0) {
		slope = 0
	}
	fall := z[c] - lowest
	if step := fall - slope; step >= height/2 && step <= 2*height {
		return lowest
	}
	return z[c] + min(fall, slope)
}

// storey is how far a building stands above the highest ground under it [m]: one
// storey, which no water on a garden goes over (common practice, no source).
const storey = 3.0

// raiseRoofs raises each building to one level. A drain that runs under one stays
// open.
func (b *builder) raiseRoofs() {
	for _, f := range b.drawn[plan.Roof] {
		var own []int32
		top := float32(math.Inf(-1))
		for _, c := range raster.Within(b.Ground.Frame, f.Area()) {
			if b.is(c, unknown) {
				continue
			}
			own = append(own, c)
			if !b.is(c, roofed) {
				top = max(top, b.Ground.V[c])
			}
		}
		for _, c := range own {
			if !b.is(c, opened) {
				b.Ground.V[c] = max(b.Ground.V[c], top+storey)
			}
			b.marks[c] |= roofed
		}
		b.roofs = append(b.roofs, own)
	}
	b.shareRoofs()
}

// shareRoofs leaves each cell to the roof drawn last over it.
func (b *builder) shareRoofs() {
	taken := make(map[int32]bool)
	for i := len(b.roofs) - 1; i >= 0; i-- {
		var own []int32
		for _, c := range b.roofs[i] {
			if !taken[c] {
				taken[c] = true
				own = append(own, c)
			}
		}
		b.roofs[i] = own
	}
}

// mouth returns the lowest cell with its middle within reach of p [m] that is not
// raised, or the cell of p itself; ok is false off the ground.
func (b *builder) mouth(p orb.Point, reach float64) (cell int32, ok bool) {
	f := b.Ground.Frame
	x0, y0, in := f.Cell(p)
	own := int32(y0*f.W + x0)
	if !in || b.is(own, unknown) {
		return 0, false
	}
	if b.is(own, raised|roofed) { // an inlet in a kerb takes what runs along it
		reach = max(reach, 1.5*math.Hypot(f.DX, f.DY))
	}
	best, least := own, float32(math.Inf(1))
	if !b.is(own, raised|roofed) {
		least = b.Ground.V[own]
	}
	nx, ny := int(reach/f.DX)+1, int(reach/f.DY)+1
	for y := max(0, y0-ny); y <= min(f.H-1, y0+ny); y++ {
		for x := max(0, x0-nx); x <= min(f.W-1, x0+nx); x++ {
			c := int32(y*f.W + x)
			m := f.Centre(x, y)
			if z := b.Ground.V[c]; z < least && !b.is(c, closed) && math.Hypot(m[0]-p[0], m[1]-p[1]) <= reach {
				best, least = c, z
			}
		}
	}
	return best, true
}

// height returns the ground in a cell [m].
func height(g grid.Ground, c int32) float64 { return float64(g.V[c]) }
