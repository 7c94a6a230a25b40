package channel

import (
	"math"

	"github.com/paulmach/orb"
	"runnel/geo/grid"
)

// A ray is a transect that goes out from a reach to one side. What it meets
// stands for a strip whose width is base + spread × the distance out [m].
type ray struct {
	reach int
	// seg and other are the segments it may belong to, the same but at a bend.
	seg, other int
	along      float64
	from       orb.Point
	// dx, dy is the change of place for each metre out.
	dx, dy       float64
	base, spread float64
	// limit is how far out the strip narrows to nothing [m].
	limit float64
	left  bool
	// toward is the side that the section's form is of, as a flank has it; in a fan
	// it changes by swing from the first ray to the last.
	toward, swing float64
}

// across turns a ray out of its segment, to the left for side 1 and to the right
// for -1. On the inner side of turns the segment's rays close up, so that they
// share out its own ground evenly.
func (q ray) across(s *segment, side float64) ray {
	a, b := max(0, side*s.turnA), max(0, side*s.turnB)
	share := q.along / s.length
	shift := a*(1-share) - b*share
	q.dx, q.dy = -side*s.uy+shift*s.ux, side*s.ux+shift*s.uy
	q.left, q.limit, q.toward = side > 0, math.Inf(1), towards(side)
	if a+b > 0 {
		q.limit = s.length / (a + b)
		q.spread = -q.base / q.limit
	}
	return q
}

// film is the depth below which soil is not taken to be under water [m]; it lies
// above what the digits of large coordinates and levels can lose.
const film = 1e-6

// A probe is what a ray meets at some distance out.
type probe struct {
	out, depth float64
	// own is set where the ray's own stretch rules; lost where its own reach
	// rules, but another stretch of it, which is so from there on.
	own, lost bool
}

func (m *measurer) probe(q *ray, out, level float64) probe {
	p := orb.Point{q.from[0] + out*q.dx, q.from[1] + out*q.dy}
	r := m.at(p, allWater)
	z, ground := r.z, grid.Sample(m.ground, p)
	if r.reach < 0 || m.reaches[r.reach].form != drain {
		z = r.shape(ground)
	}
	if z == ground && m.segs[q.seg].runs {
		z = max(z, level) // running water keeps to what is dug
	}
	same := r.reach == q.reach
	mine := same && (r.seg == q.seg || r.seg == q.other)
	return probe{out: out, depth: level - z, own: mine, lost: same && !mine}
}

// breaks lists where the surface bends along a ray, as designed [m], and how far
// the ray goes on: dry before it has met water, and wet or dry after it has.
func (m *measurer) breaks(q *ray, level float64) (at []float64, dry, on float64) {
	r, s := &m.reaches[q.reach], &m.segs[q.seg]
	depth := max(0, level-s.bed(q.along))
	if r.form == run || r.form == drain {
		f := r.flank(s, q.along, q.toward)
		if f.over != nil {
			dry, on = f.lowest(), f.out(level-s.bed(q.along))
		}
		m.kinks = f.kinks(m.kinks[:0], depth)
		return m.kinks, dry, on
	}
	if q.left || r.form == kept {
		return nil, 0, 0
	}
	bank := r.bank(s, q.along)
	shore := max(0, bank-max(r.side, steepest)*depth)
	m.kinks = append(m.kinks[:0], shore, bank, bank+r.arm, bank+r.arm+max(r.outer, steepest)*depth)
	return m.kinks, bank, 0
}

// onset is how far off an outline a transect starts [m], to be clearly on its side.
const onset = 1e-5

// cast follows a ray out to the water's edge and adds up what it meets.
func (m *measurer) cast(q ray) {
	r := &m.reaches[q.reach]
	if r.form == kept && !q.left {
		return // the ring about it rules there
	}
	level := m.segs[q.seg].level(q.along)
	at, dry, on := m.breaks(&q, level)
	start := 0.0
	if r.island() {
		start = onset
	}
	w := walk{measurer: m, ray: &q, level: level, dry: dry, on: on, last: m.probe(&q, start, level)}
	w.met = w.last.wet()
	if !w.met && max(dry, on) == 0 {
		return
	}
	far := min(r.influence, q.limit)
	for _, out := range at {
		if out > start && !w.to(min(out, far)) {
			return
		}
	}
	for w.last.out < far && w.to(w.last.out+m.step.Across) {
	}
}

// A walk is the way out along a ray.
type walk struct {
	*measurer
	ray        *ray
	level, dry float64
	// on is how far water may lie beyond ground that is dry.
	on   float64
	last probe
	// met is set once there has been water.
	met bool
}

// to goes on to a distance out [m]; it reports whether the water goes on.
func (w *walk) to(out float64) bool {
	from := w.last.out
	out = min(out, w.ray.limit)
	count := math.Ceil((out - from) / w.step.Across)
	for j := 1.0; j <= count; j++ {
		here := w.probe(w.ray, from+(out-from)*j/count, w.level)
		near, far := w.handover(w.last, here)
		w.piece(w.ray, w.last, near)
		w.piece(w.ray, far, here)
		w.last = here
		w.met = w.met || here.wet()
		if here.lost || !here.wet() && here.out >= w.on && (w.met || here.out > w.dry) {
			return false
		}
	}
	return true
}

// halvings is how often a piece is halved to find where the rule changes hands:
// to a hundredth of a usual step.
const halvings = 7

// handover returns two probes, hardly apart, between which what is the ray's own
// and what is another's meet; where all between a and b is of one kind, b twice.
func (w *walk) handover(a, b probe) (near, far probe) {
	if a.own == b.own {
		return b, b
	}
	for range halvings {
		if middle := w.probe(w.ray, (a.out+b.out)/2, w.level); middle.own == a.own {
			a = middle
		} else {
			b = middle
		}
	}
	return a, b
}

func (p probe) wet() bool { return p.depth > film }

// piece adds what lies between two places along a ray that are both its own.
func (m *measurer) piece(q *ray, a, b probe) {
	wetA, wetB := a.wet(), b.wet()
	if !wetA && !wetB || !a.own || !b.own {
		return
	}
	if wetA != wetB {
		edge := probe{out: a.out + a.depth/(a.depth-b.depth)*(b.out-a.out)}
		if math.IsNaN(edge.out) {
			return // the ground ends there
		}
		if wetA {
			b = edge
		} else {
			a = edge
		}
		m.shore(q, edge.out)
	}
	m.strip(q, a, b)
}

// shore adds the water's edge at a distance out along a ray [m].
func (m *measurer) shore(q *ray, out float64) {
	line := &m.lines[m.segs[q.seg].line]
	line.Measure.WetBank += q.base + q.spread*out
	if m.strips != nil {
		return
	}
	line.Shore = append(line.Shore, orb.Point{q.from[0] + out*q.dx, q.from[1] + out*q.dy})
}

// strip adds the soil, the surface and the volume of the water between two
// places, exactly where depth and width vary evenly between them.
func (m *measurer) strip(q *ray, a, b probe) {
	measure := &m.lines[m.segs[q.seg].line].Measure
	run := b.out - a.out
	wa, wb := q.base+q.spread*a.out, q.base+q.spread*b.out
	measure.Contact += math.Hypot(run, b.depth-a.depth) * (wa + wb) / 2
	measure.Surface += run * (wa + wb) / 2
	measure.Volume += run * (2*a.depth*wa + 2*b.depth*wb + a.depth*wb + b.depth*wa) / 6
	measure.Depth = max(measure.Depth, a.depth, b.depth)
	if m.strips != nil {
		m.keep(q, a, b)
	}
}
