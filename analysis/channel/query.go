package channel

import (
	"math"

	"github.com/paulmach/orb"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// SectionAt returns the section of a channel or drain at a chainage [m], or at its
// nearer end where the chainage is off the line.
func (n *Network) SectionAt(id plan.ID, chainage float64) (Section, error) {
	s, along := n.lineAt(id, chainage)
	if s == nil {
		return Section{}, notLaid(id)
	}
	return n.reaches[n.lines[s.line].reach].sectionOn(s, along), nil
}

// BedAt returns the bed's level [m] on the line of a channel or drain at a chainage
// [m], beyond a step where it is at one; NaN where there is no such line.
func (n *Network) BedAt(id plan.ID, chainage float64) float64 {
	s, along := n.lineAt(id, chainage)
	if s == nil {
		return math.NaN()
	}
	return s.bed(along)
}

// PlaceAt returns the place on the line of a channel or drain at a chainage [m]; the
// zero Point where there is no such line.
func (n *Network) PlaceAt(id plan.ID, chainage float64) orb.Point {
	s, along := n.lineAt(id, chainage)
	if s == nil {
		return orb.Point{}
	}
	return s.place(along)
}

// WaterAt returns the water's level [m] in a channel or drain at a chainage [m],
// beyond a sill where it is at one; NaN where there is no such line.
func (n *Network) WaterAt(id plan.ID, chainage float64) float64 {
	s, along := n.lineAt(id, chainage)
	if s == nil {
		return math.NaN()
	}
	return s.level(along)
}

// lineAt returns the segment of a channel or drain at a chainage, and how far along
// it that is [m]; nil where there is no such line.
func (n *Network) lineAt(id plan.ID, chainage float64) (s *segment, along float64) {
	for _, f := range n.lines {
		if f.ID == id {
			r := &n.reaches[f.reach]
			return segmentAt(n.segs[r.first:r.end], chainage)
		}
	}
	return nil, 0
}

// A Bank is the top of a bank: where the section meets the ground, or the inner edge
// of the crest where the bank is raised.
type Bank struct {
	At orb.Point
	// Level is its height, NaN where the ground is not known; Off is how far it is
	// from the line, negative to the left [m].
	Level, Off float64
}

// Banks returns the tops of the two banks of a channel or drain at a chainage [m]:
// those of its own section, but where the line bends nearby and the ground there is dug
// from another part of it, further out; where an island parts the water, those across
// it. Where other water opens there it has none, and the section's own are returned.
func (n *Network) Banks(id plan.ID, chainage float64) (left, right Bank, err error) {
	s, along := n.lineAt(id, chainage)
	if s == nil {
		return Bank{}, Bank{}, notLaid(id)
	}
	r := &n.reaches[n.lines[s.line].reach]
	return n.bankAt(r, s, along, 1), n.bankAt(r, s, along, -1), nil
}

// bankAt returns the top of a bank on one side, 1 for the left and -1 for the right.
func (n *Network) bankAt(r *reach, s *segment, along, side float64) Bank {
	here := n.at(s.place(along), designed)
	switch {
	case r.form == drain:
		return n.edgeAt(r, s, along, side)
	case here.kept || !math.IsInf(here.moat, 1):
		return n.bankAcross(s, along, side)
	}
	own := n.bankBeside(r, s, along, side)
	if !n.dug(own.At) {
		return own
	}
	top := n.at(own.At, designed)
	if n.reaches[top.reach].form == moat {
		return n.bankAcross(s, along, side)
	}
	return n.bankPast(r, s, along, own)
}

// bankBeside returns the top of the bank on one side by the section alone.
func (n *Network) bankBeside(r *reach, s *segment, along, side float64) Bank {
	l := n.outlook(r, s, along, side, towards(side))
	// The water may stand above a low bank: the top is the ground's.
	l.level = math.NaN()
	t := l.first()
	return Bank{t.at, t.ground, -side * t.off}
}

// bendStep is how finely the digging of another part of a line is gone over [m].
const bendStep = 0.05

// bankPast returns the top of a bank where the ground at that of the section alone is
// dug: further out, where the digging from the same reach ends; the section's own where
// it does not, or another's begins.
func (n *Network) bankPast(r *reach, s *segment, along float64, own Bank) Bank {
	from, side := s.place(along), math.Copysign(1, -own.Off)
	place := func(off float64) orb.Point { return orb.Point{from[0] - side*s.uy*off, from[1] + side*s.ux*off} }
	near := math.Abs(own.Off)
	far := near
	for n.dug(place(far)) {
		near = far
		here := n.at(place(far), designed)
		if far += bendStep; n.reaches[here.reach].first != r.first || far > sharpestPeg*math.Abs(own.Off) {
			return own
		}
	}
	for range halvings * 2 {
		if middle := (near + far) / 2; n.dug(place(middle)) {
			near = middle
		} else {
			far = middle
		}
	}
	return Bank{place(far), n.Proposed(place(far)), -side * far}
}

// dug reports whether the ground at p, with the banks that are raised on it, is dug.
func (n *Network) dug(p orb.Point) bool {
	r := n.at(p, designed)
	return r.reach >= 0 && r.z < max(grid.Sample(n.ground, p), r.berm)-digits
}

// DugBy returns the title of what the ground at p is dug for: a channel, or an island
// that the water goes round; none where it is not dug.
func (n *Network) DugBy(p orb.Point) string {
	r := n.at(p, designed)
	switch {
	case !n.dug(p):
		return ""
	case n.reaches[r.reach].island():
		return n.islands[r.reach].Title()
	}
	return n.lines[n.segs[r.seg].line].Title()
}

// edgeAt returns the top of a drain's bank, as it is drawn.
func (n *Network) edgeAt(r *reach, s *segment, along, side float64) Bank {
	at := s.place(along)
	p := orb.Point{at[0] - side*s.uy*r.edge, at[1] + side*s.ux*r.edge}
	return Bank{p, grid.Sample(n.ground, p), -side * r.edge}
}

// bankAcross returns the top of the bank across an island from the line: beyond the
// last place that is dug.
func (n *Network) bankAcross(s *segment, along, side float64) Bank {
	const gap = 2.0 // an island's middle may be wider than this and still be passed by
	at, far := s.place(along), 0.0
	place := func(off float64) orb.Point { return orb.Point{at[0] - side*s.uy*off, at[1] + side*s.ux*off} }
	dug := func(off float64) bool {
		r := n.at(place(off), designed)
		return r.kept || !math.IsInf(r.moat, 1) || r.z < max(grid.Sample(n.ground, place(off)), r.berm)
	}
	for off := 0.0; off < min(far+gap, farthest); off += bankStep {
		if dug(off) {
			far = off
		}
	}
	beyond := far + bankStep
	for range halvings {
		if middle := (far + beyond) / 2; dug(middle) {
			far = middle
		} else {
			beyond = middle
		}
	}
	return Bank{place(beyond), n.Proposed(place(beyond)), -side * beyond}
}
