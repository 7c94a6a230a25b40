package view

import (
	"math"
	"strconv"

	"github.com/paulmach/orb"
)

// leastGrid is how far apart the lines of the grid are at least [px]: enough for
// the figures at its edge.
const leastGrid = 118

// gridStep returns how far apart the lines of the grid are [m]: 1, 2 or 5 times a
// power of ten of the unit, at least 1.
func (k *canvas) gridStep(u Units) float64 {
	metre, _ := u.length()
	least := max(1, leastGrid*k.px/k.camera.Scale/metre)
	power := math.Pow(10, math.Floor(math.Log10(least)))
	for _, times := range []float64{1, 2, 5} {
		if times*power >= least*(1-1e-9) {
			return times * power * metre
		}
	}
	return 10 * power * metre
}

// graticule draws lines of round eastings and northings, with their figures along
// the upper and the left edge.
func (k *canvas) graticule(u Units) {
	step, seen := k.gridStep(u), k.camera.Bound(k.w, k.h)
	if (seen.Max[0]-seen.Min[0])/step > 1000 || (seen.Max[1]-seen.Min[1])/step > 1000 {
		return
	}
	ring := func(x0, y0, x1, y1 float64) []orb.Ring { return []orb.Ring{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}} }
	width, height, half := float64(k.w), float64(k.h), max(0.5, 0.5*k.px)
	eastings, northings := multiples(seen.Min[0], seen.Max[0], step), multiples(seen.Min[1], seen.Max[1], step)
	for _, n := range eastings {
		x := math.Round(k.point(orb.Point{n * step, 0})[0]-half) + half
		k.area(ring(x-half, 0, x+half, height), add)
	}
	for _, n := range northings {
		y := math.Round(k.point(orb.Point{0, n * step})[1]-half) + half
		k.area(ring(0, y-half, width, y+half), add)
	}
	k.ink(faint(k.look.Ink, 0.3))
	metre, sign := u.length()
	for _, n := range eastings {
		x := k.point(orb.Point{n * step, 0})[0]
		k.edgeFigure(coordinate(n*step/metre)+" "+sign+" E", orb.Point{x, 0})
	}
	for _, n := range northings {
		y := k.point(orb.Point{0, n * step})[1]
		k.edgeFigure(coordinate(n*step/metre)+" "+sign+" N", orb.Point{0, y})
	}
}

// edgeFigure writes a coordinate where its line meets an edge: in the middle of
// the line's end at the upper one, beside it at the left.
func (k *canvas) edgeFigure(figure string, at orb.Point) {
	look := lettering{size: k.look.Type.Small, colour: mix(k.look.Muted, k.look.Ink, 0.6), halo: faint(k.look.Paper, 0.9)}
	width := k.letters.measure(figure, look)
	x, y := at[0]-width/2, 1.4*look.size
	if at[0] == 0 {
		x, y = 5*k.px, at[1]+(ascent-descent)/2*look.size
	}
	// Where the two edges meet there is no room for both.
	if x < 2 || x+width > float64(k.w)-2 || at[0] == 0 && y < 3.2*look.size || at[0] != 0 && x < 80*k.px || y > float64(k.h)-2 {
		return
	}
	k.write(figure, look, upright(x, y))
}

// multiples returns the whole numbers whose multiples of the step lie in a range.
func multiples(low, high, step float64) (all []float64) {
	for n := math.Ceil(low / step); n <= math.Floor(high/step); n++ {
		all = append(all, n)
	}
	return all
}

// coordinate writes a round coordinate with its thousands parted.
func coordinate(v float64) string {
	digits := strconv.FormatFloat(math.Abs(math.Round(v)), 'f', -1, 64)
	text := ""
	for i, d := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			text += "\u00a0" // the typeface has no thin space
		}
		text += string(d)
	}
	if math.Round(v) < 0 {
		return "\u2212" + text
	}
	return text
}
