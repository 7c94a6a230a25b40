package storm_test

import (
	"cmp"
	"context"
	"math"
	"slices"

	"runnel/analysis/flow"
	"runnel/analysis/storm"
	"runnel/geo/grid"
)

// A twin rains on a ground one parcel of water after another, and knows neither
// tree nor stations: a parcel runs down from cell to cell, and the pond that it
// comes to rises by it, over its own cells one by one, to the lowest place where
// it gets out; ponds that stand on both sides of that place become one.
type twin struct {
	g     grid.Ground
	fall  grid.Grid[grid.Dir]
	pit   []int32 // of the basin that each cell falls to; -1 off the ground
	pond  map[int32]*pond
	ways  []flow.Way
	links []storm.Link
	spare []float64
	busy  []bool
	soak  []float64 // what each cell still takes in [m]

	left   map[int32]float64
	linked []float64
	soaked float64
}

type pond struct {
	pits  []int32
	level float64
}

func newTwin(f *flow.Flow, links []storm.Link) *twin {
	n := f.Ground.Len()
	w := &twin{
		g: f.Ground, fall: f.Fall, links: links, pit: make([]int32, n), soak: make([]float64, n), pond: map[int32]*pond{},
		ways: f.Basins.Way, left: map[int32]float64{}, spare: make([]float64, len(links)), busy: make([]bool, len(links)), linked: make([]float64, len(links)),
	}
	for k, l := range links {
		w.spare[k] = l.Capacity
	}
	for c := range w.pit {
		at, _ := w.down(int32(c))
		w.pit[c] = -1
		if f.Fall.V[at] == grid.Stay {
			w.pit[c] = at
			w.pond[at] = &pond{[]int32{at}, float64(f.Ground.V[at])}
		}
	}
	return w
}

// step goes down one cell; ok is false at a pit and where the water leaves.
func (w *twin) step(c int32) (n int32, ok bool) {
	d := w.fall.V[c]
	if d > 7 {
		return c, false
	}
	if n, ok := w.neighbour(c, int(d)); ok {
		return n, true
	}
	return c, false
}

// neighbour returns the cell in direction d, if it has a height.
func (w *twin) neighbour(c int32, d int) (n int32, ok bool) {
	x, y := int(c)%w.g.W+grid.StepX[d], int(c)/w.g.W+grid.StepY[d]
	if !w.g.In(x, y) || grid.IsNoData(w.g.At(x, y)) {
		return c, false
	}
	return int32(y*w.g.W + x), true
}

// run lets v run down from cell c.
func (w *twin) run(c int32, v float64) {
	for ok := true; ok; {
		for k, l := range w.links {
			if w.swallows(l, c) {
				v -= w.through(k, v)
			}
		}
		if v <= 0 {
			return
		}
		if n, down := w.step(c); down {
			c = n
			continue
		}
		ok = false
	}
	if w.pit[c] < 0 {
		w.left[c] += v
		return
	}
	w.rise(w.pond[w.pit[c]], v)
}

// swallows reports whether a link takes in what runs over c.
func (w *twin) swallows(l storm.Link, c int32) bool {
	return l.From == c && l.Level <= float64(w.g.V[c])
}

// down returns where the water of c ends, and the first link that it runs over or -1.
func (w *twin) down(c int32) (end int32, link int) {
	link = -1
	for ok := true; ok; {
		if link < 0 {
			link = slices.IndexFunc(w.links, func(l storm.Link) bool { return w.swallows(l, c) })
		}
		c, ok = w.step(c)
	}
	return c, link
}

// through sends what it can of v through link k, and returns how much that is.
func (w *twin) through(k int, v float64) float64 {
	if w.busy[k] {
		w.spare[k] = 0
	}
	v = min(v, w.spare[k])
	if v <= 0 {
		return 0
	}
	w.spare[k] -= v
	w.linked[k] += v
	if to := w.links[k].To; to >= 0 {
		w.busy[k] = true
		w.run(to, v)
		w.busy[k] = false
	}
	return v
}

// A way is a place where a pond gets out: over a pass from one cell to another, off
// the ground, or into a link.
type way struct {
	height   float64
	cell     int32 // the higher of the two
	rank     int
	from, to int32
	link     int
}

// out returns the lowest way out of a pond, a link before others. Where three ponds
// meet in one cell it is the routing that says which of two ways is taken.
func (w *twin) out(p *pond) way {
	var all []way
	for c := range w.pit {
		c := int32(c)
		if !slices.Contains(p.pits, w.pit[c]) {
			continue
		}
		z := float64(w.g.V[c])
		for d := range 8 {
			n, ok := w.neighbour(c, d)
			switch {
			case !ok:
				all = append(all, way{z, c, w.rank(c, -1), c, -1, -1})
			case slices.Contains(p.pits, w.pit[n]):
			case w.g.V[n] > w.g.V[c]:
				all = append(all, way{float64(w.g.V[n]), n, w.rank(c, n), c, n, -1})
			default:
				all = append(all, way{z, c, w.rank(c, n), c, n, -1})
			}
		}
		for k, l := range w.links {
			if l.From == c && w.spare[k] > 0 {
				all = append(all, way{max(z, l.Level), -1, 0, c, -1, k})
			}
		}
	}
	return slices.MinFunc(all, func(a, b way) int {
		return cmp.Or(cmp.Compare(a.height, b.height), cmp.Compare(a.cell, b.cell), cmp.Compare(a.rank, b.rank), cmp.Compare(a.link, b.link))
	})
}

// rank is where a step over a pass comes among those that the routing took.
func (w *twin) rank(from, to int32) int {
	is := func(way flow.Way) bool {
		return way.From == from && way.To == to || way.From == to && way.To == from
	}
	if i := slices.IndexFunc(w.ways, is); i >= 0 {
		return i
	}
	return len(w.ways)
}

// rise lets a pond rise by v, and what is more run on.
func (w *twin) rise(p *pond, v float64) {
	for v > 0 {
		o := w.out(p)
		if v = w.fill(p, o.height, v); v <= 0 {
			return
		}
		switch {
		case o.link >= 0:
			v -= w.through(o.link, v)
			p = w.pond[p.pits[0]] // the water that went through may have joined it to another
		case o.to < 0:
			w.left[o.from] += v
			return
		case !w.meets(p, o):
			w.run(o.to, v)
			return
		default:
			joined := &pond{append(slices.Clone(p.pits), w.pond[w.pit[o.to]].pits...), o.height}
			for _, pit := range joined.pits {
				w.pond[pit] = joined
			}
			p = joined
		}
	}
}

// meets reports whether a pond stands at way o of pond p, and would come over it.
func (w *twin) meets(p *pond, o way) bool {
	if w.pit[o.to] < 0 {
		return false
	}
	other := w.pond[w.pit[o.to]]
	if other.level < o.height {
		return false
	}
	back := w.out(other)
	return back.to >= 0 && slices.Contains(p.pits, w.pit[back.to])
}

// fill brings a pond up to a height, if v is enough, and returns what is left.
func (w *twin) fill(p *pond, height, v float64) float64 {
	var cells []int32
	for c, pit := range w.pit {
		if slices.Contains(p.pits, pit) && float64(w.g.V[c]) < height {
			cells = append(cells, int32(c))
		}
	}
	slices.SortFunc(cells, func(a, b int32) int { return cmp.Compare(w.g.V[a], w.g.V[b]) })
	area := w.g.CellArea()
	for i := range len(cells) + 1 {
		next := height
		if i < len(cells) {
			next = float64(w.g.V[cells[i]])
		}
		if need := float64(i) * (next - p.level) * area; next > p.level {
			if v < need {
				p.level += v / area / float64(i)
				return 0
			}
			v -= need
			p.level = next
		}
		if i < len(cells) {
			into := min(v, w.soak[cells[i]]*area)
			w.soak[cells[i]] -= into / area
			w.soaked += into
			v -= into
		}
		if v <= 0 {
			return 0
		}
	}
	return v
}

// depth returns the depth of water on each cell [m].
func (w *twin) depth() []float64 {
	depth := make([]float64, len(w.pit))
	for c, pit := range w.pit {
		if pit >= 0 {
			depth[c] = max(w.pond[pit].level-float64(w.g.V[c]), 0)
		}
	}
	return depth
}

// same reports where a model's answer differs from the twin's.
func (w *twin) same(t fataler, got *storm.Result) {
	t.Helper()
	for c, want := range w.depth() {
		depth := float64(got.Depth.V[c])
		if math.IsNaN(depth) {
			depth = 0
		}
		if math.Abs(depth-want) > 1e-5 {
			t.Fatalf("cell %d stands %g m deep, want %g\n%s", c, depth, want, grid.Print(w.g))
		}
	}
	left := map[int32]float64{}
	for _, e := range got.Left {
		left[e.Cell] = e.Volume
	}
	for c := range int32(w.g.Len()) {
		if math.Abs(left[c]-w.left[c]) > 1e-9 {
			t.Fatalf("%g m³ left from cell %d, want %g\n%s", left[c], c, w.left[c], grid.Print(w.g))
		}
	}
	for k, want := range w.linked {
		if math.Abs(got.Linked[k]-want) > 1e-9 {
			t.Fatalf("%g m³ went through link %d, want %g\n%s", got.Linked[k], k, want, grid.Print(w.g))
		}
	}
}

func route(t fataler, ground grid.Ground) *flow.Flow {
	t.Helper()
	f, err := flow.Route(context.Background(), ground, flow.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return f
}
