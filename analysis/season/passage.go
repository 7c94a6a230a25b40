package season

import "math"

// An asked is what a pool goes through in a day: from a volume v in segment k, with an inflow,
// losses over contact and surface [m a day], up to a volume cap at most.
type asked struct {
	v                      float64
	k                      int
	inflow, soak, dry, cap float64
	// back is set where what would rise above the cap runs back to the drain.
	back bool
}

// A passage is how it went: the volume at last; the integrals of contact and surface over the day;
// the share of the day for which there was water, and that for which it stood at its cap.
type passage struct {
	v                           float64
	k                           int
	contact, surface, wet, full float64
}

// still is how much slower than its inflow or losses a volume changes that stands still.
const still = 1e-12

// pass follows a pool through a day, and adds to standing the time that it spends in each
// segment. dV/dt = a − bV in each, so all is in closed form.
func (b *basin) pass(a asked, standing []float64) passage {
	p := passage{v: a.v, k: b.at(a.v, a.k)}
	for left := 1.0; left > 0; {
		s := &b.segments[p.k]
		u := p.v - s.v
		contact, surface := s.c+s.c1*u, s.s+s.s1*u
		lost := a.soak*contact + a.dry*surface
		net := a.inflow - lost
		if math.Abs(net) <= still*(a.inflow+lost) {
			net = 0
		}
		switch {
		case net <= 0 && p.v == 0:
			if a.inflow > 0 {
				p.trickle(left*min(1, a.inflow/lost), contact, surface)
			}
			return p
		case net >= 0 && p.v >= a.cap:
			p.full += left
			p.rest(left, contact, surface, standing)
			return p
		case net == 0:
			p.rest(left, contact, surface, standing)
			return p
		case net < 0 && u == 0:
			p.k--
		}
		left -= b.piece(&a, &p, left, standing)
	}
	return p
}

// rest leaves a volume as it is for a time.
func (p *passage) rest(time, contact, surface float64, standing []float64) {
	p.trickle(time, contact, surface)
	standing[p.k] += time
}

// trickle adds a time over which there is water, but none that stands.
func (p *passage) trickle(time, contact, surface float64) {
	p.wet += time
	p.contact += time * contact
	p.surface += time * surface
}

// piece follows the volume through one segment, to its end or for a time at most, and
// returns how long that took.
func (b *basin) piece(a *asked, p *passage, most float64, standing []float64) float64 {
	s := &b.segments[p.k]
	u := p.v - s.v
	gain := a.inflow - a.soak*s.c - a.dry*s.s
	slope := a.soak*s.c1 + a.dry*s.s1
	net := gain - slope*u
	end, next := s.v, p.k
	if net > 0 {
		end = a.cap
		if p.k+1 < len(b.segments) && b.segments[p.k+1].v <= end {
			end, next = b.segments[p.k+1].v, p.k+1
		}
	}
	time, v := crossing(end-p.v, net, slope), end
	if !(time <= most) {
		time, next = most, p.k
		v = p.v + net*time*eased(slope*time)
		v = min(max(v, min(p.v, end)), max(p.v, end))
	}
	y := slope * time
	var over float64 // the integral of V − s.v
	if math.Abs(y) < 1e-6 {
		over = time * (u + net*time/2*(1-y/3))
	} else {
		over = (gain*time - (v - p.v)) / slope
	}
	p.contact += time*s.c + s.c1*over
	p.surface += time*s.s + s.s1*over
	p.wet += time
	standing[p.k] += time
	p.v, p.k = v, next
	return time
}

// crossing is how long a volume takes over a way at a first net inflow that falls off by
// slope for each unit: −ln(1 − slope way/net)/slope, without end where it stands still before.
func crossing(way, net, slope float64) float64 {
	time := way / net
	x := slope * time
	switch {
	case x >= 1:
		return math.Inf(1)
	case math.Abs(x) < 1e-3:
		return time * (1 + x*(1/2.+x*(1/3.+x*(1/4.+x/5))))
	case x > 0 && time > 1: // it slows down: it takes more than a day in any case
		return math.Inf(1)
	}
	return -math.Log(1-x) / slope
}

// eased is (1 − exp(−y))/y.
func eased(y float64) float64 {
	if math.Abs(y) < 1e-3 {
		return 1 - y*(1/2.-y*(1/6.-y*(1/24.-y/120)))
	}
	return (1 - math.Exp(-y)) / y
}
