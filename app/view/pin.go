package view

import (
	"math"

	"github.com/paulmach/orb"
)

// A Pin marks one exact place, with a few letters beside it.
type Pin struct {
	At   orb.Point
	Name string
	// Loud is set for one that should be looked at.
	Loud bool
}

// drawPins draws a cross with an open middle at each place, and its name on a slip.
func (k *canvas) drawPins(pins []Pin) {
	for _, p := range pins {
		at := k.point(p.At)
		if !finite(at) {
			continue
		}
		colour := k.look.Accent
		if p.Loud {
			colour = k.look.Caution.Body
		}
		for _, pen := range []Pen{{Colour: faint(k.look.Paper, 0.9), Width: 5 * k.px}, {Colour: colour, Width: 2 * k.px}} {
			k.sight(at, pen)
		}
		look := lettering{size: k.look.Type.Text, weight: mediumWeight, colour: k.look.Paper}
		word := k.letters.set(p.Name, look)
		middle := orb.Point{at[0] + 14*k.px, at[1] - 14*k.px}
		k.disc(middle, max(9*k.px, word.width/2+4*k.px), Style{Body: colour, Edge: Pen{Colour: k.look.Paper, Width: 1.6 * k.px}})
		k.drawLabels([]label{k.upright(word, look, middle[0]-word.width/2, middle[1]+0.36*look.size)})
	}
}

// sight draws four short arms about a place, which itself stays to be seen.
func (k *canvas) sight(at orb.Point, pen Pen) {
	from, to := 3*k.px, 10*k.px
	for i := range 4 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 2)
		k.stroke([]orb.Point{{at[0] + from*cos, at[1] + from*sin}, {at[0] + to*cos, at[1] + to*sin}}, pen, add)
	}
	k.ink(pen.Colour)
}
