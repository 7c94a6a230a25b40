package channel

import (
	"math"

	"github.com/paulmach/orb"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Staking is what stands on a peg in the middle of a bed: levels and lengths in
// metres, NaN where they are not known.
type Staking struct {
	At orb.Point
	// Across is the direction to the right, of length 1.
	Across orb.Point
	// Bed and Water are the levels there, Width is the bed's.
	Bed, Water, Width float64
	// Left and Right are the tops of the banks; of a moat, Left is the island's crest.
	Left, Right Bank
}

// Staking returns what stands on a peg at a chainage of a channel [m].
func (n *Network) Staking(id plan.ID, chainage float64) (Staking, error) {
	r := n.reachOf(id)
	if r == nil {
		return Staking{}, notLaid(id)
	}
	s, along := segmentAt(n.segs[r.first:r.end], chainage)
	section, err := n.SectionAt(id, chainage)
	if err != nil {
		return Staking{}, err
	}
	p := Staking{
		At: s.place(along), Across: orb.Point{s.uy, -s.ux},
		Bed: n.BedAt(id, chainage), Water: n.WaterAt(id, chainage), Width: section.Bed,
	}
	if len(section.Line) > 0 {
		p.Width = math.NaN() // a surveyed bed has no edges
	}
	p.Left, p.Right = n.bankAt(r, s, along, 1), n.bankAt(r, s, along, -1)
	if along < shortest && s.turnA != 0 && n.moatAt(p.At) < 0 {
		p.Across = s.halved()
		p.Left = n.turned(p, n.bankBeside(r, s, along, 1), s.turnA)
		p.Right = n.turned(p, n.bankBeside(r, s, along, -1), -s.turnA)
		// Beside a moat the digging goes on.
		if n.dug(p.Left.At) {
			p.Left = n.bankAt(r, s, along, 1)
		}
		if n.dug(p.Right.At) {
			p.Right = n.bankAt(r, s, along, -1)
		}
	}
	return p, nil
}

// turned brings the top of a bank at a bend on to the way across, on the inner side for
// a turn [tangent of half of it] above nought.
func (n *Network) turned(p Staking, top Bank, turn float64) Bank {
	// On the inner side all that lies as far from the two sides lies further from the bend.
	top.Off *= min(math.Hypot(1, max(0, turn)), sharpestPeg)
	top.At = orb.Point{p.At[0] + top.Off*p.Across[0], p.At[1] + top.Off*p.Across[1]}
	return n.dugTo(p, top)
}

// sharpestPeg is how much further than beside a straight the top of a bank is looked
// for inside a bend: as far as for a turn of 120°.
const sharpestPeg = 2.0

// halved is the direction to the right at the start of a segment, half way between its
// own and that of the one before.
func (s *segment) halved() orb.Point {
	sin, cos := math.Sincos(-math.Atan(s.turnA))
	ux, uy := s.ux*cos-s.uy*sin, s.ux*sin+s.uy*cos
	return orb.Point{uy, -ux}
}

// dugTo moves the top of a bank to where the digging ends, which is looked for in steps
// elsewhere. A raised bank stays, as does one that lies in another channel.
func (n *Network) dugTo(p Staking, top Bank) Bank {
	dx, dy := top.At[0]-p.At[0], top.At[1]-p.At[1]
	full := math.Hypot(dx, dy)
	at := func(off float64) orb.Point {
		return orb.Point{p.At[0] + off*dx/full, p.At[1] + off*dy/full}
	}
	if ground := grid.Sample(n.ground, top.At); full < shortest || !(n.Shape(top.At, ground) <= ground) {
		return top
	}
	to := full
	for !n.untouched(at(to)) {
		if to += bankStep; to > full+2*bankStep {
			return top
		}
	}
	from := to - bankStep
	for from > 0 && n.untouched(at(from)) {
		from -= bankStep
	}
	from = max(0, from)
	for range moatHalvings {
		if middle := (from + to) / 2; n.untouched(at(middle)) {
			to = middle
		} else {
			from = middle
		}
	}
	return Bank{At: at(to), Level: grid.Sample(n.ground, at(to)), Off: math.Copysign(to, top.Off)}
}

// untouched reports whether the design leaves the ground at p as it is.
func (n *Network) untouched(p orb.Point) bool {
	ground := grid.Sample(n.ground, p)
	return n.Shape(p, ground) == ground
}

// reachOf finds the reach of a channel; nil where it is not laid out.
func (n *Network) reachOf(id plan.ID) *reach {
	for i := range n.lines {
		if f := &n.lines[i]; f.ID == id && f.Kind == plan.Channel {
			return &n.reaches[f.reach]
		}
	}
	return nil
}

// moatStep is how finely a line is searched for the edges of moats [m], and
// moatHalvings how often a step is halved then.
const (
	moatStep     = 0.1
	moatHalvings = 12
)

// MoatsOn lists the stretches of a channel's line that lie in the bed of a moat, on
// its bank or on its island: where the water has left the line for the arms.
func (n *Network) MoatsOn(id plan.ID) []Span {
	r := n.reachOf(id)
	if r == nil {
		return nil
	}
	var spans []Span
	inside := -1 // the island whose moat the walk is in
	last := 0.0
	for i := r.first; i < r.end; i++ {
		s := &n.segs[i]
		count := math.Ceil(s.length / moatStep)
		for k := 0.0; k <= count; k++ {
			along := s.length * k / count
			here := n.moatAt(s.place(along))
			if here != inside {
				at := n.moatEdge(s, max(0, along-s.length/count), along)
				if inside >= 0 {
					spans[len(spans)-1].To = s.start + at
				}
				if here >= 0 {
					f := n.islands[here]
					spans = append(spans, Span{f.ID, f.Title(), s.start + at, s.start + at})
				}
				inside = here
			}
			last = s.start + along
		}
	}
	if inside >= 0 {
		spans[len(spans)-1].To = last
	}
	return spans
}

// moatAt returns the number of the island in whose moat, or on which behind its
// moat, p lies; -1 where it lies in none.
func (n *Network) moatAt(p orb.Point) int {
	here := n.at(p, designed)
	if here.reach < 0 || n.reaches[here.reach].form != moat || !here.kept && math.IsInf(here.moat, 1) {
		return -1
	}
	return here.reach
}

// moatEdge returns where, between two places of a segment [m], the moat changes.
func (n *Network) moatEdge(s *segment, from, to float64) float64 {
	first := n.moatAt(s.place(from))
	for range moatHalvings {
		if middle := (from + to) / 2; n.moatAt(s.place(middle)) == first {
			from = middle
		} else {
			to = middle
		}
	}
	return to
}

// A Moat is an island with water all round, and its outline with the island on the
// left.
type Moat struct {
	ID      plan.ID
	Title   string
	Outline orb.LineString
}

// Moats lists the moats that are laid out.
func (n *Network) Moats() []Moat {
	var all []Moat
	for i, f := range n.islands {
		if n.reaches[i].form == moat {
			all = append(all, Moat{f.ID, f.Title(), outward(f.Area()[0])})
		}
	}
	return all
}

// MoatStaking returns what stands on a peg in the middle of a moat's bed, across from
// a chainage of the island's outline [m]; ok is false where the bed there is not the
// moat's own, as between two islands.
func (n *Network) MoatStaking(id plan.ID, chainage float64) (p Staking, ok bool) {
	for i, f := range n.islands {
		if r := &n.reaches[i]; f.ID == id && r.form == moat {
			s, along := segmentAt(n.segs[r.first:r.end], chainage)
			p = n.moatStaking(r, s, along)
			here := n.at(p.At, designed)
			return p, here.reach == i && !here.kept
		}
	}
	return Staking{}, false
}

func (n *Network) moatStaking(r *reach, s *segment, along float64) Staking {
	turned, stretch := *s, 1.0
	turned.a = s.place(along)
	turned.bedA, turned.crestA, turned.levelA = s.bed(along), s.crest(along), s.level(along)
	turned.bedB, turned.crestB, turned.levelB = turned.bedA, turned.crestA, turned.levelA
	if along < shortest && s.turnA != 0 {
		// At a corner of the outline the way out halves it; an inner one is farther in.
		across := s.halved()
		turned.ux, turned.uy = -across[1], across[0]
		if s.turnA < 0 {
			stretch = math.Hypot(1, s.turnA)
		}
	}
	bank := r.bank(&turned, 0)
	off := (bank + r.arm/2) * stretch
	outer := n.bankTop(r, &turned, 0, -1)
	p := Staking{
		At: orb.Point{turned.a[0] + turned.uy*off, turned.a[1] - turned.ux*off}, Across: orb.Point{turned.uy, -turned.ux},
		Bed: turned.bedA, Water: turned.levelA, Width: r.arm,
		Left:  Bank{At: turned.a, Level: turned.crestA, Off: -off},
		Right: Bank{At: outer.at, Level: outer.ground, Off: max(0, outer.off-off)},
	}
	p.Right = n.dugTo(p, p.Right)
	return p
}
