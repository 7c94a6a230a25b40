package channel

import (
	"math"

	"github.com/paulmach/orb"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// Crests lists the islands that channels ring and whose top is raised, with their
// outlines as those of moats are.
func (n *Network) Crests() []Moat {
	var all []Moat
	for i, f := range n.islands {
		if n.reaches[i].ringed() {
			all = append(all, Moat{f.ID, f.Title(), outward(f.Area()[0])})
		}
	}
	return all
}

// ringed reports whether a reach is an island that is raised in a ring of channel.
func (r *reach) ringed() bool { return r.form == kept && !math.IsNaN(r.top) }

// CrestStaking returns what stands on a peg on the crest of such an island, at a
// chainage of its outline [m]. Its Bed is the crest, to be filled to, as is the top of
// its left bank; its right bank is the toe, where the bank comes down to the ground or
// to what is dug.
func (n *Network) CrestStaking(id plan.ID, chainage float64) (p Staking, ok bool) {
	for i, f := range n.islands {
		r := &n.reaches[i]
		if f.ID != id || !r.ringed() {
			continue
		}
		s, along := segmentAt(n.segs[r.first:r.end], chainage)
		p = Staking{At: s.place(along), Across: orb.Point{s.uy, -s.ux}, Bed: r.top, Water: math.NaN(), Width: math.NaN()}
		if along < shortest && s.turnA != 0 {
			p.Across = s.halved()
		}
		p.Left = Bank{At: p.At, Level: r.top}
		p.Right = n.toeFrom(p)
		return p, true
	}
	return Staking{}, false
}

// toeFrom returns where, to the right of a peg, an island's fill comes to its end.
func (n *Network) toeFrom(p Staking) Bank {
	at := func(off float64) orb.Point {
		return orb.Point{p.At[0] + off*p.Across[0], p.At[1] + off*p.Across[1]}
	}
	near, far := 0.0, bendStep
	for n.filled(at(far)) && far < farthest {
		near, far = far, far+bendStep
	}
	for range moatHalvings {
		if middle := (near + far) / 2; n.filled(at(middle)) {
			near = middle
		} else {
			far = middle
		}
	}
	return Bank{At: at(far), Level: n.Proposed(at(far)), Off: far}
}

// filled reports whether an island is raised at p.
func (n *Network) filled(p orb.Point) bool {
	r := n.at(p, designed)
	return r.fill > min(max(grid.Sample(n.ground, p), r.berm), r.z)
}
