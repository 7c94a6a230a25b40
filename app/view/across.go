package view

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/compare"
	"runnel/geo/plan"
)

// A stance is how what lies across a channel stands: where along which channel [m], which
// way that runs there, and how far off its line the tops of its banks are to the left and the right [m].
type stance struct {
	of          plan.ID
	chainage    float64
	on          orb.Point
	ux, uy      float64
	left, right float64
}

// liesAcross reports a kind that is a point and lies across a channel.
func liesAcross(k plan.Kind) bool { return k == plan.Section || k == plan.Crossing }

// stanceOf returns how a point stands across the nearest of some channels.
func stanceOf(p orb.Point, channels []plan.Feature) (s stance, ok bool) {
	least := math.Inf(1)
	for _, f := range channels {
		reach := max(plan.BesideChannel, f.Width()/2)
		if !f.Geometry.Bound().Pad(reach).Contains(p) {
			continue
		}
		line, along := f.Line(), 0.0
		for i := 1; i < len(line); i++ {
			on := plan.NearestOnSegment(line[i-1], line[i], p)
			length := planar.Distance(line[i-1], line[i])
			if d := planar.Distance(on, p); d < min(least, reach) && length > 0 {
				least, ok = d, true
				bed, depth := f.Num("bed_width")/2, f.Num("depth")
				s = stance{of: f.ID, chainage: along + planar.Distance(line[i-1], on), on: on, ux: (line[i][0] - line[i-1][0]) / length, uy: (line[i][1] - line[i-1][1]) / length,
					left: bed + depth*f.Num("side_left"), right: bed + depth*f.Num("side_right")}
			}
			along += length
		}
	}
	return s, ok
}

// stances says how each thing that lies across a channel stands.
func (s *Scene) stances(features []plan.Feature) map[plan.ID]stance {
	var across, channels []plan.Feature
	for _, f := range features {
		switch {
		case liesAcross(f.Kind):
			across = append(across, f)
		case f.Kind == plan.Channel:
			channels = append(channels, f)
		}
	}
	all := make(map[plan.ID]stance, len(across))
	for _, f := range across {
		at, ok := stanceOf(f.Point(), channels)
		if !ok {
			continue
		}
		if tops, known := s.banks[f.ID]; known {
			at.left, at.right = tops[0], tops[1]
		}
		all[f.ID] = at
	}
	return all
}

// A crosswise is a place on a channel as it is seen: unit vectors down the channel and
// to its left, and how far its banks reach to either side [px].
type crosswise struct {
	at              orb.Point
	down, left      orb.Point
	toLeft, toRight float64
}

// crosswise returns how a thing across a channel is seen: square to a channel that runs
// to the right where it stands by none.
func (k *canvas) crosswise(f plan.Feature, least float64) crosswise {
	at, ok := k.stances[f.ID]
	if !ok {
		return crosswise{at: k.point(f.Point()), down: orb.Point{1, 0}, left: orb.Point{0, -1}, toLeft: least, toRight: least}
	}
	return crosswise{
		at: k.point(at.on), down: orb.Point{at.ux, -at.uy}, left: orb.Point{-at.uy, -at.ux},
		toLeft: max(k.widthIn(at.left), least), toRight: max(k.widthIn(at.right), least),
	}
}

// place returns the place some pixels to the left and some down the channel.
func (c crosswise) place(left, down float64) orb.Point {
	return orb.Point{c.at[0] + left*c.left[0] + down*c.down[0], c.at[1] + left*c.left[1] + down*c.down[1]}
}

// paintSection draws the line of a section from bank to bank, with a foot at each end
// that points the way it is looked along.
func paintSection(k *canvas, f plan.Feature, s Style) {
	c := k.crosswise(f, s.Least)
	beyond, foot := 3*k.px, 4.5*k.px
	line := []orb.Point{c.place(c.toLeft+beyond, foot), c.place(c.toLeft+beyond, 0), c.place(-c.toRight-beyond, 0), c.place(-c.toRight-beyond, foot)}
	k.draw(line, Pen{Colour: s.Edge.Colour, Width: s.Core.Width + 2*s.Edge.Width})
	k.draw(line, s.Core)
}

// paintCrossing draws what people cross by, from bank to bank: a deck with planks, a
// row of stones, or the two edges of a ford.
func paintCrossing(k *canvas, f plan.Feature, s Style) {
	c, half := k.crosswise(f, 1.5*s.Least), max(k.widthIn(f.Num("width"))/2, s.Least/2)
	from, to := c.toLeft+2*k.px, -c.toRight-2*k.px
	switch f.Text("by") {
	case "stepping stones":
		r := min(half, s.Least)
		count := max(2, math.Floor((from-to)/(2.6*r)))
		for i := range int(count) + 1 {
			at := c.place(from+(to-from)*float64(i)/count, 0)
			k.disc(at, r*0.85, Style{Body: s.Body, Edge: s.Edge})
		}
		return
	case "ford":
		for _, down := range []float64{-half, half} {
			k.stroke([]orb.Point{c.place(from, down), c.place(to, down)}, Pen{Width: s.Edge.Width, Dash: []float64{4 * k.px, 2.5 * k.px}}, add)
		}
		k.ink(s.Edge.Colour)
		return
	}
	k.deck(c, [3]float64{from, to, half}, s)
}

// deck draws a deck between two places across a channel and half as wide as the third [px].
func (k *canvas) deck(c crosswise, of [3]float64, s Style) {
	from, to, half := of[0], of[1], of[2]
	k.fill([]orb.Ring{{c.place(from, -half), c.place(to, -half), c.place(to, half), c.place(from, half)}}, s.Body)
	planks := math.Floor((from - to) / (5 * k.px))
	for i := 1.0; i < planks; i++ {
		left := from + (to-from)*i/planks
		k.stroke([]orb.Point{c.place(left, -half), c.place(left, half)}, s.Core, add)
	}
	k.ink(s.Core.Colour)
	for _, down := range []float64{-half, half} {
		k.stroke([]orb.Point{c.place(from, down), c.place(to, down)}, s.Edge, add)
	}
	k.ink(s.Edge.Colour)
}

// banksAcross asks the network how far off the line the tops of the banks are at what
// lies across a channel [m].
func banksAcross(s *plan.Site, account *compare.Account) map[plan.ID][2]float64 {
	if account.Network == nil {
		return nil
	}
	var channels []plan.Feature
	features := s.Plan.In(account.Scheme)
	for _, f := range features {
		if f.Kind == plan.Channel && drawable(f) {
			channels = append(channels, f)
		}
	}
	banks := map[plan.ID][2]float64{}
	for _, f := range features {
		if !liesAcross(f.Kind) || !drawable(f) {
			continue
		}
		at, ok := stanceOf(f.Point(), channels)
		if !ok {
			continue
		}
		left, right, err := account.Network.Banks(at.of, at.chainage)
		if tops := [2]float64{-left.Off, right.Off}; err == nil && tops[0] > 0 && tops[1] > 0 {
			banks[f.ID] = tops
		}
	}
	return banks
}
