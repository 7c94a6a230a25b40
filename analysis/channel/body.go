package channel

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A Body is water that stands at one level: parts of channels that are open to one
// another and that no sill parts, with the moats on them.
type Body struct {
	// Parts are in the order in which their channels are drawn, then up the chainage.
	Parts []Part
	// Level is that of its water at rest in use [m], no higher than where it runs out.
	Level float64
	// Brim is the lowest of its own banks, or where it is open to a drain. Where that is
	// beyond the end of a channel, BrimWidth is the bed's width there [m], else nought.
	Brim      Brim
	BrimWidth float64
	// Openings are where it is open to drains, Spillways those at its banks.
	Openings  []Opening
	Spillways []Overflow
}

// A Part is a part of a channel, from one chainage to another [m].
type Part struct {
	ID       plan.ID
	From, To float64
}

// A Pass is where water goes from one Body to another, by their numbers, above a
// crest [m]: over a sill, or where the cuts of two channels open into one another.
type Pass struct {
	From, To int
	// Sill is nought where none stands there, Title what parts the two.
	Sill  plan.ID
	Title string
	At    orb.Point
	// Width is that of the section at the height of the crest [m].
	Crest, Width float64
}

// Bodies lists the waters of the channels, those of the channel drawn first first, and
// where they pass into one another. Channels whose water cannot be measured are left out.
func (n *Network) Bodies() ([]Body, []Pass) {
	n = n.Standing()
	of, count := n.bodyOf()
	bodies := make([]Body, count)
	for i := range n.pools {
		if of[i] >= 0 {
			bodies[of[i]].add(n, &n.pools[i])
		}
	}
	for i := range n.segs {
		s := &n.segs[i]
		if f := &n.lines[s.line]; f.Kind == plan.Channel && of[s.pool] >= 0 {
			b := &bodies[of[s.pool]]
			b.Level = max(b.Level, s.levelA)
		}
	}
	for i := range bodies {
		slices.SortStableFunc(bodies[i].Parts, func(a, b Part) int {
			return cmp.Or(cmp.Compare(n.lineNumber(a.ID), n.lineNumber(b.ID)), cmp.Compare(a.From, b.From))
		})
	}
	for _, spill := range n.spillways {
		if line, m := n.spillsFrom(spill); line >= 0 {
			if k := of[n.poolAt(line, m.Chainage)]; k >= 0 {
				bodies[k].Spillways = append(bodies[k].Spillways, Overflow{spill.ID, spill.Title(), spill.Point(), m.Level, spill.Num("width")})
			}
		}
	}
	return bodies, n.passes(of)
}

// bodyOf gives every pool the number of its body, -1 where its water cannot be
// measured, and says how many there are.
func (n *Network) bodyOf() (of []int, count int) {
	numbers := map[int]int{}
	for i := range n.pools {
		p := &n.pools[i]
		if n.lines[p.run].withheld {
			of = append(of, -1)
			continue
		}
		k, ok := numbers[p.water]
		if !ok {
			k, count = count, count+1
			numbers[p.water] = k
		}
		of = append(of, k)
	}
	return of, count
}

func (n *Network) lineNumber(id plan.ID) int {
	return slices.IndexFunc(n.lines, func(f feature) bool { return f.ID == id })
}

// poolAt returns the number of the pool of a line at a chainage [m].
func (n *Network) poolAt(line int, chainage float64) int {
	return (&filling{pools: n.pools}).poolAt(line, chainage)
}

// add takes in a pool of the network.
func (b *Body) add(n *Network, p *pool) {
	f := &n.lines[p.run]
	if len(b.Parts) == 0 {
		b.Brim.Level, b.Level = math.Inf(1), math.Inf(-1)
	}
	b.Parts = append(b.Parts, Part{f.ID, p.from, p.to})
	out := lip{level: p.tie.level + tieSlack, drain: p.tie.drain, at: p.tie.at, of: f.ID, title: f.Title()}
	if own := p.bank.orLower(out); own.level < b.Brim.Level {
		b.Brim, b.BrimWidth = Brim{own.level, own.of, own.at, own.placeOn(), own.drain}, 0
		if own.side == 0 && own.drain == "" && own.island == "" {
			section, _ := n.SectionAt(f.ID, own.chainage)
			b.BrimWidth = section.Bed
		}
	}
	if end := n.length(p.run); !n.reaches[f.reach].ring {
		for _, way := range []float64{-1, 1} {
			if way < 0 && p.from > 0 || way > 0 && p.to < end-shortest {
				continue
			}
			if o, ok := n.openEnd(p.run, way); ok {
				b.Openings = append(b.Openings, o)
			}
		}
	}
	for d := range n.lines {
		if n.lines[d].Kind != plan.Drain {
			continue
		}
		for _, at := range n.crossesAt(p.run, d) {
			if at >= p.from && at <= p.to {
				b.Openings = append(b.Openings, n.openAcross(p.run, d, at))
			}
		}
	}
	slices.SortStableFunc(b.Openings, func(x, y Opening) int { return cmp.Compare(n.lineNumber(x.Channel), n.lineNumber(y.Channel)) })
}

// passes lists where bodies pass into one another.
func (n *Network) passes(of []int) []Pass {
	var all []Pass
	for _, l := range n.links {
		up, down := &n.pools[l.from], &n.pools[l.to]
		p := Pass{From: of[l.from], To: of[l.to], Crest: l.crest, At: l.at}
		line := &n.lines[up.run]
		if l.sill {
			p.Sill, p.Title = l.over.ID, l.over.Title()
			p.Crest = ifFinite(up.crest, n.waters[up.water].level)
			c := up.to
			if math.Abs(up.to-down.from) > shortest {
				c = up.from
			}
			p.At = n.PlaceAt(line.ID, c)
		} else {
			p.Title = line.Title()
		}
		if p.From < 0 || p.To < 0 || p.From == p.To || math.IsNaN(p.Crest) || math.IsInf(p.Crest, 0) {
			continue
		}
		c, _ := Chainage(line.Line(), p.At)
		section, _ := n.SectionAt(line.ID, c)
		p.Width = max(section.TopWidth(p.Crest-n.BedAt(line.ID, c)), section.Bed)
		all = append(all, p)
	}
	return all
}
