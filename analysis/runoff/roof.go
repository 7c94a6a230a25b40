package runoff

import (
	"maps"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/internal/heap"
	"runnel/analysis/internal/raster"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// standsAt is how far from a roof a downpipe still belongs to it [m].
const standsAt = 1.5

// A pipe is a downpipe and the cell where its water is put on the ground.
type pipe struct {
	at   orb.Point
	cell int32
}

// drainRoofs puts the roofs' water on the ground. Each part of a roof drains to
// the downpipe nearest to it; where the roof has none, it sheds to the ground
// nearest to it outside the buildings. A downpipe inside a building, or on a wall,
// is moved to the nearest ground too.
func (b *builder) drainRoofs() {
	if len(b.drawn[plan.Roof]) == 0 && len(b.drawn[plan.Downpipe]) == 0 {
		return
	}
	outside := b.outside()
	pipes := b.pipes(outside)
	for i, f := range b.drawn[plan.Roof] {
		s := b.roof(f, b.roofs[i])
		into := make(map[int32]float64)
		for _, c := range s.Cells {
			if to := b.shed(c, pipes[f.ID], outside); to >= 0 {
				into[to]++
			}
		}
		if len(s.Cells) == 0 { // smaller than a cell
			b.shedSmall(f, pipes[f.ID], outside, into)
		}
		if len(into) == 0 {
			b.problem(f, "%s lies off the ground, or has no ground beside it; move it onto the ground")
			continue
		}
		s.Outlet, s.Share = shares(into)
		b.Sources = append(b.Sources, s)
		for k, c := range s.Outlet {
			b.Weight[c] += s.Area * s.Coefficient * s.Share[k] / b.Ground.CellArea()
		}
	}
}

// roof returns the source that a roof is, with no outlets yet. Of an outline
// that reaches off the ground or under another roof only the rest counts.
func (b *builder) roof(f plan.Feature, own []int32) Source {
	s := Source{Feature: f.ID, Cells: own, Coefficient: f.Num("runoff")}
	area := f.Area()
	if sheet := b.Ground.Bound(); !sheet.Contains(area.Bound().Min) || !sheet.Contains(area.Bound().Max) {
		area = clip.Polygon(sheet, area.Clone())
	}
	s.Area = math.Abs(planar.Area(area))
	if all := len(raster.Within(b.Ground.Frame, f.Area())); all > 0 {
		s.Area *= float64(len(own)) / float64(all)
	}
	return s
}

// shed returns the cell to which a roof's cell drains; -1 where there is none.
func (b *builder) shed(c int32, pipes []pipe, outside []int32) int32 {
	if len(pipes) == 0 {
		return outside[c]
	}
	f := b.Ground.Frame
	return nearestPipe(f.Centre(int(c)%f.W, int(c)/f.W), pipes).cell
}

func nearestPipe(p orb.Point, pipes []pipe) pipe {
	best, least := pipes[0], math.Inf(1)
	for _, q := range pipes {
		if d := planar.Distance(p, q.at); d < least {
			best, least = q, d
		}
	}
	return best
}

// shedSmall drains a roof that holds no cell's middle, all at one place.
func (b *builder) shedSmall(f plan.Feature, pipes []pipe, outside []int32, into map[int32]float64) {
	middle, _ := planar.CentroidArea(f.Area())
	if len(pipes) > 0 {
		into[nearestPipe(middle, pipes).cell] = 1
		return
	}
	if c, ok := b.put(middle, outside); ok {
		into[c] = 1
	}
}

// put returns the cell where water that comes down at p is put on the ground.
func (b *builder) put(p orb.Point, outside []int32) (cell int32, ok bool) {
	x, y, in := b.Ground.Cell(p)
	if !in {
		return 0, false
	}
	c := int32(y*b.Ground.W + x)
	if b.is(c, unknown) {
		return 0, false
	}
	if b.is(c, closed) {
		c = outside[c]
	}
	return c, c >= 0
}

// pipes lists each roof's downpipes, by its number.
func (b *builder) pipes(outside []int32) map[plan.ID][]pipe {
	of := make(map[plan.ID][]pipe)
	for _, f := range b.drawn[plan.Downpipe] {
		cell, ok := b.put(f.Point(), outside)
		if !ok {
			b.problem(f, "%s lies off the ground; move it onto the ground beside its roof")
			continue
		}
		var roof plan.ID
		least := standsAt
		for _, r := range b.drawn[plan.Roof] {
			if d := plan.Distance(r.Geometry, f.Point()); d < least || d == least && roof == 0 {
				roof, least = r.ID, d
			}
		}
		if roof == 0 {
			b.problem(f, "%s stands at no roof; move it to within 1.5 m of the roof that it drains")
			continue
		}
		of[roof] = append(of[roof], pipe{f.Point(), cell})
	}
	return of
}

// shares returns the cells of a tally in rising order, each with its share.
func shares(tally map[int32]float64) (cells []int32, share []float64) {
	total := 0.0
	for _, c := range slices.Sorted(maps.Keys(tally)) {
		cells, share, total = append(cells, c), append(share, tally[c]), total+tally[c]
	}
	for i := range share {
		share[i] /= total
	}
	return cells, share
}

// outside returns, for each cell under a building or a wall, the nearest open
// cell; -1 where there is none, and for the open cells themselves. A wave goes in
// from the eaves, nearest first, and each cell takes the open one of the neighbour
// that it came by: the nearest, or within a cell of it round a corner.
func (b *builder) outside() []int32 {
	w := wave{b: b, nearest: make([]int32, len(b.marks))}
	for c := range w.nearest {
		w.nearest[c] = -1
	}
	for c := range int32(len(b.marks)) {
		if b.marks[c]&(roofed|raised) != 0 {
			w.around(c, func(n int32) {
				if !b.is(n, closed) {
					w.reach(c, n)
				}
			})
		}
	}
	for w.queue.Len() > 0 {
		c := w.queue.Pop()
		w.around(c, func(n int32) { w.reach(n, w.nearest[c]) })
	}
	return w.nearest
}

type wave struct {
	b       *builder
	queue   heap.Queue
	nearest []int32
}

// reach lets cell c have the open cell from, where it is nearer than what c has.
func (w *wave) reach(c, from int32) {
	if !w.b.is(c, roofed|raised) || w.b.is(c, unknown) {
		return
	}
	d := apart(w.b.Ground.Frame, c, from)
	if old := w.nearest[c]; old == from || old >= 0 && d >= apart(w.b.Ground.Frame, c, old) {
		return
	}
	w.nearest[c] = from
	w.queue.Push(float32(d), c)
}

// around visits the neighbours of a cell.
func (w *wave) around(c int32, visit func(n int32)) {
	f := w.b.Ground.Frame
	x, y := int(c)%f.W, int(c)/f.W
	for d := range grid.StepX {
		if nx, ny := x+grid.StepX[d], y+grid.StepY[d]; f.In(nx, ny) {
			visit(int32(ny*f.W + nx))
		}
	}
}

// apart returns the distance between the middles of two cells [m].
func apart(f grid.Frame, a, b int32) float64 {
	dx, dy := float64(int(a)%f.W-int(b)%f.W)*f.DX, float64(int(a)/f.W-int(b)/f.W)*f.DY
	return math.Sqrt(dx*dx + dy*dy)
}
