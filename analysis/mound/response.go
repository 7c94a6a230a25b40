package mound

import (
	"math"

	"github.com/paulmach/orb"
)

// between adds to the answers, at each moment, a share of how much higher a table of yield
// 1 stands over one rectangle, in the mean, once a cubic metre soaked in all at once
// over another [m]. That is the same either way: the shorter one is taken by points of
// its middle line, the longer one whole.
func (c *clock) between(p, q Rect, share float64) {
	if p.HalfLength > q.HalfLength {
		p, q = q, p
	}
	away := math.Hypot(p.At[0]-q.At[0], p.At[1]-q.At[1])
	gap := away - math.Hypot(p.HalfLength, p.HalfWidth) - math.Hypot(q.HalfLength, q.HalfWidth)
	points := pointsAt(away / p.HalfLength)
	e, n := p.direction()
	for i, x := range points.x {
		x = (2*x - 1) * p.HalfLength
		along, across := q.from(orb.Point{p.At[0] + e*x, p.At[1] + n*x})
		part := share * points.w[i] / (4 * q.area())
		for k, m := range c.moments {
			if gap > nothing*m.reach {
				continue
			}
			per := 1 / m.reach
			c.answers[k] += part * (erf((q.HalfLength+along)*per) + erf((q.HalfLength-along)*per)) *
				(erf((q.HalfWidth+across)*per) + erf((q.HalfWidth-across)*per))
		}
	}
}

// nothing is how many √(4νt) away nothing has come yet: erfc of it is below 1e-9.
const nothing = 4.4

// pointsAt says which points do for a rectangle so many half lengths away.
func pointsAt(away float64) rule {
	switch {
	case away > 12:
		return one
	case away > 5:
		return two
	case away > 2.5:
		return four
	}
	return eight
}

// within is between for one rectangle and itself, in closed form.
func (c *clock) within(r Rect, share float64) {
	for k, m := range c.moments {
		c.answers[k] += share / r.area() * kept(2*r.HalfLength/m.reach) * kept(2*r.HalfWidth/m.reach)
	}
}

// kept is the share of what lay evenly on a stretch that is still on it once it has
// spread; z is the stretch over √(4νt).
func kept(z float64) float64 {
	return math.Erf(z) + math.Expm1(-z*z)/(z*math.Sqrt(math.Pi))
}

// erf is the error function to 2e-7, by straight lines between entries of a table: it is
// asked for half a million times, and math.Erf takes several times as long.
func erf(x float64) float64 {
	a := math.Abs(x) * perUnit
	if !(a < lastErf*perUnit) {
		return math.Copysign(1, x)
	}
	i := int(a)
	return math.Copysign(erfs[i]+(erfs[i+1]-erfs[i])*(a-float64(i)), x)
}

const (
	lastErf = 4
	perUnit = 1024
)

var erfs = func() (table [lastErf*perUnit + 1]float64) {
	for i := range table {
		table[i] = math.Erf(float64(i) / perUnit)
	}
	return table
}()
