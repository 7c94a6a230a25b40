package season

import "slices"

// A start is how the pools, their beds and the mound stand when a year of the record begins.
type start struct {
	pools []atStart
	mound []float64
}

// An atStart is how one pool stands then.
type atStart struct {
	v            float64
	k            int
	taken, share float64
	store        float64
}

// Remember works the whole record out, and keeps how it stands when each year begins: runs
// of single years set out from there, on this model and on clones made of it later. Without it each run begins with dry
// pools, clean beds and no mound.
func (m *Model) Remember(f Factors) {
	m.starts = nil
	f.Years = nil
	m.start(&f)
	var starts []start
	for i := range m.years {
		s := start{mound: slices.Clone(m.mound)}
		for _, p := range m.states {
			s.pools = append(s.pools, atStart{p.v, p.k, p.taken, p.share, p.store})
		}
		starts = append(starts, s)
		m.year(&m.years[i])
	}
	m.starts = starts
}

// resume has the pools stand as they were remembered when a year begins.
func (m *Model) resume(year int) {
	if m.starts == nil {
		return
	}
	s := &m.starts[year]
	for i := range m.states {
		p, at := &m.states[i], &s.pools[i]
		p.v, p.k, p.taken, p.share, p.store = at.v, at.k, at.taken, at.share, at.store
	}
	if m.draw.mound != nil && len(s.mound) == len(m.mound) {
		copy(m.mound, s.mound)
	}
}
