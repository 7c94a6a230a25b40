package hydraulics

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"runnel/analysis/channel"
)

// NormalDepth returns the depth [m] at which a flow [m³/s] runs evenly down a slope
// [m/m]. Of several, as over a bench, it is the least.
func NormalDepth(s channel.Section, roughness, slope, flow float64) (float64, error) {
	switch {
	case !(slope > 0):
		return 0, fmt.Errorf("there is no normal depth: the bed falls by %.4g m/m; give it a fall", slope)
	case !(roughness > 0):
		return 0, fmt.Errorf("there is no normal depth: Manning's n is %g; give one above 0", roughness)
	}
	y, err := leastDepth(&s, flow, func(y float64) float64 { return Conveyance(s, y, roughness) * math.Sqrt(slope) })
	if err != nil {
		return 0, fmt.Errorf("there is no normal depth: %w", err)
	}
	return y, nil
}

// CriticalDepth returns the depth [m] at which a flow [m³/s] has the least specific
// energy: flow² × top width = g × area³ ([Chow1959] section 4-2). Of several, as
// over a bench, it is the least.
func CriticalDepth(s channel.Section, flow float64) (float64, error) {
	y, err := leastDepth(&s, flow, func(y float64) float64 {
		area, width := s.Area(y), s.TopWidth(y)
		if !(area > 0) {
			return 0
		}
		return area * math.Sqrt(Gravity*area/width)
	})
	if err != nil {
		return 0, fmt.Errorf("there is no critical depth: %w", err)
	}
	return y, nil
}

// deepest is the depth beyond which none is looked for [m].
const deepest = 1e4

// lowest returns the height of the lowest point of a section [m]: nought but where
// it was surveyed.
func lowest(s *channel.Section) float64 {
	low := 0.0
	if len(s.Line) > 0 {
		low = s.Line[0].Height
		for _, p := range s.Line {
			low = min(low, p.Height)
		}
	}
	return low
}

// leastDepth returns the least depth at which what a section passes reaches a
// flow. It grows with the depth, but over benches it may fall back for a while, so
// every stretch between two heights of a surveyed section is looked through.
func leastDepth(s *channel.Section, flow float64, passes func(y float64) float64) (float64, error) {
	from := lowest(s)
	switch {
	case math.IsNaN(flow) || math.IsInf(flow, 0) || flow < 0:
		return 0, fmt.Errorf("the flow is %g m³/s; give one of 0 or more", flow)
	case flow == 0:
		return from, nil
	}
	const parts = 24
	for _, to := range stops(s) {
		for i := 1.0; i <= parts; i++ {
			a, b := from+(to-from)*(i-1)/parts, from+(to-from)*i/parts
			if i == parts {
				b = to // at which a bench is still dry
			}
			if passes(b) >= flow {
				return root(func(y float64) float64 { return passes(y) - flow }, a, b), nil
			}
		}
		from = to
	}
	for step := 1e-3; from < deepest; step *= 2 {
		if passes(from+step) >= flow {
			return root(func(y float64) float64 { return passes(y) - flow }, from, from+step), nil
		}
		from += step
	}
	return 0, errors.New("the section holds no such flow; give it a bed or side slopes")
}

// stops lists the heights of a surveyed section from its lowest up.
func stops(s *channel.Section) []float64 {
	var heights []float64
	for _, p := range s.Line {
		heights = append(heights, p.Height)
	}
	slices.Sort(heights)
	return slices.Compact(heights)
}

// root returns where f, of which f(a) and f(b) differ in sign, is nought, to the
// last digits.
func root(f func(x float64) float64, a, b float64) float64 { return rootWithin(f, a, b, 4e-16) }

// rootWithin is root to a share of the answer: [Chandrupatla1997], which is bisection
// or inverse quadratic interpolation as the last three values allow.
func rootWithin(f func(x float64) float64, a, b, share float64) float64 {
	fa, fb := f(a), f(b)
	c, fc, t := a, fa, 0.5
	for range 200 {
		x := a + t*(b-a)
		fx := f(x)
		if math.Signbit(fx) == math.Signbit(fa) {
			c, fc = a, fa
		} else {
			c, b, fc, fb = b, a, fb, fa
		}
		a, fa = x, fx
		best := a
		if math.Abs(fb) < math.Abs(fa) {
			best = b
		}
		near := share*math.Abs(best) + 1e-18
		limit := near / math.Abs(b-a)
		if fa == 0 || fb == 0 || limit > 0.5 {
			return best
		}
		t = 0.5
		if xi, phi := (a-b)/(c-b), (fa-fb)/(fc-fb); phi*phi < xi && (1-phi)*(1-phi) < 1-xi {
			t = fa/(fb-fa)*fc/(fb-fc) + (c-a)/(b-a)*fa/(fc-fa)*fb/(fc-fb)
		}
		t = min(max(t, limit), 1-limit)
	}
	return a
}
