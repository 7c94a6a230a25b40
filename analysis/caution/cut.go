package caution

import (
	"math"

	"github.com/paulmach/orb"
)

// dug is the least cut that counts as digging, and alongStep how far apart a
// line is looked at [m].
const (
	dug       = 0.01
	alongStep = 0.5
)

// cutFrom returns how far a line is from the nearest digging within reach, and
// where; +Inf where there is none.
func (c *checker) cutFrom(line orb.LineString, reach float64) (away float64, at orb.Point) {
	away = math.Inf(1)
	every(line, func(p orb.Point) {
		c.cuts(p, min(reach, away), dug, func(dx, dy, _ float64) {
			if off := math.Hypot(dx, dy); off < away {
				away, at = off, p
			}
		})
	})
	return away, at
}

// deepest returns how deep the deepest digging within reach of a line is [m].
func (c *checker) deepest(line orb.LineString, reach float64) float64 {
	deepest := 0.0
	every(line, func(p orb.Point) {
		c.cuts(p, reach, max(dug, deepest), func(dx, dy, deep float64) {
			if deep > deepest && math.Hypot(dx, dy) <= reach {
				deepest = deep
			}
		})
	})
	return deepest
}

// every visits the points of a line and places between, no further apart than
// alongStep.
func every(line orb.LineString, visit func(orb.Point)) {
	for i, p := range line {
		if i == 0 {
			visit(p)
			continue
		}
		from := line[i-1]
		steps := math.Ceil(math.Hypot(p[0]-from[0], p[1]-from[1]) / alongStep)
		for k := 1.0; k <= steps; k++ {
			t := k / steps
			visit(orb.Point{from[0] + t*(p[0]-from[0]), from[1] + t*(p[1]-from[1])})
		}
	}
}

// cuts visits the cells about p that are dug deeper than least [m], with how far off
// their edge is to the side and up or down, and how deep they are dug [m]: all of those
// within reach [m], and perhaps a few further off.
func (c *checker) cuts(p orb.Point, reach, least float64, visit func(dx, dy, deep float64)) {
	ground, proposed := c.site.Ground, c.water.Proposed
	if ground.Frame != proposed.Frame || ground.Len() == 0 {
		return
	}
	x0, y0 := int((p[0]-reach-ground.West)/ground.DX), int((ground.North-p[1]-reach)/ground.DY)
	x1, y1 := int((p[0]+reach-ground.West)/ground.DX), int((ground.North-p[1]+reach)/ground.DY)
	from, to := max(0, x0), min(ground.W-1, x1)
	for y := max(0, y0); y <= min(ground.H-1, y1); y++ {
		dy := max(0, math.Abs(ground.Centre(0, y)[1]-p[1])-ground.DY/2)
		was, is := ground.Row(y), proposed.Row(y)
		for x := from; x <= to; x++ {
			if deep := float64(was[x] - is[x]); deep > least {
				dx := max(0, math.Abs(ground.Centre(x, y)[0]-p[0])-ground.DX/2)
				visit(dx, dy, deep)
			}
		}
	}
}
