package mound

import (
	"math"

	"runnel/geo/plan"
)

// A clock holds the days, counted from the end of that on which water soaks in, for which
// its answer is worked out, and the moments that this is made of.
type clock struct {
	lags    []float64
	moments []moment
	answers []float64
}

// A moment is a time since water soaked in all at once. Its weight is what it counts in
// the answer, lags[lag] days later, to water that soaked in over a day.
type moment struct {
	reach  float64 // √(4νt) [m]
	weight float64 // [days]
	lag    int
}

const (
	// beyond is how many times the reach the lags go, so that what is fitted to them ends well.
	beyond = 2
	// lagRatio is that of each lag to the one before.
	lagRatio = 1.4
	// still is when spreading begins to show, as a share of the time in which it crosses half of
	// the narrowest rectangle; the answer is level before.
	still = 0.01
)

func newClock(fields [][]Rect, a plan.Aquifer, reach float64) *clock {
	c := &clock{lags: []float64{0, 1}}
	for last := 1.0; last < beyond*reach; {
		last = math.Ceil(last * lagRatio)
		c.lags = append(c.lags, last)
	}
	diffusivity := a.Conductivity * a.Thickness / a.Yield
	narrow := math.Inf(1)
	for _, field := range fields {
		for _, r := range field {
			narrow = min(narrow, r.HalfWidth, r.HalfLength)
		}
	}
	start := min(0.1, still*narrow*narrow/(4*diffusivity))
	for i, lag := range c.lags {
		c.day(i, max(lag, start), diffusivity)
	}
	c.moments[0].weight += start
	c.answers = make([]float64, len(c.moments))
	return c
}

// day adds the moments from a time to the end of its lag's day. They are spaced by the
// logarithm of time, in which the answer is smooth.
func (c *clock) day(i int, from, diffusivity float64) {
	span := math.Log((c.lags[i] + 1) / from)
	points, panels := pointsIn(span), math.Ceil(span/longSpan)
	length := span / panels
	for p := range int(panels) {
		for k, x := range points.x {
			t := from * math.Exp((float64(p)+x)*length)
			c.moments = append(c.moments, moment{math.Sqrt(4 * diffusivity * t), t * points.w[k] * length, i})
		}
	}
}

// longSpan is how much of the logarithm of time five points serve.
const longSpan = 3

var one, two, four, five, eight = gauss(1), gauss(2), gauss(4), gauss(5), gauss(8)

func pointsIn(span float64) rule {
	switch {
	case span < 0.2:
		return one
	case span < 1:
		return two
	}
	return five
}

// answer is that of one field to one cubic metre over another, by lag [m].
func (c *clock) answer(to, of []Rect, yield float64) []float64 {
	clear(c.answers)
	whole := areaOf(to) * areaOf(of) * yield
	for _, p := range to {
		for _, q := range of {
			if p == q {
				c.within(p, p.area()*p.area()/whole)
			} else {
				c.between(p, q, p.area()*q.area()/whole)
			}
		}
	}
	byLag := make([]float64, len(c.lags))
	for k, m := range c.moments {
		byLag[m.lag] += m.weight * c.answers[k]
	}
	return byLag
}

func areaOf(field []Rect) (sum float64) {
	for _, r := range field {
		sum += r.area()
	}
	return sum
}
