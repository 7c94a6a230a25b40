package channel

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Barrier is the water round an island, which keeps running plants on it or off
// it as long as it stands there.
type Barrier struct {
	ID    plan.ID
	Title string
	// Closed is set where water stands all round, looked for every roundStep.
	Closed bool
	// Narrowest is the least way over water from the island's shore to any other
	// [m], Shallowest the depth at the deepest across it, where that is least [m].
	// Both are nought where it is not closed, at a place where no water stands, and
	// the narrowest is NaN where no other shore is known.
	Narrowest, Shallowest float64
	NarrowAt, ShallowAt   orb.Point
}

// The water round an island is looked for every roundStep along its outline, and
// followed outward in steps of outwardStep [m].
const (
	roundStep   = 0.25
	outwardStep = 0.05
)

// yearDays is how many days a year has.
const yearDays = 365

// DryDays returns on how many days in a year an island's moat stands dry, if it
// does so as soon as the drain that feeds it stops, which runs on some days.
func (b Barrier) DryDays(run geo.Range) geo.Range {
	return geo.Range{Low: max(0, yearDays-run.High), Likely: max(0, yearDays-run.Likely), High: max(0, yearDays-run.Low)}
}

// Barriers looks at the water round every island.
func (n *Network) Barriers() []Barrier {
	var all []Barrier
	for i, f := range n.islands {
		b := Barrier{ID: f.ID, Title: f.Title(), Closed: true, Narrowest: math.Inf(1), Shallowest: math.Inf(1)}
		n.goRound(i, &b)
		b.Narrowest = ifFinite(b.Narrowest, math.NaN())
		all = append(all, b)
	}
	return all
}

// goRound follows the water outward from all round an island.
func (n *Network) goRound(i int, b *Barrier) {
	var near, far []orb.Point
	n.outward(i, func(from orb.Point, dx, dy, level float64) {
		w := n.passage(from, dx, dy, level)
		switch {
		case !b.Closed:
		case w.depth <= leastDepth:
			*b = Barrier{ID: b.ID, Title: b.Title, NarrowAt: from, ShallowAt: from}
		case w.depth < b.Shallowest:
			b.Shallowest, b.ShallowAt = w.depth, w.deepest
		}
		near = append(near, w.near)
		if w.ends {
			far = append(far, w.far)
		}
	})
	for _, p := range near {
		for _, q := range far {
			if d := planar.Distance(p, q); b.Closed && d < b.Narrowest {
				b.Narrowest, b.NarrowAt = d, orb.Point{(p[0] + q[0]) / 2, (p[1] + q[1]) / 2}
			}
		}
	}
}

// outward calls visit with places all round an island, the way outward from each,
// and the level of the water there [m].
func (n *Network) outward(i int, visit func(from orb.Point, dx, dy, level float64)) {
	r := &n.reaches[i]
	for k := r.first; k < r.end; k++ {
		s := &n.segs[k]
		count := math.Ceil(s.length / roundStep)
		for j := 0.0; j < count; j++ {
			along := (j + 0.5) * s.length / count
			visit(s.place(along), s.uy, -s.ux, s.level(along))
		}
		sweep := turnOf(s.turnB)
		for steps, j := math.Ceil(sweep/(math.Pi/12)), 0.0; j <= steps && sweep > 0; j++ {
			sin, cos := math.Sincos(sweep * j / steps)
			visit(s.b, s.uy*cos+s.ux*sin, s.uy*sin-s.ux*cos, s.level(s.length))
		}
	}
}

// A passage is the water met on the way out from an island: its two shores, its
// greatest depth [m] and where that is. It ends where there is a far shore.
type passage struct {
	near, far, deepest orb.Point
	depth              float64
	ends               bool
}

// passage follows the way out from an island over the first water on it; what lies
// beyond the cut next to the island is not its water.
func (n *Network) passage(from orb.Point, dx, dy, level float64) passage {
	var w passage
	place := func(out float64) orb.Point { return orb.Point{from[0] + out*dx, from[1] + out*dy} }
	before, dug := math.NaN(), false
	for out := onset; out < farthest; out += outwardStep {
		p := place(out)
		depth := level - n.Proposed(p)
		shore := p
		if before*depth < 0 {
			shore = place(out - outwardStep*depth/(depth-before))
		}
		switch wet := depth > 0; {
		case wet && w.depth == 0:
			w.near = shore
		case !wet && w.depth > 0:
			w.far, w.ends = shore, !math.IsNaN(depth)
			return w
		}
		if depth > w.depth {
			w.depth, w.deepest = depth, p
		}
		cut := n.cut(p)
		if dug && !cut && w.depth == 0 {
			return w
		}
		dug, before = dug || cut, depth
	}
	return w
}

// cut reports whether the ground is dug at a place.
func (n *Network) cut(p orb.Point) bool {
	z, ok := n.Surface(p)
	return ok && z < grid.Sample(n.ground, p)
}
