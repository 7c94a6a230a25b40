package channel

import (
	"cmp"
	"slices"

	"runnel/geo/plan"
)

// WithLevel returns the network with the water of every channel at one level [m],
// or at its brim where that is lower, and what is wrong with it then.
func (n *Network) WithLevel(level float64) (*Network, []Problem) {
	m := n.held(func(*segment, *feature) float64 { return level })
	problems := slices.Clone(n.unlaid)
	for i := range m.lines {
		f := &m.lines[i]
		if f.Kind != plan.Channel || f.withheld {
			continue
		}
		segs := m.segsOf(f)
		if err := trouble(f.Feature, segs, level, f.lip); err != nil && !(wet(segs) && m.joinedTo(*f, f.lip.of)) {
			problems = append(problems, Problem{ID: f.ID, At: f.lip.shows(f.Feature, level), Err: err})
		}
	}
	return m, problems
}

// WithLowest returns the network with the lowest pool of every channel at one level
// [m]. The pools above its sills stay as they are, or stand at that level where it is
// higher; none is above its brim.
func (n *Network) WithLowest(level float64) *Network {
	return n.held(func(s *segment, f *feature) float64 {
		if s.levelA > f.level+poolStep {
			return max(level, s.levelA)
		}
		return level
	})
}

// poolStep is how much higher than the lowest the water of another pool stands [m].
const poolStep = 1e-9

// held returns the network with the water of channels at the levels that at gives [m]
// for each segment of a channel as it stands, or at the brim where that is lower.
func (n *Network) held(at func(*segment, *feature) float64) *Network {
	n = n.Standing()
	m := *n
	m.reaches = slices.Clone(n.reaches)
	m.segs = slices.Clone(n.segs)
	m.lines = slices.Clone(n.lines)
	for i := range m.segs {
		s := &m.segs[i]
		if f := &n.lines[s.line]; f.Kind == plan.Channel {
			s.hold(at(s, f))
		}
	}
	for i := range m.lines {
		if f := &m.lines[i]; f.Kind == plan.Channel && !f.withheld {
			f.level = lowestLevel(m.segsOf(f))
		}
	}
	m.spreadAll()
	return &m
}

// Pools lists the parts between a channel's sills, up the chainage; nil for a line that
// is not laid out as a channel.
func (n *Network) Pools(id plan.ID) []Pool {
	n = n.Standing()
	for i := range n.lines {
		if f := &n.lines[i]; f.ID == id && f.Kind == plan.Channel {
			marks := n.sillMarks(*f)
			slices.SortStableFunc(marks, func(a, b Mark) int { return cmp.Compare(a.Chainage, b.Chainage) })
			return poolsOf(n.segsOf(f), marks)
		}
	}
	return nil
}
