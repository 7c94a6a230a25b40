package storm

import (
	"context"
	"math"

	"runnel/analysis/internal/band"
	"runnel/geo/grid"
)

// finish pours what has run together, and tells how the ground stands. soak is
// what each of the store's cells can take in [m], nil for nothing.
func (m *Model) finish(ctx context.Context, soak []float64) (*Result, error) {
	m.pourAll()
	m.settle(soak)
	if err := band.Rows(ctx, len(m.ponds), m.paint); err != nil {
		return nil, err
	}
	r := &m.result
	for i := range r.Level {
		r.Level[i] = m.stands[m.lowest[i]]
	}
	r.Left = r.Left[:0]
	for i, v := range m.left {
		if v > 0 {
			r.Left = append(r.Left, Exit{m.exits[i], v})
			r.Balance.Left += v
		}
	}
	for k, l := range m.links {
		if l.To == -1 {
			r.Balance.Left += r.Linked[k]
		}
	}
	return r, nil
}

// settle finds the level in each pond, those above before those within them.
func (m *Model) settle(soak []float64) {
	stored, soaked := 0.0, 0.0
	for i := len(m.ponds) - 1; i >= 0; i-- {
		p := &m.ponds[i]
		into := m.takes[i] - m.room[i]
		switch covered := p.within >= 0 && !math.IsNaN(m.stands[p.within]); {
		case covered:
			m.stands[i] = m.stands[p.within]
		case m.held[i] == 0:
			m.stands[i], into = math.NaN(), 0
		case m.held[i] == m.takes[i]:
			m.stands[i] = p.brim
		default:
			m.stands[i], into = m.level(i, m.held[i], soak)
		}
		stored += m.held[i] - into
		soaked += into
	}
	m.result.Balance.Stored += stored
	m.result.Balance.Soaked += soaked
}

// paint sets the depth over the own cells of ponds [lo, hi), and no depth where
// the last storm wetted more of them.
func (m *Model) paint(lo, hi int) {
	depth := m.result.Depth.V
	for i := lo; i < hi; i++ {
		p := &m.ponds[i]
		k, level := p.lo, m.stands[i]
		for ; k < p.hi && float64(m.height[k]) < level; k++ {
			depth[m.cells[k]] = float32(level - float64(m.height[k]))
		}
		for last := p.lo + m.wet[i]; last > k; last-- {
			depth[m.cells[last-1]] = grid.NoData
		}
		m.wet[i] = k - p.lo
	}
}
