package channel

import (
	"context"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/geo/grid"
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
	// where an island parts the water it goes through the island, once; where channels
	// lie on one line it is the first's. Wet is the part of that length over whose bed water stands [m].
	Depth, Length, Wet float64
}

// Perimeter returns the mean wetted perimeter [m]: the contact area over the length
// of line that is wet, so that moats and rounded ends are in it; NaN where all is dry.
func (m Measure) Perimeter() float64 {
	if m.Wet == 0 {
		return math.NaN()
	}
	return m.Contact / m.Wet
}

// A Line is one channel or drain, with what its water touches and fills. The
// moats of the islands on a channel count toward the channel.
type Line struct {
	ID      plan.ID
	Kind    plan.Kind
	Title   string
	Measure Measure
	// Unknown is how much of its line lies where the ground is not known [m]: that is in
	// no figure of its Measure.
	Unknown float64
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
	// kinks is where breaks lists its distances.
	kinks []float64
	// strips are kept where they are asked for.
	strips *[]Strip
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
			m.face(i, k, next)
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
		switch {
		case m.reaches[i].island():
		case math.IsNaN(grid.Sample(m.ground, q.from)):
			m.lines[s.line].Measure.Length -= width
			m.lines[s.line].Unknown += width
		case m.counted(i, q.from):
			m.lines[s.line].Measure.Length -= width
		default:
			m.lines[s.line].Measure.Wet += width * s.wetShare(j/count, (j+1)/count)
		}
		m.cast(q.across(s, 1))
		m.cast(q.across(s, -1))
	}
}

// counted reports whether a place on the line of a run lies on that of one before it,
// whose length it is.
func (m *measurer) counted(i int, p orb.Point) bool {
	list := m.index.at(p)
	for k := 0; k < i && len(list) > 0; k++ {
		r := &m.reaches[k]
		if int(list[0]) >= r.end {
			continue
		}
		var h hit
		if h, list = m.nearest(p, list, r.end); r.form == run && h.off <= shortest {
			return true
		}
	}
	return false
}

// wetShare returns which share of a piece of a segment water stands over, from one
// share of the segment to another.
func (s *segment) wetShare(from, to float64) float64 {
	a := s.level(from*s.length) - s.bed(from*s.length)
	b := s.level(to*s.length) - s.bed(to*s.length)
	switch {
	case a <= film && b <= film:
		return 0
	case a > 0 && b > 0:
		return 1
	}
	return max(a, b) / math.Abs(a-b)
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
	m.fan(ray{reach: i, seg: k, other: next, along: s.length, from: s.b, left: left, toward: towards(-math.Copysign(1, s.turnB))}, start, sweep)
}

// caps casts the half rounds at the two ends of a run.
func (m *measurer) caps(i int) {
	r := &m.reaches[i]
	s, t := &m.segs[r.first], &m.segs[r.end-1]
	m.fan(ray{reach: i, seg: r.first, other: r.first, from: s.a, left: true, swing: 1}, math.Atan2(s.uy, s.ux)+math.Pi/2, math.Pi)
	m.fan(ray{reach: i, seg: r.end - 1, other: r.end - 1, along: t.length, from: t.b, left: true, toward: 1, swing: -1}, math.Atan2(t.uy, t.ux)-math.Pi/2, math.Pi)
}

// fan casts rays about a point, close enough to be a step apart at the bank.
func (m *measurer) fan(q ray, start, sweep float64) {
	r := &m.reaches[q.reach]
	s := &m.segs[q.seg]
	out := m.waterWidth(r, s, q.along)
	if r.form == moat {
		out = r.bank(s, q.along) + r.arm
	}
	count := max(1, math.Ceil(math.Abs(sweep)*min(out, r.influence)/m.step.Along))
	q.spread, q.limit = math.Abs(sweep)/count, math.Inf(1)
	first := q.toward
	for j := 0.0; j < count; j++ {
		q.toward = first + q.swing*(j+0.5)/count
		sin, cos := math.Sincos(start + (j+0.5)*sweep/count)
		q.dx, q.dy = cos, sin
		m.cast(q)
	}
}

// waterWidth returns how far from the line of a run or drain its water reaches by
// its section, on its wider side [m].
func (m *measurer) waterWidth(r *reach, s *segment, along float64) float64 {
	depth := max(0, s.level(along)-s.bed(along))
	left, right := r.flank(s, along, 0), r.flank(s, along, 1)
	return max(left.out(depth), right.out(depth))
}
