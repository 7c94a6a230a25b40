package propose

import (
	"math"

	"github.com/paulmach/orb"
	"runnel/analysis/channel"
	"runnel/geo/grid"
)

// leastBank is the lower of the two banks at a station, at their tops and a cell
// further out [m].
func (m *tester) leastBank(s *station, width, cell float64) float64 {
	least := math.Inf(1)
	for k := range 2 {
		off := m.off(s, k, width)
		least = min(least, s.ground+s.rise[k]*off, s.ground+s.rise[k]*(off+cell))
	}
	return least
}

// banks holds the banks against the water, or sets the water's level below them.
func (m *tester) banks(t *trial) {
	least, cell := math.Inf(1), math.Hypot(m.site.Ground.DX, m.site.Ground.DY)
	for i := range m.stations {
		s := &m.stations[i]
		bank := m.leastBank(s, t.width, cell)
		t.faults[deep] += s.share * max(0, s.deep()-m.q.Deepest)
		if math.IsNaN(m.ends.water) {
			least = min(least, bank)
			t.faults[low] += s.share * max(0, s.bed+channel.Freeboard+leastWater-bank)
			continue
		}
		if short := t.level + channel.Freeboard + bankMargin - bank; short > 0 && !m.ends.byTie(s.at) {
			t.faults[low] += s.share * short
		}
	}
	least = min(least, m.endBank(&m.stations[0], -1, t), m.endBank(&m.stations[len(m.stations)-1], 1, t))
	if math.IsNaN(m.ends.water) {
		t.level = least - channel.Freeboard
	}
}

// leastWater is the depth of water [m] below which a course that no drain feeds counts
// as dry.
const leastWater = 0.05

// endBank returns the lowest ground round an end, ahead for way 1 and behind for -1
// [m], and holds it against the water.
func (m *tester) endBank(s *station, way float64, t *trial) float64 {
	if way < 0 && m.ends.byFrom || way > 0 && m.ends.byTo {
		return math.Inf(1)
	}
	least := math.Inf(1)
	off := t.width/2 + max(0, s.deep())*max(m.q.Left, m.q.Right)
	for k := -2.0; k <= 2; k++ {
		sin, cos := math.Sincos(k * math.Pi / 6)
		dx, dy := way*(s.ux*cos-s.uy*sin), way*(s.uy*cos+s.ux*sin)
		if z := grid.Sample(m.site.Ground, orb.Point{s.at[0] + off*dx, s.at[1] + off*dy}); z < least {
			least = z
		}
	}
	if short := t.level + channel.Freeboard + bankMargin - least; short > 0 {
		t.faults[low] += short
	}
	return least
}
