package route

import (
	"math"

	"runnel/analysis/pool"
)

// tail is the level that a way passes water to.
func (r *router) tail(w *way, s *state) float64 {
	switch {
	case w.To >= 0 && !r.pools[w.from].Drain && !r.pools[w.To].Drain:
		return s.looks[w.To].level
	case w.Kind == pool.Mouth && r.running:
		return known(r.pools[w.from].Running)
	}
	return math.Inf(-1)
}

// known takes a level that is not known for one below all.
func known(level float64) float64 {
	if math.IsNaN(level) {
		return math.Inf(-1)
	}
	return level
}

// look works out all that follows from the volumes of a state at a time.
func (r *router) look(s *state, t float64) {
	for i := range r.pools {
		b := &r.pools[i]
		s.looks[i] = b.at(s.v[i])
		s.soak[i] = b.soak * s.looks[i].contact
		s.came[i] = r.own(i, t)
		s.net[i] = s.came[i] - s.soak[i]
	}
	for k := range r.ways {
		w := &r.ways[k]
		q := w.flow(s.looks[w.from].level, r.tail(w, s))
		s.flow[k] = q
		s.net[w.from] -= q
		if w.To >= 0 {
			s.net[w.To] += q
			s.came[w.To] += max(0, q)
			s.came[w.from] += max(0, -q)
		}
	}
}

// solve finds the state at the end of a part of a step, and what drains bring in it. The
// end counts by the weight.
func (r *router) solve(to, h, weight float64) bool {
	for i := range r.holds {
		if math.IsNaN(r.pools[i].hold) || !r.running {
			r.holds[i] = free
		}
	}
	for range 8 {
		ok := r.find(to, h, weight)
		turned := false
		for i := range r.holds {
			turned = r.turn(i, h) || turned
		}
		if !turned || !ok {
			return ok
		}
	}
	return false
}

// turn has a drain bring more or less to a pool where what it brought cannot be.
func (r *router) turn(i int, h float64) bool {
	b, was := &r.pools[i], r.holds[i]
	if math.IsNaN(b.hold) || !r.running {
		return false
	}
	most := b.Supply * h
	slack := 1e-9 * b.Top().Volume
	switch {
	case was == free && r.next.v[i] < b.hold-slack:
		r.holds[i] = held
	case was == held && r.drained[i] < -slack:
		r.holds[i] = free
	case was == held && r.drained[i] > most+slack:
		r.holds[i] = full
	case was == full && r.next.v[i] > b.hold+slack:
		r.holds[i] = held
	}
	return r.holds[i] != was
}

// find solves for the volumes with what the drains do given.
func (r *router) find(to, h, weight float64) bool {
	n := &r.newton
	copy(r.next.v, r.now.v)
	for i, hold := range r.holds {
		if hold == held {
			r.next.v[i] = r.pools[i].hold
		}
	}
	r.look(&r.next, to)
	off := r.residual(h, weight)
	for range 40 {
		if off <= 1e-10 {
			break
		}
		r.jacobian(h * weight)
		n.solve()
		copy(n.from, r.next.v)
		was := off
		for cut := 1.0; cut > 1e-3; cut /= 2 {
			for i := range r.next.v {
				r.next.v[i] = n.from[i] - cut*n.x[i]
			}
			r.look(&r.next, to)
			if off = r.residual(h, weight); off < was {
				break
			}
		}
		if off >= was {
			break
		}
	}
	r.share(h)
	return off <= 1e-7
}

// share leaves what is off by rounding to the volumes, so that no water is lost, and in pools
// that are held to the drain.
func (r *router) share(h float64) {
	for i, hold := range r.holds {
		r.drained[i] = 0
		switch hold {
		case held:
			r.drained[i] = r.newton.off[i]
		case full:
			r.drained[i] = r.pools[i].Supply * h
		}
		if hold != held {
			r.next.v[i] -= r.newton.off[i]
		}
	}
}

// residual works out by how much each volume is more than what came and went leaves [m³], and
// returns the greatest of those that are to vanish, as a share of what its pool holds.
func (r *router) residual(h, weight float64) float64 {
	most := 0.0
	for i := range r.pools {
		off := r.next.v[i] - r.now.v[i] - h*(weight*r.next.net[i]+(1-weight)*r.now.net[i])
		if r.holds[i] == full {
			off -= r.pools[i].Supply * h
		}
		r.newton.off[i] = off
		if r.holds[i] != held {
			most = max(most, math.Abs(off)/r.pools[i].Top().Volume)
		}
	}
	return most
}

// jacobian works out how the residuals go with the volumes, for the part of a step that its
// end stands for [s].
func (r *router) jacobian(h float64) {
	n, s := &r.newton, &r.next
	clear(n.a)
	for i := range r.pools {
		n.a[i*n.n+i] = 1 + h*r.pools[i].soak*s.looks[i].contact1
	}
	const d = 1e-6
	for k := range r.ways {
		w := &r.ways[k]
		level, tail := s.looks[w.from].level, r.tail(w, s)
		rise := h * (w.flow(level+d, tail) - s.flow[k]) / d * s.looks[w.from].level1
		n.a[w.from*n.n+w.from] += rise
		if w.To < 0 {
			continue
		}
		n.a[w.To*n.n+w.from] -= rise
		if !math.IsInf(tail, 0) {
			rise = h * (w.flow(level, tail+d) - s.flow[k]) / d * s.looks[w.To].level1
			n.a[w.from*n.n+w.To] += rise
			n.a[w.To*n.n+w.To] -= rise
		}
	}
	copy(n.x, n.off)
	for i, hold := range r.holds {
		if hold == held {
			clear(n.a[i*n.n : (i+1)*n.n])
			n.a[i*n.n+i], n.x[i] = 1, 0
		}
	}
}

// A newton is a small system of linear equations a x = x, row by row, by elimination with
// pivots.
type newton struct {
	n               int
	a, x, off, from []float64
}

func newNewton(n int) newton {
	f := func(n int) []float64 { return make([]float64, n) }
	return newton{n, f(n * n), f(n), f(n), f(n)}
}

func (m *newton) solve() {
	n := m.n
	for c := range n {
		best := c
		for i := c + 1; i < n; i++ {
			if math.Abs(m.a[i*n+c]) > math.Abs(m.a[best*n+c]) {
				best = i
			}
		}
		if best != c {
			for j := c; j < n; j++ {
				m.a[c*n+j], m.a[best*n+j] = m.a[best*n+j], m.a[c*n+j]
			}
			m.x[c], m.x[best] = m.x[best], m.x[c]
		}
		for i := c + 1; i < n; i++ {
			part := m.a[i*n+c] / m.a[c*n+c]
			if part == 0 {
				continue
			}
			for j := c; j < n; j++ {
				m.a[i*n+j] -= part * m.a[c*n+j]
			}
			m.x[i] -= part * m.x[c]
		}
	}
	for i := n - 1; i >= 0; i-- {
		for j := i + 1; j < n; j++ {
			m.x[i] -= m.a[i*n+j] * m.x[j]
		}
		m.x[i] /= m.a[i*n+i]
	}
}
