package mound

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// The slow twin of KernelOf: Hantush's answer at a place and a time, as it is published.

// S is Hantush's function, the integral of erf(α/√τ)·erf(β/√τ) over τ from 0 to 1. It is odd in each
// of its arguments, and right to 1e-9.
//
// With τ = e^2v the integrand is smooth however small the lesser argument is. Below
// τ = (lesser/6)² both error functions are 1.
func S(alpha, beta float64) float64 {
	if math.IsNaN(alpha) || math.IsNaN(beta) {
		return math.NaN()
	}
	sign := math.Copysign(1, alpha) * math.Copysign(1, beta)
	alpha, beta = math.Abs(alpha), math.Abs(beta)
	least := min(alpha, beta)
	if least == 0 {
		return 0
	}
	from := least / saturated
	if from >= 1 {
		return sign
	}
	v := math.Log(from)
	panels := math.Ceil(-v / panelLength)
	length, sum := -v/panels, from*from
	for range int(panels) {
		for i, x := range panel.x {
			u := math.Exp(v + x*length)
			sum += 2 * panel.w[i] * length * u * u * math.Erf(alpha/u) * math.Erf(beta/u)
		}
		v += length
	}
	return sign * sum
}

const (
	// saturated is where erf is 1 to the last digit.
	saturated = 6
	// panelLength is how much of ln u one set of Gauss points spans.
	panelLength = 2.5
)

var panel = gauss(20)

// sum is that of S at the rectangle's four corners as p sees them, s being √(4νt).
func (r Rect) sum(p orb.Point, s float64) float64 {
	x, y := r.from(p)
	east, west := (r.HalfLength+x)/s, (r.HalfLength-x)/s
	north, south := (r.HalfWidth+y)/s, (r.HalfWidth-y)/s
	return S(east, north) + S(east, south) + S(west, north) + S(west, south)
}

// A Pulse is recharge at a steady rate [m/day] from one time to another [days].
type Pulse struct{ From, To, Rate float64 }

// A Field takes in water evenly over its rectangles.
type Field struct {
	Rects  []Rect
	Pulses []Pulse
}

// A Table is a water table and what soaks down to it. Its aquifer is to be known.
type Table struct {
	Aquifer plan.Aquifer
	Fields  []Field
	// Depth is the depth of water that b is held at [m]; at nought it is the mean of hi and
	// h, at each place and time anew.
	Depth float64
}

// Rise returns how much higher the table stands at a place and a time [m].
func (t Table) Rise(at orb.Point, days float64) float64 {
	hi := t.Aquifer.Thickness
	height := func(b float64) float64 { return math.Sqrt(max(0, hi*hi+t.squares(at, days, b))) }
	if t.Depth > 0 {
		return height(t.Depth) - hi
	}
	h := hi
	for range rounds {
		last := h
		if h = height((hi + h) / 2); math.Abs(h-last) < settled*hi {
			break
		}
	}
	return h - hi
}

// The table is sought until it moves by less than settled, as a share of hi, from one
// round to the next.
const (
	rounds  = 100
	settled = 1e-12
)

// squares is h² − hi² at a place and a time, with b held [m²].
func (t Table) squares(at orb.Point, days, b float64) float64 {
	diffusivity := t.Aquifer.Conductivity * b / t.Aquifer.Yield
	total := 0.0
	for _, f := range t.Fields {
		step := func(since float64) float64 {
			if since <= 0 {
				return 0
			}
			sum, s := 0.0, math.Sqrt(4*diffusivity*since)
			for _, r := range f.Rects {
				sum += r.sum(at, s)
			}
			return diffusivity * since * sum / (2 * t.Aquifer.Conductivity)
		}
		for _, p := range f.Pulses {
			if p.Rate != 0 {
				total += p.Rate * (step(days-p.From) - step(days-p.To))
			}
		}
	}
	return total
}
