package channel

import (
	"context"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/geo/plan"
)

// Measure is what water touches and fills.
type Measure struct {
	// Level of the water [m], no higher than the brim; of several pools, that of
	// the lowest.
	Level float64
	// Contact is the area of soil under water [m²].
	Contact float64
	// WetBank is the length of the water's edge [m], islands' shores with it.
	WetBank float64
	// Surface is the area of the water's surface [m²], Volume its volume [m³].
	Surface, Volume float64
	// Depth is the greatest depth [m], Length the length of the centreline [m]:
	// where an island parts the water it goes through the island, once.
	Depth, Length float64
}

// A Line is one channel or drain, with what its water touches and fills. The
// moats of the islands on a channel count toward the channel.
type Line struct {
	ID      plan.ID
	Kind    plan.Kind
	Title   string
	Measure Measure
	// Shore lists places on the water's edge, about Step.Along apart.
	Shore []orb.Point
}

// A Step is how finely a network is measured [m]. The zero Step is the usual
// one: 0.25 m along the lines and 0.1 m across them.
type Step struct{ Along, Across float64 }

func (s Step) orUsual() Step {
	if !(s.Along > 0) {
		s.Along = 0.25
	}
	if !(s.Across > 0) {
		s.Across = 0.1
	}
	return s
}

// Measure measures every channel, then every drain where it lies on the site.
func (n *Network) Measure(ctx context.Context, step Step) ([]Line, error) {
	m := measurer{Network: n, step: step.orUsual(), lines: make([]Line, len(n.lines))}
	for i, f := range n.lines {
		m.lines[i] = Line{ID: f.ID, Kind: f.Kind, Title: f.Title()}
		m.lines[i].Measure = Measure{Level: f.level, Length: planar.Length(f.Line())}
	}
	for i := range n.reaches {
		if err := m.reach(ctx, i); err != nil {
			return nil, err
		}
	}
	return m.lines, nil
}

// A measurer adds up what transects meet.
type measurer struct {
	*Network
	step  Step
	lines []Line
}

// reach casts the transects of one reach, square to its segments, about its
// bends, and round its ends.
func (m *measurer) reach(ctx context.Context, i int) error {
	r := &m.reaches[i]
	for k := r.first; k < r.end; k++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		m.beside(i, k)
		if next := m.after(r, k); next >= 0 {
			m.bend(i, k, next)
		}
	}
	if !r.ring && r.form == run {
		m.caps(i)
	}
	return nil
}

// beside casts the transects of one segment.
func (m *measurer) beside(i, k int) {
	s := &m.segs[k]
	count := max(1, math.Ceil(s.length/m.step.Along))
	width := s.length / count
	for j := 0.0; j < count; j++ {
		along := (j + 0.5) * width
		q := ray{reach: i, seg: k, other: k, along: along, from: s.place(along), base: width}
		if m.reaches[i].form == drain && !m.onSite(q.from) {
			m.lines[s.line].Measure.Length -= width
			continue
		}
		m.cast(q.across(s, 1))
		m.cast(q.across(s, -1))
	}
}

// after returns the segment that follows k on its reach, or -1.
func (m *measurer) after(r *reach, k int) int {
	switch {
	case k+1 < r.end:
		return k + 1
	case r.ring:
		return r.first
	}
	return -1
}

// bend casts the fan on the outer side of the bend between two segments.
func (m *measurer) bend(i, k, next int) {
	s := &m.segs[k]
	if s.turnB == 0 || m.reaches[i].form == drain && !m.onSite(s.b) {
		return
	}
	// The outer side of a left turn is the right, a quarter turn clockwise.
	quarter, left := -math.Pi/2, false
	if s.turnB < 0 {
		quarter, left = math.Pi/2, true
	}
	sweep := 2 * math.Atan(s.turnB)
	start := math.Atan2(s.uy, s.ux) + quarter
	m.fan(ray{reach: i, seg: k, other: next, along: s.length, from: s.b, left: left}, start, sweep)
}

// caps casts the half rounds at the two ends of a run.
func (m *measurer) caps(i int) {
	r := &m.reaches[i]
	s, t := &m.segs[r.first], &m.segs[r.end-1]
	m.fan(ray{reach: i, seg: r.first, other: r.first, from: s.a, left: true}, math.Atan2(s.uy, s.ux)+math.Pi/2, math.Pi)
	m.fan(ray{reach: i, seg: r.end - 1, other: r.end - 1, along: t.length, from: t.b, left: true}, math.Atan2(t.uy, t.ux)-math.Pi/2, math.Pi)
}

// fan casts rays about a point, close enough to be a step apart at the bank.
func (m *measurer) fan(q ray, start, sweep float64) {
	r := &m.reaches[q.reach]
	s := &m.segs[q.seg]
	out := r.section.Bed/2 + max(r.section.Left, r.section.Right)*max(0, s.level(q.along)-s.bed(q.along))
	if r.form == moat {
		out = r.bank(s, q.along) + r.arm
	}
	count := max(1, math.Ceil(math.Abs(sweep)*min(out, r.influence)/m.step.Along))
	q.spread, q.limit = math.Abs(sweep)/count, math.Inf(1)
	for j := 0.0; j < count; j++ {
		sin, cos := math.Sincos(start + (j+0.5)*sweep/count)
		q.dx, q.dy = cos, sin
		m.cast(q)
	}
}
