package propose

import (
	"math"

	"runnel/analysis/channel"
)

// steepest is the least side slope that is worked with [H:V], as package channel has it.
const steepest = 0.001

// gentlest is the least that a bank gains on the ground beyond it, as a share of its
// rise: less, and it comes to no top.
const gentlest = 0.2

// gain is how a bank of a slope gains on ground that rises outward by so much [m/m].
func gain(slope, rise float64) float64 { return max(gentlest, 1-rise*slope) }

// side is the slope of the left bank for 0, of the right for 1 [H:V].
func (m *tester) side(k int) float64 {
	if k == 0 {
		return max(steepest, m.q.Left)
	}
	return max(steepest, m.q.Right)
}

// off is how far from the line the top of a bank lies [m].
func (m *tester) off(s *station, k int, width float64) float64 {
	w, slope := width/2, m.side(k)
	return w + slope*max(0, s.deep()+(s.rise[k]-m.lift(slope))*w)/gain(slope, s.rise[k])
}

// lift is how high a bed has risen at its edge, for each metre of its half width.
func (m *tester) lift(slope float64) float64 {
	if m.q.Form == channel.Rounded {
		return 1 / (2 * slope)
	}
	return 0
}

// setWidth finds the width of bed that uses the volume. The area of cut at a station is
// quadratic in half the bed's width w: with the ground D above the bed on the line and
// rising by m outward, D w + m w²/2 over the bed, and (D + m w)² s / 2(1 - m s) over
// the bank; a rounded bed has risen by w/2s at its edge, and its parabola takes w²/6s.
func (m *tester) setWidth(t *trial) {
	var c [3]float64
	for i := range m.stations {
		s := &m.stations[i]
		if s.deep() <= 0 {
			continue
		}
		for k := range 2 {
			slope := m.side(k)
			lift, d := m.lift(slope), s.deep()
			bank, rise := slope/(2*gain(slope, s.rise[k])), s.rise[k]-lift
			c[0] += s.share * bank * d * d
			c[1] += s.share * (d + 2*bank*d*rise)
			c[2] += s.share * (s.rise[k]/2 - lift/3 + bank*rise*rise)
		}
	}
	m.addCaps(&c)
	t.width = m.clamp(2 * root(c, m.dig))
	w := t.width / 2
	t.volume = c[0] + w*(c[1]+w*c[2])
	if over := t.volume/m.dig - 1; t.width <= m.q.Narrowest && over > overdug {
		t.faults[costly] = over
	}
}

// overdug is by how much the volume of the narrowest bed may pass what is asked.
const overdug = 0.001

// addCaps adds what is dug round the ends: half a disc, and half a ring below a cone.
func (m *tester) addCaps(c *[3]float64) {
	slope := (m.side(0) + m.side(1)) / 2
	for _, s := range []*station{&m.stations[0], &m.stations[len(m.stations)-1]} {
		d := max(0, s.deep())
		c[0] += math.Pi * slope * slope * d * d * d / 6
		c[1] += math.Pi * slope * d * d / 2
		c[2] += math.Pi * d / 2
	}
}

// root solves c0 + c1 w + c2 w² = v for the least w that is not negative; nought where
// c0 is more, and +Inf where it comes to no such volume.
func root(c [3]float64, v float64) float64 {
	a, b, d := c[2], c[1], c[0]-v
	if d >= 0 {
		return 0
	}
	if math.Abs(a) < 1e-12 {
		if b <= 0 {
			return math.Inf(1)
		}
		return -d / b
	}
	under := b*b - 4*a*d
	if under < 0 {
		return math.Inf(1)
	}
	// The form that loses no digits where c2 is small.
	if w := -2 * d / (b + math.Sqrt(under)); w > 0 {
		return w
	}
	return math.Inf(1)
}

// setHalves works out how far the banks go.
func (m *tester) setHalves(width float64) {
	for i := range m.stations {
		s := &m.stations[i]
		s.half = max(m.off(s, 0, width), m.off(s, 1, width))
	}
}

// setbacks holds the banks against what is kept clear of.
func (m *tester) setbacks(t *trial) {
	zone, stretches, within := 0.0, 0, false
	for i := range m.stations {
		s := &m.stations[i]
		half := s.half + slackMargin
		short := half - m.free.at(s.at)
		if need := m.needed(s.along, t.length-s.along, half); len(m.world.near) > 0 {
			short = max(short, need-m.by.at(s.at))
		}
		t.faults[near] += s.share * max(0, short)
		if len(m.crossed) == 0 {
			continue
		}
		now := m.service.at(s.at) < half
		if now {
			zone += s.share
		}
		if now && !within {
			stretches++
		}
		within = now
	}
	if n := len(m.crossed); n > 0 {
		widest := m.crossed[0].limit + 2*m.usualHalf()
		t.faults[across] = float64(max(0, stretches-n)) + max(0, zone-float64(n)*slanting*2*widest)
	}
}

// slanting is how much longer than straight across a service line is crossed at most.
const slanting = 2.0
