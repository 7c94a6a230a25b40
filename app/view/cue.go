package view

import (
	"math"

	"github.com/paulmach/orb"
)

// A CueMark is the small mark of what the pointer is drawn to.
type CueMark uint8

// The marks. Those from CornerMark on draw the line from where the side starts.
const (
	NoMark      CueMark = iota
	PointMark           // a ring with a dot: a point
	CloseMark           // two rings: the point that closes an outline
	CrossMark           // a slanting cross in a ring: where two lines cross
	EdgeMark            // a ring: a line
	GridMark            // an upright cross: a crossing of the grid
	CornerMark          // a right angle where the side starts
	FootMark            // a right angle where the side ends
	OnwardMark          // the line goes on past the pointer
	LevelMark           // a double line: along the contour
	DescentMark         // an arrowhead: across the contour
	StepsMark           // a wedge: a direction at fixed steps
	LengthMark          // bars across both ends: a fixed length
)

// A Cue is what the pointer is drawn to, and what is said beside it.
type Cue struct {
	Mark CueMark
	// At is the place; From is where the side starts.
	At, From orb.Point
	// Words are lines beside the place, the first in stronger letters.
	Words []string
}

// drawCue draws the mark and the words.
func (k *canvas) drawCue(c Cue) {
	at, from := k.point(c.At), k.point(c.From)
	pen := Pen{Colour: k.look.Accent, Width: 2 * k.px}
	size := 8 * k.px
	if c.Mark >= CornerMark {
		k.drawGuide(c.Mark, from, at)
	}
	switch c.Mark {
	case PointMark:
		k.draw(closed(circle(at, size)), pen)
		k.fill([]orb.Ring{circle(at, 2.4*k.px)}, pen.Colour)
	case CloseMark:
		k.draw(closed(circle(at, size)), pen)
		k.draw(closed(circle(at, 4.5*k.px)), pen)
	case CrossMark:
		k.draw(closed(circle(at, size)), pen)
		k.cross(at, 0.7*size, math.Pi/4, pen)
	case EdgeMark:
		k.draw(closed(circle(at, size)), pen)
	case GridMark:
		k.cross(at, size, 0, pen)
	}
	k.drawWords(c.Words, at)
}

// cross draws two lines across each other, so much turned.
func (k *canvas) cross(at orb.Point, half, turn float64, pen Pen) {
	for i := range 2 {
		sin, cos := math.Sincos(turn + float64(i)*math.Pi/2)
		k.draw([]orb.Point{{at[0] - half*cos, at[1] - half*sin}, {at[0] + half*cos, at[1] + half*sin}}, pen)
	}
}

// drawGuide draws the line of a direction or a length, with the mark of its kind.
func (k *canvas) drawGuide(m CueMark, from, at orb.Point) {
	length := math.Hypot(at[0]-from[0], at[1]-from[1])
	if length < 1 || length > 1e5 {
		return
	}
	ux, uy := (at[0]-from[0])/length, (at[1]-from[1])/length
	place := func(p orb.Point, along, across float64) orb.Point {
		return orb.Point{p[0] + along*ux - across*uy, p[1] + along*uy + across*ux}
	}
	pen := Pen{Colour: k.look.Accent, Width: 1.6 * k.px}
	thin := Pen{Colour: faint(k.look.Accent, 0.7), Width: 1.2 * k.px, Dash: []float64{2 * k.px, 3 * k.px}}
	s := 9 * k.px
	switch m {
	case CornerMark:
		k.draw([]orb.Point{place(from, s, 0), place(from, s, s), place(from, 0, s)}, pen)
	case FootMark:
		k.draw([]orb.Point{place(at, -s, 0), place(at, -s, s), place(at, 0, s)}, pen)
	case OnwardMark:
		k.draw([]orb.Point{at, place(at, 4*s, 0)}, thin)
	case LevelMark:
		for _, side := range []float64{-1, 1} {
			k.draw([]orb.Point{place(from, 0, side*4*k.px), place(at, 0, side*4*k.px)}, thin)
		}
	case DescentMark:
		k.arrowhead(place(from, length/2, 0), ux, uy, s)
		k.ink(k.look.Accent)
	case StepsMark:
		k.draw([]orb.Point{place(from, 2*s, -0.8*s), from, place(from, 2*s, 0.8*s)}, thin)
	case LengthMark:
		for _, end := range []orb.Point{from, at} {
			k.draw([]orb.Point{place(end, 0, -0.7*s), place(end, 0, 0.7*s)}, pen)
		}
	}
	if m != FootMark && m != CornerMark {
		k.draw(closed(circle(at, 3*k.px)), pen)
	}
}

// drawWords writes lines on a slip of paper beside a place, on the side where the
// picture has room.
func (k *canvas) drawWords(words []string, at orb.Point) {
	if len(words) == 0 || !finite(at) {
		return
	}
	size := k.look.Type.Text
	step, pad := 1.35*size, 5*k.px
	width := 0.0
	for i, line := range words {
		width = max(width, k.letters.measure(line, k.wordsLook(i)))
	}
	w, h := width+2*pad, float64(len(words))*step+1.2*pad
	x, y := at[0]+16*k.px, at[1]+16*k.px
	if x+w > float64(k.w) {
		x = at[0] - 16*k.px - w
	}
	if y+h > float64(k.h) {
		y = at[1] - 16*k.px - h
	}
	slip := orb.Bound{Min: orb.Point{x, y}, Max: orb.Point{x + w, y + h}}.ToRing()
	k.fill([]orb.Ring{slip}, faint(k.look.Paper, 0.92))
	k.draw(slip, Pen{Colour: faint(k.look.Accent, 0.6), Width: 1 * k.px})
	for i, line := range words {
		k.write(line, k.wordsLook(i), upright(x+pad, y+0.5*pad+float64(i)*step+size))
	}
}

func (k *canvas) wordsLook(line int) lettering {
	l := lettering{size: k.look.Type.Text, colour: k.look.Ink}
	if line == 0 {
		l.weight = mediumWeight
	}
	return l
}

// turnStem is how long the stem is on which the handle that turns things stands
// [px of the unscaled palette].
const turnStem = 26

// drawFrames draws the box round what is selected with the handle that turns it,
// and the box that is drawn to select.
func (k *canvas) drawFrames(o Overlay) {
	dashed := Pen{Colour: faint(k.look.Accent, 0.8), Width: 1.2 * k.px, Dash: []float64{4 * k.px, 4 * k.px}}
	if o.Frame != nil {
		k.draw(k.line(orb.LineString(o.Frame.ToRing())), dashed)
	}
	if o.Box != nil {
		ring := k.line(orb.LineString(o.Box.ToRing()))
		k.fill([]orb.Ring{ring}, faint(k.look.Accent, 0.1))
		k.draw(ring, Pen{Colour: k.look.Accent, Width: 1.4 * k.px})
	}
	if o.Turn == nil {
		return
	}
	p, r := k.point(*o.Turn), 4.2*k.px
	foot := orb.Point{p[0], p[1] + turnStem*k.px}
	k.draw([]orb.Point{p, foot}, Pen{Colour: faint(k.look.Paper, 0.85), Width: 4.5 * k.px})
	k.draw([]orb.Point{p, foot}, Pen{Colour: k.look.Accent, Width: 1.4 * k.px})
	k.fill([]orb.Ring{circle(p, 3.1*r)}, faint(k.look.Paper, 0.85))
	k.disc(p, r, Style{Body: k.look.Paper, Edge: Pen{Colour: k.look.Accent, Width: 1.6 * k.px}})
	var arc []orb.Point
	for i := range 11 { // under two thirds of a turn, clockwise
		sin, cos := math.Sincos(math.Pi * (float64(i)/8 - 1))
		arc = append(arc, orb.Point{p[0] + 2.2*r*cos, p[1] + 2.2*r*sin})
	}
	k.draw(arc, Pen{Colour: k.look.Accent, Width: 1.4 * k.px})
	end := arc[len(arc)-1]
	k.arrowhead(end, -0.7, 0.7, 6*k.px)
	k.ink(k.look.Accent)
}
