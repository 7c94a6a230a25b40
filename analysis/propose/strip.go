package propose

import (
	"math"

	"github.com/paulmach/orb"
)

// A bank is what strips reads of a station, close together in memory.
type bank struct {
	at orb.Point
	// along is its chainage, half how far out the wider bank's top is, share the length
	// that it stands for [m].
	along, half, share float64
}

// strips holds neighbouring bends apart. Places count as of different bends from where
// half a circle that leaves the strip would come round.
func (m *tester) strips(t *trial) {
	m.setStrip()
	for i := range m.strip {
		a := &m.strip[i]
		for k := i + 1; k < len(m.strip); {
			b := &m.strip[k]
			need := a.half + b.half + m.q.Strip
			if least := need * math.Pi / 2; b.along-a.along < least {
				k = m.ahead(k, a.along+least)
				continue
			}
			d := math.Sqrt(square(a.at, b.at))
			if short := need + slackMargin - d; short > 0 {
				t.faults[crowded] += a.share * b.share * short / need
			}
			k = m.ahead(k, b.along+d-need-slackMargin-a.half)
		}
	}
}

// setStrip lists the banks, and the first of them in each apartMost of the line.
func (m *tester) setStrip() {
	m.strip, m.firsts = m.strip[:0], m.firsts[:0]
	for i := range m.stations {
		s := &m.stations[i]
		m.strip = append(m.strip, bank{s.at, s.along, s.half, s.share})
		for float64(len(m.firsts)) <= s.along/apartMost {
			m.firsts = append(m.firsts, i)
		}
	}
}

// ahead is the first station past k that lies at a chainage or beyond.
func (m *tester) ahead(k int, along float64) int {
	k++
	if j := int(along / apartMost); j >= len(m.firsts) {
		return len(m.strip)
	} else if along > 0 {
		k = max(k, m.firsts[j])
	}
	for k < len(m.strip) && m.strip[k].along < along {
		k++
	}
	return k
}
