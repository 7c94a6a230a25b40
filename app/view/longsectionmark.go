package view

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// longMarks draws what stands along a long section, and names it above.
func (k *side) longMarks(l LongSection) {
	names := &nameLanes{side: k}
	for _, s := range l.Islands {
		k.islandSpan(l, s, names)
	}
	for _, m := range l.Marks {
		switch m.Kind {
		case plan.Sill:
			k.sillBar(l, m, names)
		case plan.Spillway:
			k.spillwayMark(m, names)
		case plan.Section, plan.Crossing:
			k.acrossMark(m, names)
		default:
			k.tieMark(l, m, names)
		}
	}
	names.draw()
	for _, p := range l.Pools {
		k.poolLevel(l, p)
	}
}

// nameLanes places names above the plot, in the first row that has room.
type nameLanes struct {
	*side
	taken [nameRows][][2]float64
	names []standingName
}

// A standingName is a name that starts at one place above the plot and belongs to
// another in it.
type standingName struct {
	piece
	from, of orb.Point
}

// put gives what stands at a place of the plot a name with a leader down to it.
// Where there is no room it does not.
func (n *nameLanes) put(text string, c Colour, at orb.Point) {
	look := n.small(c)
	width, b := n.letters.measure(text, look), n.view.Plot
	x := max(b.Min[0], min(at[0]-width/2, float64(n.w)-width-4*n.px))
	for row := range n.taken {
		free := true
		for _, span := range n.taken[row] {
			free = free && (x+width+8*n.px < span[0] || x-8*n.px > span[1])
		}
		if !free {
			continue
		}
		n.taken[row] = append(n.taken[row], [2]float64{x, x + width})
		y := b.Min[1] - (float64(row)*nameRoom+4)*n.px
		n.names = append(n.names, standingName{piece{text, n.lifted(look)}, orb.Point{x, y}, at})
		return
	}
}

// draw draws all leaders and then all names, so that none is crossed out.
func (n *nameLanes) draw() {
	for _, name := range n.names {
		c := name.look.colour
		n.side.draw([]orb.Point{{name.of[0], name.from[1] + 2*n.px}, name.of}, Pen{Colour: faint(c, 0.55), Width: n.px, Dash: []float64{2 * n.px, 2 * n.px}})
	}
	for _, name := range n.names {
		n.write(name.text, name.look, upright(name.from[0], name.from[1]))
	}
}

// islandSpan marks the stretch of an island along the foot of the plot and names
// it over the ground that it keeps.
func (k *side) islandSpan(l LongSection, s channel.Span, names *nameLanes) {
	look := k.look.Kinds[plan.Island]
	foot := k.view.Plot.Max[1]
	from, to := k.place(s.From, 0)[0], k.place(s.To, 0)[0]
	k.draw([]orb.Point{{from, foot}, {to, foot}}, Pen{Colour: look.Edge.Colour, Width: 4 * k.px})
	middle := (s.From + s.To) / 2
	names.put(k.trf("%[1]s, %[2]s long", k.look.Tongue.say(s.Title), k.chainage(s.To-s.From)), look.Text, k.place(middle, l.At(middle).Proposed))
}

// sillBar draws a sill from the bed up to its crest.
func (k *side) sillBar(l LongSection, m channel.Mark, names *nameLanes) {
	look := k.look.Kinds[plan.Sill]
	crest, bed := k.place(m.Chainage, m.Level), k.place(m.Chainage, l.At(m.Chainage).Bed)
	k.draw([]orb.Point{crest, bed}, Pen{Colour: look.Edge.Colour, Width: look.Core.Width + 2*look.Edge.Width})
	k.draw([]orb.Point{crest, bed}, look.Core)
	names.put(k.trf("%[1]s, top at %[2]s", k.look.Tongue.say(m.Title), k.level(m.Level)), look.Text, crest)
}

// spillwayMark draws a notch at a spillway's crest.
func (k *side) spillwayMark(m channel.Mark, names *nameLanes) {
	look := k.look.Kinds[plan.Spillway]
	at, r := k.place(m.Chainage, m.Level), 5*k.px
	k.symbol(orb.Ring{{at[0] - r, at[1] - 1.5*r}, {at[0] + r, at[1] - 1.5*r}, at}, look)
	names.put(k.trf("%[1]s, spills at %[2]s", k.look.Tongue.say(m.Title), k.level(m.Level)), look.Text, at)
}

// acrossMark draws a tick at the bed for a section that is set there, and a deck over
// it for a crossing.
func (k *side) acrossMark(m channel.Mark, names *nameLanes) {
	look, at := k.look.Kinds[m.Kind], k.place(m.Chainage, m.Level)
	if m.Kind == plan.Section {
		k.draw([]orb.Point{{at[0], at[1] - 7*k.px}, {at[0], at[1] + 7*k.px}}, Pen{Colour: look.Edge.Colour, Width: look.Core.Width + 2*look.Edge.Width})
		k.draw([]orb.Point{{at[0], at[1] - 7*k.px}, {at[0], at[1] + 7*k.px}}, look.Core)
	} else {
		k.disc(at, 3.2*k.px, Style{Body: look.Body, Edge: look.Edge})
	}
	names.put(m.Title, look.Text, at)
}

// tieMark draws where a channel opens on a drain: a ring at the bed there.
func (k *side) tieMark(l LongSection, m channel.Mark, names *nameLanes) {
	look := k.look.Kinds[m.Kind]
	at := k.place(m.Chainage, l.At(m.Chainage).Bed)
	k.disc(at, 3.6*k.px, Style{Body: k.look.Paper, Edge: Pen{Colour: look.Edge.Colour, Width: 1.7 * k.px}})
	if m.Kind == plan.Drain {
		names.put(k.trf("meets %s", k.look.Tongue.say(m.Title)), look.Text, at)
		return
	}
	names.put(k.look.Tongue.say(m.Title), look.Text, at)
}

// poolLevel writes the level of a pool on its water. That of the lowest is a grip
// where the section is worked with, so it is left to the overlay.
func (k *side) poolLevel(l LongSection, p channel.Pool) {
	at := poolPlace(l, p)
	if !(p.Level > l.At(at).Bed+leastIsland) || p.Lowest {
		return
	}
	q := k.place(at, p.Level)
	k.surfaceMark(q)
	look := k.lifted(k.bold(k.look.Pond.Shore.Colour))
	y := q[1] - 4*k.px
	if deep := (p.Level - l.At(at).Bed) * k.view.Up; deep > 1.4*look.size {
		y = q[1] + 1.15*look.size // in the water, clear of the lines over it
	}
	k.write(k.level(p.Level), look, upright(q[0]+9*k.px, y))
}

// poolPlace returns a chainage at which the level of a pool is best shown: past
// its middle, where there is water and no island nor mark.
func poolPlace(l LongSection, p channel.Pool) float64 {
	best, most := (p.From+p.To)/2, math.Inf(-1)
	for share := 0.1; share < 0.95; share += 0.05 {
		at := p.From + share*(p.To-p.From)
		clear := (p.To - p.From) / 5 // past which it is as good as any
		for _, s := range l.Islands {
			clear = min(clear, max(s.From-at, at-s.To))
		}
		for _, m := range l.Marks {
			clear = min(clear, math.Abs(m.Chainage-at))
		}
		if place := l.At(at); clear > most && (place.Water > place.Bed || math.IsInf(most, -1)) {
			best, most = at, clear
		}
	}
	return best
}
