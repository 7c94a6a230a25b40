package view

import (
	"math"

	"github.com/paulmach/orb"
)

// A curve is a level [m] by the distance along a section [m], NaN where it is not
// known.
type curve struct{ along, level []float64 }

// plus raises a curve [m].
func (c curve) plus(by float64) curve {
	level := make([]float64, len(c.level))
	for i, z := range c.level {
		level[i] = z + by
	}
	return curve{c.along, level}
}

// lower returns the lower of two curves, and of one where the other is not known.
func (c curve) lower(d curve) curve {
	level := make([]float64, len(c.level))
	for i, z := range c.level {
		if other := d.level[i]; !(z <= other) && !math.IsNaN(other) {
			z = other
		}
		level[i] = z
	}
	return curve{c.along, level}
}

// flat is a curve at one level over the same distances.
func (c curve) flat(level float64) curve { return c.plus(math.NaN()).filled(level) }

func (c curve) filled(level float64) curve {
	for i := range c.level {
		c.level[i] = level
	}
	return c
}

// pieces returns the parts of a curve that are known, as they are seen.
func (k *side) pieces(c curve) [][]orb.Point {
	var pieces [][]orb.Point
	var piece []orb.Point
	for i, z := range c.level {
		if !math.IsNaN(z) {
			piece = append(piece, k.place(c.along[i], z))
			continue
		}
		pieces, piece = append(pieces, piece), nil
	}
	return append(pieces, piece)
}

func (k *side) drawCurve(c curve, pen Pen) {
	for _, piece := range k.pieces(c) {
		k.stroke(piece, pen, add)
	}
	k.ink(pen.Colour)
}

// between returns the rings in which one curve lies above another, as they are
// seen.
func (k *side) between(upper, lower curve) []orb.Ring {
	var rings []orb.Ring
	var top, foot []orb.Point
	flush := func() {
		if len(top) > 1 {
			ring := orb.Ring(top)
			for i := len(foot) - 1; i >= 0; i-- {
				ring = append(ring, foot[i])
			}
			rings = append(rings, append(ring, ring[0]))
		}
		top, foot = nil, nil
	}
	put := func(i int, t float64) { // a share of the way from i to the next
		mid := func(v []float64) float64 {
			if t == 0 {
				return v[i]
			}
			return v[i] + t*(v[i+1]-v[i])
		}
		top = append(top, k.place(mid(upper.along), mid(upper.level)))
		foot = append(foot, k.place(mid(lower.along), mid(lower.level)))
	}
	for i := range len(upper.along) - 1 {
		a, b := upper.level[i]-lower.level[i], upper.level[i+1]-lower.level[i+1]
		if math.IsNaN(a+b) || a <= 0 && b <= 0 {
			flush()
			continue
		}
		if len(top) == 0 && a < 0 {
			put(i, a/(a-b))
		} else if len(top) == 0 {
			put(i, 0)
		}
		if b <= 0 {
			put(i, a/(a-b))
			flush()
			continue
		}
		put(i+1, 0)
	}
	flush()
	return rings
}

// body colours what lies between two curves, within the plot.
func (k *side) body(upper, lower curve, c Colour) {
	k.mask(upper, lower)
	k.ink(c)
}

// mask covers what lies between two curves. What a level can reach beyond the plot
// is cut off there.
func (k *side) mask(upper, lower curve) {
	for _, ring := range k.between(upper, lower) {
		for i, p := range ring {
			ring[i] = orb.Point{p[0], max(k.view.Plot.Min[1], min(k.view.Plot.Max[1], p[1]))}
		}
		k.area([]orb.Ring{ring}, add)
	}
}

// soil draws the ground below a curve down to the plot's foot: a tint, and a hatch
// that the eye reads as earth.
func (k *side) soil(top curve) {
	earth := k.look.Index.Colour
	k.mask(top, top.flat(k.view.Low))
	k.wash(faint(earth, 0.16))
	k.washHatch(hatch(faint(earth, 0.42), 9*k.px, 0.9*k.px, rising))
	k.clear()
}

// surfaceMark draws the sign of a water level: a triangle on the surface, and two
// lines under it.
func (k *side) surfaceMark(at orb.Point) {
	c, r := k.look.Pond.Shore.Colour, 4.5*k.px
	k.area([]orb.Ring{{{at[0] - r, at[1] - 1.6*r}, {at[0] + r, at[1] - 1.6*r}, {at[0], at[1]}, {at[0] - r, at[1] - 1.6*r}}}, add)
	k.stroke([]orb.Point{{at[0] - 0.8*r, at[1] + 0.7*r}, {at[0] + 0.8*r, at[1] + 0.7*r}}, Pen{Width: k.px}, add)
	k.stroke([]orb.Point{{at[0] - 0.4*r, at[1] + 1.3*r}, {at[0] + 0.4*r, at[1] + 1.3*r}}, Pen{Width: k.px}, add)
	k.ink(c)
}
