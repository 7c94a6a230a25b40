package channel

import (
	"math"

	"github.com/paulmach/orb"
	"runnel/geo/grid"
)

// spread returns how far from a reach's line its surface lies below the ground
// or below the water, or ground is raised beside it, and a little more [m].
func (n *Network) spread(r *reach) float64 {
	far := 0.0
	look := func(r *reach, s *segment, along, side, toward float64) {
		far = max(far, n.bankToward(r, s, along, side, toward).off)
		if r.berm.width > 0 {
			far = max(far, n.toeOf(r, s, along, side, toward))
		}
	}
	for i := r.first; i < r.end; i++ {
		s := &n.segs[i]
		for along := 0.0; along < s.length; along += outlineStep {
			look(r, s, along, 1, 0)
			look(r, s, along, -1, 1)
		}
		look(r, s, s.length, 1, 0)
		look(r, s, s.length, -1, 1)
	}
	if !r.ring {
		last := &n.segs[r.end-1]
		start, end := n.segs[r.first].facing(0, -1), last.facing(last.length, 1)
		first, second := r.capped(-1), r.capped(1)
		for _, toward := range []float64{0, 0.5, 1} {
			look(&first, &start, 0, 1, toward)
			look(&second, &end, 0, 1, toward)
		}
	}
	return min(far, farthest) + reachSpare
}

// capped returns a reach as it is round its start for way -1, or its end for 1.
func (r *reach) capped(way float64) reach {
	c := *r
	if way < 0 && r.berm.openA || way > 0 && r.berm.openB {
		c.berm.width = 0
	}
	return c
}

// A top is where a bank meets the ground or leaves the water: how far out [m],
// where, and the ground's height there, NaN where the ground ends first.
type top struct {
	off    float64
	at     orb.Point
	ground float64
}

// bankTop goes outward from a reach, to the left for side 1 and to the right for
// -1, until its design surface lies above the ground and the water. Where a bank
// is raised, that is ground.
func (n *Network) bankTop(r *reach, s *segment, along, side float64) top {
	return n.bankToward(r, s, along, side, towards(side))
}

// bankToward is bankTop with the section's form toward some other side, as it is
// round an end of a line.
func (n *Network) bankToward(r *reach, s *segment, along, side, toward float64) top {
	l := n.outlook(r, s, along, side, toward)
	t, _ := l.march()
	return t
}

// march returns the top of a bank to the nearest step out, and the last place looked
// at before it where the section lies below the ground or the water.
func (l *outlook) march() (t, below top) {
	if l.berm && l.rim >= l.foot && l.rim <= farthest {
		if t = l.crest(); l.clear(t) {
			return t, t
		}
	}
	step := min(bankStep, max(l.ground.DX, l.ground.DY))
	t = l.top(l.foot)
	below = t
	for l.inward && t.off > 0 && l.clear(t) { // outer corners may lie above the ground
		below = l.top(max(0, t.off-step))
		if !l.clear(below) {
			return t, below
		}
		t = below
	}
	for !l.clear(t) {
		below, t = t, l.top(t.off+step)
	}
	return t, below
}

// first returns the top of a bank closely, where march has it to the next step.
func (l *outlook) first() top {
	return l.closer(l.march())
}

// closer looks for the top of a bank between what march returns.
func (l *outlook) closer(t, below top) top {
	for range halvings * 2 {
		if middle := l.top((t.off + below.off) / 2); l.clear(middle) {
			t = middle
		} else {
			below = middle
		}
	}
	return t
}

// An outlook is what is seen square to a reach, from one place of it to one side.
type outlook struct {
	*Network
	*reach
	flank
	from   orb.Point
	dx, dy float64
	// bed and level are those of the reach there [m].
	bed, level float64
	// foot is how far off the bank begins to be straight, inner how far off a raised
	// bank's inner face reaches its crest, rim how far off that face ends: there, or
	// where a drain cuts it off [m].
	foot, inner, rim float64
	// berm is set where a bank is raised; inward where the bank may meet the ground
	// nearer than its foot.
	berm, inward bool
}

func (n *Network) outlook(r *reach, s *segment, along, side, toward float64) outlook {
	l := outlook{Network: n, reach: r, from: s.place(along), dx: -side * s.uy, dy: side * s.ux, bed: s.bed(along), level: s.level(along)}
	if r.form == moat {
		// From the bed's far edge on a moat is a bank of its own slope.
		l.flank = flank{half: half{bed: r.bank(s, along) + r.arm, side: r.outer}}
	} else {
		l.flank = r.flank(s, along, toward)
		l.inward = l.over != nil || l.half.form == Rounded
	}
	l.foot = l.corner()
	if r.berm.width > 0 {
		l.inner = l.out(r.berm.top - l.bed)
		l.rim = l.beforeDrain()
		l.berm = l.rim > l.foot
	}
	return l
}

// beforeDrain returns how far off the inner face of a raised bank ends [m]: at its
// crest, but where that lies in a drain at the drain's edge; nought where the face
// begins in one.
func (l *outlook) beforeDrain() float64 {
	switch {
	case !l.inDrain(l.place(l.inner)):
		return l.inner
	case l.inDrain(l.place(l.foot)):
		return 0
	}
	near, far := l.foot, l.inner
	for range halvings * 2 {
		if middle := (near + far) / 2; l.inDrain(l.place(middle)) {
			far = middle
		} else {
			near = middle
		}
	}
	return near
}

// crest returns the top of a raised bank, or of what a drain leaves of its inner face.
func (l *outlook) crest() top {
	t := l.top(l.rim)
	if l.rim < l.inner {
		t.ground = max(grid.Sample(l.ground, t.at), l.bed+l.height(l.rim))
	}
	return t
}

func (l *outlook) place(off float64) orb.Point {
	return orb.Point{l.from[0] + off*l.dx, l.from[1] + off*l.dy}
}

// top returns what lies at a distance off, be it the top of the bank or not.
func (l *outlook) top(off float64) top {
	p := l.place(off)
	return top{off, p, l.raise(grid.Sample(l.ground, p), off, p)}
}

// raise returns ground at some level [m] as it is where banks are raised.
func (l *outlook) raise(ground, off float64, p orb.Point) float64 {
	if !l.berm {
		return ground
	}
	berm := l.reach.berm.level(off, l.inner, l.slope())
	if berm > ground && !l.inDrain(p) {
		return berm
	}
	return ground
}

// clear reports whether the section lies above the ground and the water at a place.
func (l *outlook) clear(t top) bool {
	z := l.bed + l.height(t.off)
	dry := math.IsNaN(l.level) || z >= l.level
	return math.IsNaN(t.ground) || z >= t.ground-digits && dry || t.off > farthest
}

// digits is what levels may lose in being worked out [m].
const digits = 1e-9

// toeOf returns how far off the outer face of a raised bank comes down to the
// ground [m].
func (n *Network) toeOf(r *reach, s *segment, along, side, toward float64) float64 {
	l := n.outlook(r, s, along, side, toward)
	off := l.inner
	for off < farthest {
		if ground := grid.Sample(n.ground, l.place(off)); !(r.berm.level(off, l.inner, l.slope()) > ground) {
			break
		}
		off += bankStep
	}
	return off
}
