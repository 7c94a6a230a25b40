package fate

import (
	"math"

	"github.com/paulmach/orb/planar"

	"runnel/analysis/flow"
	"runnel/geo/grid"
)

// leastShare is what must get through of the water of a way that counts as the
// longest.
const leastShare = 0.5

// takeWays finds the longest way into each course. Ways begin on the ground and not
// on what is built.
func (g *gatherer) takeWays() {
	w := wayfinder{gatherer: g, length: make([]float32, len(g.entry)), culvert: make([]float64, len(g.surface.Links))}
	f := g.flow.Fall.Frame
	for d := range w.step {
		w.step[d] = math.Hypot(float64(grid.StepX[d])*f.DX, float64(grid.StepY[d])*f.DY)
	}
	for i, l := range g.surface.Links {
		if drawn, ok := g.site.Plan.Find(l.Feature); ok && l.To >= 0 {
			w.culvert[i] = planar.Length(drawn.Line())
		}
	}
	for i := range w.length {
		w.length[i] = unmeasured
	}
	longest := make([]int32, len(g.all))
	for c := range int32(len(g.entry)) {
		l := g.of(c)
		if l.course < 0 || l.share < leastShare || g.surface.Built(c) {
			continue
		}
		if d := w.measure(c); d > float32(g.all[l.course].Length) {
			g.all[l.course].Length, longest[l.course] = float64(d), c
		}
	}
	for i := range g.all {
		if g.all[i].Length > 0 {
			g.all[i].Fall = max(0, g.height(longest[i])-g.height(w.last(longest[i])))
		}
	}
}

// height is that of the ground in a cell, or of the water that stands on it [m].
func (g *gatherer) height(c int32) float64 {
	z := float64(g.surface.Ground.V[c])
	if g.wet.Len() > 0 && g.wet.V[c] > 0 {
		z += float64(g.wet.V[c])
	}
	return z
}

// A wayfinder measures the ways of water from cells to the courses.
type wayfinder struct {
	*gatherer
	length  []float32  // of the way from each cell [m]
	step    [8]float64 // from a cell to the next in each direction [m]
	culvert []float64  // of each link [m]
	way     []leg
}

// A leg is a cell on a way and how far it is to the next [m].
type leg struct {
	cell int32
	long float32
}

const (
	unmeasured = float32(-1)
	underway   = float32(-2)
)

// measure returns how far it is from a cell to its course.
func (w *wayfinder) measure(c int32) float32 {
	if w.length[c] >= 0 {
		return w.length[c]
	}
	w.way = w.way[:0]
	far := float32(0)
	for at := c; ; {
		if far = w.length[at]; far != unmeasured {
			break
		}
		w.length[at] = underway
		next, long, ok := w.onward(at)
		if !ok {
			w.length[at], far = 0, 0
			break
		}
		w.way = append(w.way, leg{at, float32(long)})
		at = next
	}
	far = max(far, 0) // a ring ends where it closes
	for i := len(w.way) - 1; i >= 0; i-- {
		far += w.way[i].long
		w.length[w.way[i].cell] = far
	}
	return far
}

// onward returns the cell that water goes on to on its way to a course, by full
// hollows and by culverts, and how far off that is.
func (w *wayfinder) onward(c int32) (next int32, long float64, ok bool) {
	dir, at := w.flow.Fall, w.entry[c]
	if at >= w.hollows {
		dir = w.flow.Dir
	}
	if next, ok = flow.Next(dir, c); ok {
		return next, w.step[dir.V[c]], true
	}
	if at >= w.links && at < w.hollows && w.surface.Links[at-w.links].To >= 0 {
		next = w.surface.Links[at-w.links].To
		return next, max(w.culvert[at-w.links], planar.Distance(w.centre(c), w.centre(next))), true
	}
	return c, 0, false
}

// last returns the cell where the way from a cell comes to its course.
func (w *wayfinder) last(c int32) int32 {
	for range len(w.entry) {
		next, _, ok := w.onward(c)
		if !ok {
			break
		}
		c = next
	}
	return c
}
