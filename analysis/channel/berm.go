package channel

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// A berm is how the banks beside a line are raised; none where its width is nought.
type berm struct {
	// top is the level of its crest, width how wide that is [m].
	top, width float64
	// openA and openB are set where the line's start or end opens on a drain or into
	// another run: there no bank stands round the end.
	openA, openB bool
}

// raiseBanks gives a run the raised banks that its channel has.
func (b *builder) raiseBanks(l *laid) {
	top := l.feature.Num("bank_top")
	if math.IsNaN(top) {
		return
	}
	l.berm = berm{top: top, width: l.feature.Num("bank_width")}
	_, l.berm.openA = b.tie(l.feature, l.line[0])
	_, l.berm.openB = b.tie(l.feature, l.line[len(l.line)-1])
}

// level returns that of a raised bank [m] at a distance from the line, where its
// inner face reaches the top at inner [m] and its outer has a slope [H:V].
func (b *berm) level(off, inner, slope float64) float64 {
	return b.top - max(0, off-inner-b.width)/slope
}

// raised returns the level up to which ground at a hit is raised as a bank [m], -Inf
// where it is not. Whether it is cut again is for the design level to say.
func (r *reach) raised(s *segment, h hit) float64 {
	if r.berm.width == 0 || h.end < 0 && r.berm.openA && r.atEnd(h) || h.end > 0 && r.berm.openB && r.atEnd(h) {
		return math.Inf(-1)
	}
	if r.form == moat {
		bed := s.bed(h.along)
		outer := max(r.outer, steepest)
		return r.berm.level(h.off, r.bank(s, h.along)+r.arm+max(0, r.berm.top-bed)*outer, outer)
	}
	f := r.flank(s, h.along, r.toward(h))
	return r.berm.level(h.off, f.out(r.berm.top-s.bed(h.along)), f.slope())
}

// openJoints takes raised banks away from round the ends of runs that lie in the cut
// of another run.
func (b *builder) openJoints() {
	for _, j := range b.joints {
		b.openTo(j.a, j.atA, b.runs[j.b], j.atB)
		b.openTo(j.b, j.atB, b.runs[j.a], j.atA)
	}
}

// openTo opens the end of a run, if a place along it is at an end [m], to another run
// that it meets there.
func (b *builder) openTo(i int, at float64, other laid, there float64) {
	l := &b.runs[i]
	if l.ring || l.berm.width == 0 {
		return
	}
	near := b.halfWidth(&other, there)
	l.berm.openA = l.berm.openA || at <= near
	l.berm.openB = l.berm.openB || at >= planar.Length(l.line)-near
}

// A clearing is a drain as it is drawn, on which no bank is raised.
type clearing struct {
	segs  []segment
	edge  float64
	bound orb.Bound
}

// clear lists the drains that raised banks must leave open.
func (b *builder) clear() {
	for i := range b.drains {
		l := &b.drains[i]
		b.clearings = append(b.clearings, clearing{l.segs, l.edge, l.line.Bound().Pad(l.edge)})
	}
}

// inDrain reports whether a place lies in a drain as it is drawn.
func (n *Network) inDrain(p orb.Point) bool {
	for i := range n.clearings {
		c := &n.clearings[i]
		if !c.bound.Contains(p) {
			continue
		}
		for k := range c.segs {
			if _, square := c.segs[k].near(p); square <= c.edge*c.edge {
				return true
			}
		}
	}
	return false
}

// kept returns how far from a drain no bank is raised [m]; nought where the network
// raises none.
func (n *Network) kept(drain *reach) float64 {
	for i := range n.reaches {
		if n.reaches[i].berm.width > 0 {
			return drain.edge
		}
	}
	return 0
}
