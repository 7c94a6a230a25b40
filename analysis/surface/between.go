package surface

import (
	"cmp"
	"math"
	"slices"
)

// between says how low and how high a cell may be [m above the datum].
type between struct{ lo, hi float32 }

var inf = float32(math.Inf(1))

// A crossed is a link that contours cross: levels first and last from cell at to
// the next one east or, where down is set, south.
type crossed struct {
	at          int32
	down        bool
	first, last int32
}

// A region is the cells that can be walked between without crossing a contour. lo
// and hi are the outermost levels on its border; above and below say that the
// contour's other side was found to be its lower or its higher one.
type region struct {
	lo, hi       int32
	above, below bool
	spots        between
}

// between returns what the contours say of each cell by not being drawn there: a
// region's heights lie between the levels on its border, and a top's or a floor's
// within one interval of its own.
func (p *problem) between() []between {
	links := p.crossed()
	root := p.regions(links)
	of := make(map[int32]*region)
	at := func(cell int32) *region {
		r := of[root[cell]]
		if r == nil {
			r = &region{lo: math.MaxInt32, hi: -1, spots: between{inf, -inf}}
			of[root[cell]] = r
		}
		return r
	}
	for _, l := range links {
		at(l.at).touch(l.first)
		at(l.other(p.w)).touch(l.last)
	}
	for _, l := range links {
		if l.first == l.last {
			at(l.at).beside(at(l.other(p.w)), l.first)
			at(l.other(p.w)).beside(at(l.at), l.first)
		}
	}
	p.allowPins(at)
	out := make([]between, p.w*p.h)
	for i := range out {
		out[i] = between{-inf, inf}
		if r := of[root[i]]; r != nil {
			out[i] = r.between(p.levels, p.interval)
		}
	}
	return out
}

func (c crossed) other(w int) int32 {
	if c.down {
		return c.at + int32(w)
	}
	return c.at + 1
}

func (r *region) touch(level int32) { r.lo, r.hi = min(r.lo, level), max(r.hi, level) }

// beside notes on which side of its only level a region is, by the region o across.
func (r *region) beside(o *region, level int32) {
	if r.lo != level || r.hi != level {
		return
	}
	r.above = r.above || o.lo == level-1 && o.hi == level
	r.below = r.below || o.hi == level+1 && o.lo == level
}

func (r *region) between(levels []float64, interval float64) between {
	if r.hi < 0 {
		return between{-inf, inf}
	}
	lo, hi := levels[r.lo], levels[r.hi]
	if r.hi-r.lo != 1 {
		if !r.above || r.below {
			lo -= interval
		}
		if !r.below || r.above {
			hi += interval
		}
	}
	return between{min(float32(lo), r.spots.lo), max(float32(hi), r.spots.hi)}
}

// allowPins widens regions to the other heights that were measured in them.
func (p *problem) allowPins(at func(int32) *region) {
	for _, q := range p.pins {
		x, y := min(max(int(math.Round(q.x)), 0), p.w-1), min(max(int(math.Round(q.y)), 0), p.h-1)
		if q.level > 0 {
			continue
		}
		r := at(int32(y*p.w + x))
		r.spots.lo, r.spots.hi = min(r.spots.lo, float32(q.z)), max(r.spots.hi, float32(q.z))
	}
}

// crossed returns the links that contours cross, each once.
func (p *problem) crossed() []crossed {
	type crossing struct {
		link  int64
		t     float64
		level int32
	}
	var cs []crossing
	for _, c := range p.contours {
		for i := 1; i < len(c.at); i++ {
			crossings(c.at[i-1], c.at[i], p.w, p.h, func(at int, down bool, t float64) {
				link := 2 * int64(at)
				if down {
					link++
				}
				cs = append(cs, crossing{link, t, c.level})
			})
		}
	}
	slices.SortFunc(cs, func(a, b crossing) int {
		return cmp.Or(cmp.Compare(a.link, b.link), cmp.Compare(a.t, b.t), cmp.Compare(a.level, b.level))
	})
	var out []crossed
	for i := 0; i < len(cs); {
		j := i
		for j < len(cs) && cs[j].link == cs[i].link {
			j++
		}
		out = append(out, crossed{int32(cs[i].link / 2), cs[i].link%2 == 1, cs[i].level, cs[j-1].level})
		i = j
	}
	return out
}

// regions numbers each cell by the first one of its region.
func (p *problem) regions(links []crossed) []int32 {
	walls := p.fenced(links)
	root := make(roots, p.w*p.h)
	for i := range root {
		root[i] = int32(i)
	}
	for at := range root {
		if at%p.w < p.w-1 && !walls.east[at] {
			root.join(int32(at), int32(at+1))
		}
		if at+p.w < len(root) && !walls.south[at] {
			root.join(int32(at), int32(at+p.w))
		}
	}
	for i := range root {
		root[i] = root.find(int32(i))
	}
	return root
}

// roots are a forest of cells: each leads to one before it, and a tree's first to
// itself.
type roots []int32

func (r roots) find(i int32) int32 {
	for r[i] != i {
		r[i] = r[r[i]]
		i = r[i]
	}
	return i
}

func (r roots) join(a, b int32) {
	a, b = r.find(a), r.find(b)
	r[max(a, b)] = min(a, b)
}
