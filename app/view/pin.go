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
		radius := max(9*k.px, word.width/2+4*k.px)
		middle := k.beside(at, 14*k.px, radius+2*k.px)
		k.disc(middle, radius, Style{Body: colour, Edge: Pen{Colour: k.look.Paper, Width: 1.6 * k.px}})
		k.drawLabels([]label{k.upright(word, look, middle[0]-word.width/2, middle[1]+0.36*look.size)})
	}
}

// beside returns where a slip of a radius stands beside a place: to the upper right, where
// the picture has room for it there.
func (k *canvas) beside(at orb.Point, off, radius float64) orb.Point {
	middle := orb.Point{at[0] + off, at[1] - off}
	if middle[0]+radius > float64(k.w) {
		middle[0] = at[0] - off
	}
	if middle[1]-radius < 0 {
		middle[1] = at[1] + off
	}
	return middle
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
