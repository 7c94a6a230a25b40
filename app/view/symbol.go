package view

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// serviceLetters stand in a service line for what it carries.
var serviceLetters = map[string]string{
	"water": "W", "gas": "G", "power": "P", "telecom": "T", "sewer": "S",
}

// letterEvery is how far apart a service line's letters stand [px].
const letterEvery = 90

// paintService draws a broken line with letters in it: what it carries, or a
// question mark where that is not known.
func paintService(k *canvas, f plan.Feature, s Style) {
	letter, ok := serviceLetters[f.Text("carries")]
	if !ok {
		letter = "?"
	}
	line := k.line(f.Line())
	look := lettering{size: k.look.Type.Small, weight: mediumWeight, colour: s.Text, halo: faint(k.look.Paper, 0.7)}
	word := k.letters.set(letter, look)
	t := newTrack(line)
	k.stroke(line, s.Core, add)
	var placed []label
	k.every(t, min(letterEvery*k.px, max(t.length(), look.size)), func(p orb.Point, nx, ny float64) {
		k.stroke([]orb.Point{{p[0] - ny*look.size*0.7, p[1] + nx*look.size*0.7}, {p[0] + ny*look.size*0.7, p[1] - nx*look.size*0.7}},
			Pen{Width: 2 * look.size}, cut)
		sin, cos := nx, -ny
		if cos < 0 {
			sin, cos = -sin, -cos
		}
		at := pose{at: p, sin: sin, cos: cos}
		at.at = at.place(-word.width/2, (ascent-descent/3)/2*look.size)
		placed = append(placed, label{line: word, look: look, poses: []pose{at}})
	})
	k.ink(s.Core.Colour)
	k.drawLabels(placed)
}

// paintTree draws the canopy at its true spread with a lobed edge, and the stem.
func paintTree(k *canvas, f plan.Feature, s Style) {
	p, radius := k.point(f.Point()), max(k.widthOf(f)/2, s.Least)
	if radius > 3*float64(k.w+k.h) {
		return
	}
	ring := canopy(p, radius, float64(f.ID))
	if radius > 3*s.Least {
		k.area(shifted([]orb.Ring{ring}, 3*k.px), add)
		k.area([]orb.Ring{ring}, cut)
		k.ink(k.look.Shadow)
	}
	k.fill([]orb.Ring{ring}, s.Body)
	k.draw(closed(ring), s.Edge)
	k.fill([]orb.Ring{circle(p, min(s.Core.Width, radius)/2)}, s.Core.Colour)
}

// canopy returns a circle with lobes; each tree's are turned its own way.
func canopy(p orb.Point, radius, turn float64) orb.Ring {
	lobes := math.Round(max(7, min(16, radius/3)))
	ring := make(orb.Ring, 0, 12*int(lobes))
	for i := range cap(ring) {
		angle := 2 * math.Pi * float64(i) / float64(cap(ring))
		r := radius * (0.94 + 0.06*math.Abs(math.Sin(lobes/2*angle)))
		sin, cos := math.Sincos(angle + turn)
		ring = append(ring, orb.Point{p[0] + r*cos, p[1] + r*sin})
	}
	return ring
}

// paintWell draws a ring round a ring: the shaft and its curb.
func paintWell(k *canvas, f plan.Feature, s Style) {
	p := k.point(f.Point())
	k.disc(p, s.Least+1.5*k.px, Style{Body: k.look.Paper, Edge: Pen{Colour: k.look.Paper, Width: 1}})
	k.disc(p, s.Least, s)
	k.fill([]orb.Ring{circle(p, s.Least*0.42)}, s.Core.Colour)
}

// paintSoilTest draws a hole in section, half full: walls, floor, and water in it below
// the line of the ground.
func paintSoilTest(k *canvas, f plan.Feature, s Style) {
	p, r := k.point(f.Point()), s.Least
	k.disc(p, r+2*k.px, Style{Body: s.Body, Edge: Pen{Colour: s.Edge.Colour, Width: s.Edge.Width}})
	x, top, low := 0.42*r, p[1]-0.5*r, p[1]+0.72*r
	k.fill([]orb.Ring{{{p[0] - x, p[1] + 0.1*r}, {p[0] + x, p[1] + 0.1*r}, {p[0] + x, low}, {p[0] - x, low}}}, k.look.Kinds[plan.Well].Core.Colour)
	k.stroke([]orb.Point{{p[0] - 0.95*r, top}, {p[0] - x, top}, {p[0] - x, low}, {p[0] + x, low}, {p[0] + x, top}, {p[0] + 0.95*r, top}}, s.Core, add)
	k.ink(s.Core.Colour)
}

// paintInlet draws a grate: a square with bars.
func paintInlet(k *canvas, f plan.Feature, s Style) {
	p, r := k.point(f.Point()), s.Least
	k.symbol(orb.Ring{{p[0] - r, p[1] - r}, {p[0] + r, p[1] - r}, {p[0] + r, p[1] + r}, {p[0] - r, p[1] + r}}, s)
	for _, x := range []float64{-0.45, 0, 0.45} {
		k.stroke([]orb.Point{{p[0] + x*r, p[1] - 0.55*r}, {p[0] + x*r, p[1] + 0.55*r}}, s.Core, add)
	}
	k.ink(s.Core.Colour)
}

// pipesFrom is the scale [px a metre] from which downpipes are drawn: seen from
// further off they would hide their houses.
const pipesFrom = 2.5

// paintDownpipe draws a pipe seen from above: a disc with a dark middle.
func paintDownpipe(k *canvas, f plan.Feature, s Style) {
	if k.camera.Scale < pipesFrom*k.px {
		return
	}
	p := k.point(f.Point())
	k.disc(p, s.Least, s)
	k.fill([]orb.Ring{circle(p, s.Least*0.45)}, s.Core.Colour)
}

// paintSpillway draws a triangle, point down, over a bar: water over a crest.
func paintSpillway(k *canvas, f plan.Feature, s Style) {
	p, r := k.point(f.Point()), s.Least
	triangle := orb.Ring{{p[0] - r, p[1] - 0.75*r}, {p[0] + r, p[1] - 0.75*r}, {p[0], p[1] + 0.95*r}}
	k.symbol(triangle, s)
	k.draw([]orb.Point{{p[0] - 0.42*r, p[1] - 0.3*r}, {p[0] + 0.42*r, p[1] - 0.3*r}}, s.Edge)
}

// symbol fills a shape and sets it off from the map by an edge outside it.
func (k *canvas) symbol(ring orb.Ring, s Style) {
	k.draw(closed(ring), Pen{Colour: s.Edge.Colour, Width: 2 * s.Edge.Width})
	k.fill([]orb.Ring{ring}, s.Body)
}

// paintPlace draws a lozenge with a bench in it.
func paintPlace(k *canvas, f plan.Feature, s Style) {
	p, r := k.point(f.Point()), s.Least
	k.symbol(orb.Ring{{p[0], p[1] - r}, {p[0] + r, p[1]}, {p[0], p[1] + r}, {p[0] - r, p[1]}}, s)
	for _, line := range [][]orb.Point{
		{{p[0] - 0.46*r, p[1] - 0.06*r}, {p[0] + 0.46*r, p[1] - 0.06*r}},
		{{p[0] - 0.3*r, p[1]}, {p[0] - 0.3*r, p[1] + 0.34*r}},
		{{p[0] + 0.3*r, p[1]}, {p[0] + 0.3*r, p[1] + 0.34*r}},
	} {
		k.stroke(line, s.Core, add)
	}
	k.ink(s.Core.Colour)
}

// cautionMark draws a triangle with round corners and an exclamation mark.
func (k *canvas) cautionMark(p orb.Point) {
	s := k.look.Caution
	r := s.Least
	ring := orb.Ring{{p[0], p[1] - 0.78*r}, {p[0] + 0.82*r, p[1] + 0.62*r}, {p[0] - 0.82*r, p[1] + 0.62*r}, {p[0], p[1] - 0.78*r}}
	corner := 0.45 * r
	k.draw(ring, Pen{Colour: s.Edge.Colour, Width: corner + 2*s.Edge.Width})
	k.stroke(ring, Pen{Width: corner}, add)
	k.area([]orb.Ring{ring}, add)
	k.ink(s.Body)
	k.stroke([]orb.Point{{p[0], p[1] - 0.42*r}, {p[0], p[1] + 0.16*r}}, s.Core, add)
	k.area([]orb.Ring{circle(orb.Point{p[0], p[1] + 0.5*r}, 0.6*s.Core.Width)}, add)
	k.ink(s.Core.Colour)
}

// faultMark draws a disc with a stroke across it: water does not take this as it is.
func (k *canvas) faultMark(p orb.Point) {
	s := k.look.Fault
	r := 0.8 * s.Least
	k.disc(p, r+s.Edge.Width, Style{Body: s.Edge.Colour, Edge: Pen{Colour: s.Edge.Colour, Width: 0.1}})
	k.fill([]orb.Ring{circle(p, r)}, s.Body)
	for _, way := range []float64{-1, 1} {
		k.stroke([]orb.Point{{p[0] - 0.4*r, p[1] - 0.4*r*way}, {p[0] + 0.4*r, p[1] + 0.4*r*way}}, s.Core, add)
	}
	k.ink(s.Core.Colour)
}
