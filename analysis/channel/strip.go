package channel

import (
	"context"
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A Strip is a piece of soil that goes up evenly from one level to another [m], as a
// transect meets it.
type Strip struct {
	// Of is the number of its Stretch.
	Of        int
	Low, High float64
	// LowWidth and HighWidth are its widths at those levels, Run how far it is in plan
	// from the one to the other [m], nought on the face of a drop, and Slant how far
	// along the soil.
	LowWidth, HighWidth, Run, Slant float64
	// Bed and Water are the levels on the line there [m].
	Bed, Water float64
}

// Contact returns the strip's area [m²].
func (s *Strip) Contact() float64 {
	return s.Slant * (s.LowWidth + s.HighWidth) / 2
}

// A Stretch is a straight piece of a channel's, moat's or drain's bed, from one place
// in the middle of it to another.
type Stretch struct {
	// Body is the number of its Body, -1 in a drain; ID is the channel's or drain's.
	Body int
	ID   plan.ID
	// Island is the one in whose moat it lies, nought in none.
	Island     plan.ID
	From, To   orb.Point
	Start      float64
	BedA, BedB float64
	// Held is the level to which a sill holds a drain's water there when the drain stops
	// [m], -Inf where none does.
	Held float64
}

// drainAlong is how far apart the transects of a drain are at least, where its soil is
// taken apart [m]: what it is like along its line is drawn as one.
const drainAlong = 1.0

// manyStrips is about how many strips a garden's channels have.
const manyStrips = 8192

// Strips takes apart what the water of the network touches: with channels full up to
// the levels of their bodies [m], or as they stand or run where there are none, and with
// drains as they run. A step is as in Measure, but along drains no finer than drainAlong.
func (n *Network) Strips(ctx context.Context, levels []float64, step Step) ([]Stretch, []Strip, error) {
	of, _ := n.Standing().bodyOf()
	if levels != nil {
		n = n.filledTo(levels, of)
	}
	strips := make([]Strip, 0, manyStrips)
	m := measurer{Network: n, step: step.orUsual(), lines: make([]Line, len(n.lines)), strips: &strips}
	for i := range n.reaches {
		if n.reaches[i].form == drain {
			m.step.Along = max(m.step.Along, drainAlong)
		}
		if err := m.reach(ctx, i); err != nil {
			return nil, nil, err
		}
	}
	return n.stretchesOf(of), strips, nil
}

// filledTo returns the network at rest with the water of its bodies at some levels
// [m], whatever it runs out over below them.
func (n *Network) filledTo(levels []float64, of []int) *Network {
	m := *n.Standing()
	m.segs = append([]segment(nil), m.segs...)
	for i := range m.segs {
		s := &m.segs[i]
		if m.lines[s.line].Kind != plan.Channel || of[s.pool] < 0 {
			continue
		}
		s.levelA, s.levelB = levels[of[s.pool]], levels[of[s.pool]]
	}
	return &m
}

// Filled returns the network with the water of its bodies at some levels [m].
func (n *Network) Filled(levels []float64) *Network {
	of, _ := n.Standing().bodyOf()
	m := n.filledTo(levels, of)
	m.reaches = append([]reach(nil), m.reaches...)
	m.spreadAll()
	return m
}

// stretchesOf lists the segments of the network.
func (n *Network) stretchesOf(of []int) []Stretch {
	all := make([]Stretch, len(n.segs))
	for i := range n.reaches {
		r := &n.reaches[i]
		for k := r.first; k < r.end; k++ {
			s := &n.segs[k]
			t := Stretch{Body: -1, ID: n.lines[s.line].ID, From: s.a, To: s.b, Start: s.start, BedA: s.bedA, BedB: s.bedB, Held: s.held}
			if r.form != drain {
				t.Body = of[s.pool]
			}
			if r.island() {
				t.Island = n.islands[i].ID
			}
			if r.form == moat {
				t.From, t.To = s.outBy(0, r.bank(s, 0)+r.arm/2), s.outBy(s.length, r.bank(s, s.length)+r.arm/2)
			}
			all[k] = t
		}
	}
	return all
}

// outBy returns the place so far to the right of one on a segment [m].
func (s *segment) outBy(along, off float64) orb.Point {
	at := s.place(along)
	return orb.Point{at[0] + s.uy*off, at[1] - s.ux*off}
}

// keep adds the strip between two places along a ray.
func (m *measurer) keep(q *ray, a, b probe) {
	s := &m.segs[q.seg]
	level := s.level(q.along)
	if b.depth > a.depth {
		a, b = b, a
	}
	run := math.Abs(b.out - a.out)
	*m.strips = append(*m.strips, Strip{
		Of: q.seg, Low: level - a.depth, High: level - b.depth,
		LowWidth: q.base + q.spread*a.out, HighWidth: q.base + q.spread*b.out, Run: run, Slant: math.Hypot(run, a.depth-b.depth),
		Bed: s.bed(q.along), Water: level,
	})
}

// keepFace adds the strip of a drop's face over some width [m].
func (m *measurer) keepFace(q *ray, c cliff, width float64) {
	*m.strips = append(*m.strips, Strip{
		Of: q.seg, Low: c.low, High: c.low + c.wet(), LowWidth: width, HighWidth: width, Slant: c.wet(), Bed: c.low, Water: c.level,
	})
}
