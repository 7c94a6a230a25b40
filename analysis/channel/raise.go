package channel

import (
	"math"
	"slices"

	"runnel/geo/plan"
)

// Raised returns the network with all of its water higher by some metres, or lower
// where that is less than nought: a channel's no higher than its brim, and a
// drain's no higher than its banks.
func (n *Network) Raised(by float64) *Network {
	m := *n
	m.reaches = slices.Clone(n.reaches)
	m.segs = slices.Clone(n.segs)
	m.lines = slices.Clone(n.lines)
	for i := range m.segs {
		m.segs[i].raise(by, m.lines[m.segs[i].line].Feature)
	}
	for i := range m.reaches {
		if r := &m.reaches[i]; r.form == drain {
			r.water += max(0, by) * max(r.section.Left, r.section.Right, steepest)
		}
	}
	for i := range m.lines {
		m.lines[i].level += by
		if r := m.reaches[m.lines[i].reach]; m.lines[i].Kind == plan.Channel {
			m.lines[i].level = lowestLevel(m.segs[r.first:r.end])
		}
	}
	m.spreadAll()
	return &m
}

func (s *segment) raise(by float64, of plan.Feature) {
	topA, topB := s.brim, s.brim
	if s.runs {
		topA, topB = math.Inf(1), math.Inf(1)
	}
	if of.Kind == plan.Drain {
		topA, topB = s.bedA+of.Num("depth"), s.bedB+of.Num("depth")
	}
	s.levelA, s.levelB = min(s.levelA+by, max(topA, s.levelA)), min(s.levelB+by, max(topB, s.levelB))
}
