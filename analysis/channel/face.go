package channel

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// faceSlack is how far before and beyond a step of the bed the ground is looked at
// [m].
const faceSlack = 1e-3

// face adds the wetted face of a drop: where the bed steps from one segment of a run
// to the next, the soil that stands under water between the two sections.
func (m *measurer) face(i, k, next int) {
	r := &m.reaches[i]
	s, t := &m.segs[k], &m.segs[next]
	if r.form != run || math.Abs(s.bedB-t.bedA) <= film {
		return
	}
	for _, side := range []float64{1, -1} {
		q := ray{reach: i, seg: k, other: next, from: t.a}.across(t, side)
		m.faceToward(&q, s, t)
	}
}

// faceToward adds the face of a drop from the line outward to one side.
func (m *measurer) faceToward(q *ray, s, t *segment) {
	r := &m.reaches[q.reach]
	var offs []float64
	for _, side := range []*segment{s, t} {
		along := 0.0
		if side == s {
			along = s.length
		}
		f := r.flank(side, along, q.toward)
		offs = f.kinks(offs, max(0, side.level(along)-side.bed(along)))
	}
	slices.Sort(offs)
	far := min(r.influence, q.limit)
	measure := &m.lines[s.line].Measure
	last, out := m.faceAt(q, s, t, 0).wet(), 0.0
	for _, to := range offs {
		to = min(to, far)
		for n := math.Ceil((to - out) / m.step.Across); n > 0; n-- {
			next := out + (to-out)/n
			run := (next - out) * math.Hypot(q.dx, q.dy)
			here := m.faceAt(q, s, t, next).wet()
			measure.Contact += (last + here) / 2 * run
			middle := m.faceAt(q, s, t, (out+next)/2)
			if middle.wet() > film && middle.high >= middle.level {
				measure.WetBank += run
			}
			if m.strips != nil && middle.wet() > film {
				m.keepFace(q, middle, run)
			}
			last, out = here, next
		}
	}
}

// A cliff is the face of a drop at one place: from one level to another, and the
// water's level before it [m].
type cliff struct{ low, high, level float64 }

// wet returns how high its wetted part is [m].
func (c cliff) wet() float64 { return max(0, min(c.level, c.high)-c.low) }

// faceAt returns the face of a drop at a distance out; the zero cliff where there is
// none.
func (m *measurer) faceAt(q *ray, s, t *segment, out float64) cliff {
	side := func(s *segment, by float64) probe {
		p := *q
		p.from = orb.Point{q.from[0] + by*s.ux, q.from[1] + by*s.uy}
		return m.probe(&p, out, 0)
	}
	above, below := side(s, -faceSlack), side(t, faceSlack)
	switch before, after := -above.depth, -below.depth; {
	case !above.own || !below.own || math.IsNaN(before+after+s.levelB+t.levelA):
		return cliff{}
	case after > before:
		return cliff{before, after, s.levelB}
	default:
		return cliff{after, before, t.levelA}
	}
}
