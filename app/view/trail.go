package view

import (
	"context"
	"math"
	"strconv"

	"github.com/paulmach/orb"
)

// A Trail is where the water of one roof or piece of paving runs. It is told from
// others by its number as well as by its colour and dashes.
type Trail struct {
	// Number is what its list calls it by, from 1.
	Number int
	// Name is what the surface is called.
	Name string
	// Lines are its ways over the ground; each begins where the water leaves its
	// surface. Stays says of each that it ends on the ground shown.
	Lines []orb.LineString
	Stays []bool
}

// trailDashes tell trails of one colour apart: a whole line, long strokes, dots.
var trailDashes = [][]float64{nil, {11, 4}, {2.5, 3.5}}

// trailPen returns the pen of a number.
func (p Palette) trailPen(number int) Pen {
	i := max(number-1, 0)
	pen := Pen{Colour: p.Trails[i%len(p.Trails)], Width: 3, Dash: trailDashes[i%len(trailDashes)]}
	return pen.scaled(p.unit())
}

// TrailColour returns the colour of the trail of a number.
func (p Palette) TrailColour(number int) Colour { return p.trailPen(number).Colour }

// drawTrails draws trails on a light casing, a ring where the water stays, an
// arrow where it leaves.
func (k *canvas) drawTrails(ctx context.Context, trails []Trail) error {
	for _, t := range trails {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		pen := k.look.trailPen(t.Number)
		for i, ground := range t.Lines {
			if len(ground) < 2 || !k.sees(ground.Bound(), 20*k.px) {
				continue
			}
			line := smooth(k.line(settle(ground)), 1)
			k.draw(line, Pen{Colour: faint(k.look.Paper, 0.8), Width: pen.Width + 2.4*k.px})
			k.draw(line, pen)
			k.endTrail(line, pen.Colour, i < len(t.Stays) && t.Stays[i])
		}
	}
	return nil
}

// badges returns where the numbers of trails are written: over the beginnings of
// their first lines.
func (k *canvas) badges(trails []Trail) []orb.Point {
	var all []orb.Point
	for _, t := range trails {
		if len(t.Lines) > 0 && len(t.Lines[0]) > 0 {
			all = append(all, k.point(t.Lines[0][0]))
		} else {
			all = append(all, orb.Point{math.Inf(-1), 0})
		}
	}
	return all
}

// drawBadge writes the number of a trail, if it is in the picture.
func (k *canvas) drawBadge(at orb.Point, number int) {
	if at[0] > -badgeSize && at[0] < float64(k.w)+badgeSize && at[1] > -badgeSize && at[1] < float64(k.h)+badgeSize {
		k.badge(at, number)
	}
}

// badgeSize is half the width that is kept free for a number [px].
const badgeSize = 10

// endTrail marks the end of a line.
func (k *canvas) endTrail(line []orb.Point, c Colour, stays bool) {
	t := newTrack(line)
	end, nx, ny := t.normal(t.length())
	if stays {
		k.disc(end, 4.5*k.px, Style{Body: k.look.Paper, Edge: Pen{Colour: c, Width: 2.2 * k.px}})
		return
	}
	k.arrow(end, [2]float64{-ny, nx}, 9*k.px, c)
}

// badge writes a trail's number on a disc of its colour.
func (k *canvas) badge(at orb.Point, number int) {
	colour := k.look.trailPen(number).Colour
	look := lettering{size: k.look.Type.Small, weight: mediumWeight, colour: k.look.Paper}
	word := k.letters.set(strconv.Itoa(number), look)
	k.disc(at, max(7.5*k.px, word.width/2+3.5*k.px), Style{Body: colour, Edge: Pen{Colour: k.look.Paper, Width: 1.4 * k.px}})
	k.drawLabels([]label{k.upright(word, look, at[0]-word.width/2, at[1]+0.36*look.size)})
}
