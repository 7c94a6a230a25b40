package channel

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// line makes the links of a channel between its events.
func (g *grapher) line(i int) {
	events := g.sorted(i)
	for k := 1; k < len(events); k++ {
		a, b := events[k-1], events[k]
		if b.chainage-a.chainage < shortest {
			g.join(a.after, b.before)
			continue
		}
		r := &g.reaches[g.lines[i].reach]
		s, along := segmentAt(g.segs[r.first:r.end], (a.chainage+b.chainage)/2)
		if g.inMoat(s.place(along)) {
			continue
		}
		l := GraphLink{Kind: RunLink, ID: g.lines[i].ID, From: a.after, To: b.before, Stations: g.along(i, a.chainage, b.chainage)}
		if g.find(l.From) == g.find(l.To) {
			g.halve(l)
			continue
		}
		g.links = append(g.links, l)
	}
}

// halve adds a link that comes back to where it began as two, with a node between.
func (g *grapher) halve(l GraphLink) {
	last := len(l.Stations) - 1
	middle := l.Stations[(last+1)/2]
	g.nodes = append(g.nodes, GraphNode{ID: l.ID, Chainage: middle.Chainage, At: middle.At})
	g.same = append(g.same, len(g.same))
	first, second := l, l
	first.To, second.From = len(g.nodes)-1, len(g.nodes)-1
	first.Stations, second.Stations = l.Stations[:(last+1)/2+1], slices.Clone(l.Stations[(last+1)/2:])
	for i := range second.Stations {
		second.Stations[i].Along -= middle.Along
	}
	g.links = append(g.links, first, second)
}

// along lists the stations of a channel from one chainage to another [m].
func (g *grapher) along(line int, from, to float64) []LinkStation {
	f := &g.lines[line]
	r := &g.reaches[f.reach]
	var list []LinkStation
	for i := r.first; i < r.end; i++ {
		s := &g.segs[i]
		a, b := max(from, s.start), min(to, s.start+s.length)
		if b-a < shortest {
			continue
		}
		parts := math.Ceil((b - a) / g.step)
		for k := 0.0; k <= parts; k++ {
			c := a + (b-a)*k/parts
			along := c - s.start
			st := LinkStation{Along: c - from, Chainage: c, At: s.place(along), Bed: s.bed(along), Water: s.level(along)}
			if m := len(list) - 1; k == 0 && m >= 0 && list[m].Bed == st.Bed {
				continue
			}
			st.Section, _ = g.SectionAt(f.ID, c)
			left, right, _ := g.Banks(f.ID, c)
			st.Left, st.Right = g.bankLevel(left), g.bankLevel(right)
			list = append(list, st)
		}
	}
	if from == 0 && !r.ring {
		low, _ := g.roundOff(line, -1)
		list[0].lower(low)
	}
	if to == g.length(line) && !r.ring {
		low, _ := g.roundOff(line, 1)
		list[len(list)-1].lower(low)
	}
	return list
}

// lower takes the bank round an end into the banks at its station.
func (s *LinkStation) lower(bank float64) {
	s.Left, s.Right = lowerBank(s.Left, bank), lowerBank(s.Right, bank)
}

// lowerBank returns the lower of two banks [m], either of which may be none.
func lowerBank(a, b float64) float64 {
	if b < a || math.IsNaN(a) {
		return b
	}
	return a
}

// round makes the links of a moat: its outline from each node to the next. They
// count toward the channel of the node that they leave.
func (g *grapher) round(m ringed) {
	r := &g.reaches[m.reach]
	last := &g.segs[r.end-1]
	total := last.start + last.length
	for i, a := range m.at {
		b := m.at[(i+1)%len(m.at)]
		to := b.chainage
		if i == len(m.at)-1 {
			to += total
		}
		if to-a.chainage < shortest {
			g.join(a.after, b.before)
			continue
		}
		l := GraphLink{Kind: ArmLink, ID: g.nodes[a.after].ID, Island: g.islands[m.reach].ID, From: a.after, To: b.before}
		l.Stations = g.arm(r, a.chainage, to)
		l.setChainages(g.nodes[l.From].Chainage, g.nodes[l.To].Chainage)
		if g.nodes[l.To].ID == l.ID && g.nodes[l.To].Chainage < g.nodes[l.From].Chainage {
			l.turn()
		}
		if g.find(l.From) == g.find(l.To) {
			g.halve(l)
			continue
		}
		g.links = append(g.links, l)
	}
}

// arm lists the stations of a moat along its outline, which goes round with the
// island on its left, from one chainage to another that may lie past its end [m].
func (g *grapher) arm(r *reach, from, to float64) []LinkStation {
	last := &g.segs[r.end-1]
	total := last.start + last.length
	var list []LinkStation
	for _, lap := range []float64{0, total} {
		for i := r.first; i < r.end; i++ {
			s := &g.segs[i]
			a, b := max(from, s.start+lap), min(to, s.start+s.length+lap)
			if b-a < shortest {
				continue
			}
			parts := math.Ceil((b - a) / g.step)
			for k := 0.0; k <= parts; k++ {
				if k == 0 && len(list) > 0 {
					continue
				}
				c := a + (b-a)*k/parts
				st := g.armStation(r, s, c-lap-s.start)
				st.Along = c - from
				list = append(list, st)
			}
		}
	}
	return list
}

// armStation is a station in the middle of a moat's bed, some way along a segment
// of the island's outline [m].
func (g *grapher) armStation(r *reach, s *segment, along float64) LinkStation {
	along = max(0, min(s.length, along))
	at, off := s.place(along), r.bank(s, along)+r.arm/2
	t := g.bankTop(r, s, along, -1)
	return LinkStation{
		At:  orb.Point{at[0] + s.uy*off, at[1] - s.ux*off},
		Bed: s.bed(along), Water: s.level(along),
		Section: Section{Bed: r.arm, Left: r.side, Right: r.outer},
		Left:    math.NaN(), Right: g.bankLevel(Bank{At: t.at, Level: t.ground}),
	}
}

// setChainages spreads the chainages of the channel's line evenly along an arm.
func (l *GraphLink) setChainages(from, to float64) {
	for i := range l.Stations {
		s := &l.Stations[i]
		s.Chainage = from + (to-from)*s.Along/l.Length()
	}
}

// turn has a link lead the other way. An arm that had the island on its left has it
// on its right then, and so passes on its left.
func (l *GraphLink) turn() {
	l.From, l.To, l.Left = l.To, l.From, !l.Left
	length := l.Length()
	slices.Reverse(l.Stations)
	for i := range l.Stations {
		s := &l.Stations[i]
		s.Along = length - s.Along
		s.Section.Left, s.Section.Right = s.Section.Right, s.Section.Left
		s.Left, s.Right = s.Right, s.Left
	}
}
