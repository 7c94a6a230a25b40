package channel

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A CrossSection is the ground and the proposed ground across a channel or
// drain, seen down its line.
type CrossSection struct {
	// Station is the chainage [m] and At its place on the line.
	Station float64
	At      orb.Point
	// Line runs over the ground from the first offset to the last.
	Line orb.LineString
	// Offset lists distances from the line [m], negative to the left; Ground and
	// Proposed the levels there [m], NaN where the ground is not known.
	Offset, Ground, Proposed []float64
	// Level is the water's [m], NaN where it is not known.
	Level float64
	// Water is that level at the offsets where the line's own water stands and at those
	// next to it, NaN at the others: low land beyond a bank holds none of it.
	Water []float64
	// Other is the level of other water that the section passes through, as of another
	// part of the line or its moat: it is seen, but not counted.
	Other []float64
	// WettedPerimeter [m], Area [m²] and TopWidth [m] are those of the line's water in
	// the proposed section, both arms where an island parts it.
	WettedPerimeter, Area, TopWidth float64
}

// Cross-sections are drawn every sectionStep out to sectionSpare beyond the
// channel's banks [m].
const (
	sectionStep  = 0.05
	sectionSpare = 1.0
)

// Section cuts across a channel or drain at a station [m], or at its nearer end
// where the station is off the line.
func (n *Network) Section(id plan.ID, station float64) (CrossSection, error) {
	for _, f := range n.lines {
		if f.ID == id {
			return n.section(&n.reaches[f.reach], station), nil
		}
	}
	return CrossSection{}, notLaid(id)
}

func (n *Network) section(r *reach, station float64) CrossSection {
	s, along := segmentAt(n.segs[r.first:r.end], station)
	c := CrossSection{Station: s.start + along, At: s.place(along), Level: s.level(along)}
	left, right := n.designedTo(s, c.At, -sectionStep), n.designedTo(s, c.At, sectionStep)
	c.sample(n, s, -int((left+sectionSpare)/sectionStep), int((right+sectionSpare)/sectionStep))
	c.fill(n.waterOf(r, c.Station, c.At), s)
	c.others(n, s)
	c.wet()
	return c
}

// sample reads the ground across a segment, from one step to another.
func (c *CrossSection) sample(n *Network, s *segment, first, last int) {
	for i := first; i <= last; i++ {
		off := float64(i) * sectionStep
		p := c.place(s, off)
		c.Offset = append(c.Offset, off)
		c.Ground = append(c.Ground, grid.Sample(n.ground, p))
		c.Proposed = append(c.Proposed, n.Proposed(p))
		if i == first || i == last {
			c.Line = append(c.Line, p)
		}
	}
}

// place returns a place across a segment.
func (c *CrossSection) place(s *segment, off float64) orb.Point {
	return orb.Point{c.At[0] + s.uy*off, c.At[1] - s.ux*off}
}

// waterOf tells of a place across a reach at a station [m] whether it is in the bed or
// the banks of the reach there; where an island parts the water on the line, of its moat.
func (n *Network) waterOf(r *reach, station float64, at orb.Point) func(orb.Point) bool {
	arms := n.moatAt(at)
	return func(p orb.Point) bool {
		off := planar.Distance(at, p)
		if off < sectionStep/2 {
			return true
		}
		there := n.at(p, allWater)
		switch {
		case there.reach < 0 || there.kept:
			return false
		case n.reaches[there.reach].form != drain && !n.dug(p):
			return false
		case arms >= 0 || &n.reaches[there.reach] != r:
			return there.reach == arms
		}
		// Another limb of the same line is no nearer along it than across.
		s := &n.segs[there.seg]
		along, _ := s.near(p)
		return math.Abs(s.start+along-station) <= off/2
	}
}

// fill brings water to the parts of the section below its level in which a place is
// the line's own.
func (c *CrossSection) fill(own func(orb.Point) bool, s *segment) {
	c.Water = make([]float64, len(c.Offset))
	for i := range c.Water {
		c.Water[i] = math.NaN()
	}
	for from := 0; from < len(c.Offset); from++ {
		to, mine := from, false
		for ; to < len(c.Offset) && c.Proposed[to] < c.Level; to++ {
			mine = mine || own(c.place(s, c.Offset[to]))
		}
		for i := max(0, from-1); mine && i < min(to+1, len(c.Water)); i++ {
			c.Water[i] = c.Level
		}
		from = to
	}
}

// others tells the level of the water in what is dug at places without the line's own.
func (c *CrossSection) others(n *Network, s *segment) {
	c.Other = make([]float64, len(c.Offset))
	for i, off := range c.Offset {
		c.Other[i] = math.NaN()
		if p := c.place(s, off); math.IsNaN(c.Water[i]) && n.dug(p) {
			t := &n.segs[n.at(p, designed).seg]
			along, _ := t.near(p)
			c.Other[i] = t.level(along)
		}
	}
}

// Depth returns the greatest depth of the water in the section [m].
func (c *CrossSection) Depth() float64 {
	deep := 0.0
	for i, level := range c.Water {
		if y := level - c.Proposed[i]; y > deep {
			deep = y
		}
	}
	return deep
}

// designedTo returns how far across the line the ground is dug or filled [m], to
// the right where the step that it is looked for by [m] is positive.
func (n *Network) designedTo(s *segment, at orb.Point, step float64) float64 {
	const gap = 2.0 // an island's middle may be wider than this and still be passed by
	far := 0.0
	for i := 0.0; i*math.Abs(step) < min(far+gap, farthest); i++ {
		p := orb.Point{at[0] + i*step*s.uy, at[1] - i*step*s.ux}
		r := n.at(p, designed)
		if ground := grid.Sample(n.ground, p); r.kept || r.shape(ground) != ground {
			far = i * math.Abs(step)
		}
	}
	return far
}

// wet measures the water that stands in the section at its level.
func (c *CrossSection) wet() {
	for i := 1; i < len(c.Offset); i++ {
		a, b := c.Water[i-1]-c.Proposed[i-1], c.Water[i]-c.Proposed[i]
		if !(a > 0) && !(b > 0) || math.IsNaN(a+b) {
			continue
		}
		share := 1.0
		if (a > 0) != (b > 0) {
			share = max(a, b) / math.Abs(a-b)
		}
		a, b = max(a, 0), max(b, 0)
		run := share * (c.Offset[i] - c.Offset[i-1])
		c.TopWidth += run
		c.Area += run * (a + b) / 2
		c.WettedPerimeter += math.Hypot(run, b-a)
	}
}
