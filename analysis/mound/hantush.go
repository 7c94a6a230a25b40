// Package mound tells how far water that soaks in raises the water table, by the answer
// of [Hantush1967] for ground that takes in water evenly over a rectangle.
//
// Under an aquifer of conductivity K, specific yield Sy and depth of water hi, the table
// stands at h with
//
//	h² − hi² = (w/2K) ν t [S(l+x) + S(l−x)]·[S(a+y) + S(a−y)],  ν = K b/Sy,  b = (hi + h)/2
//
// where l and a are half of the rectangle's length and width and the product stands for
// S of the two over √(4νt): S(α, β) is the integral of erf(α/√τ)·erf(β/√τ) over τ from 0
// to 1. That is linear in h² − hi² while b is held, so rectangles add up, turned as they
// may be, and so do days of recharge. KernelOf holds b at hi, where it is linear in the
// rise itself, and takes the same integral over the time since the water soaked in.
//
// The aquifer goes on for ever, its floor is level, and what soaks in reaches the table
// at once. It holds while the table rises by less than about half of hi; Check says so.
//
// Lengths are m, times days, conductivity and recharge m/day.
package mound

import (
	"fmt"

	"gonum.org/v1/gonum/integrate/quad"

	"runnel/geo/plan"
)

// A rule is one of Gauss and Legendre on 0 to 1.
type rule struct{ x, w []float64 }

func gauss(n int) rule {
	r := rule{make([]float64, n), make([]float64, n)}
	quad.Legendre{}.FixedLocations(r.x, r.w, 0, 1)
	return r
}

// Check says why the rise of a water table cannot be told: the aquifer is not known, or
// it would rise further than the answer holds.
func Check(a plan.Aquifer, rise float64) error {
	for _, f := range []struct {
		name  string
		value float64
	}{{"the aquifer's conductivity", a.Conductivity}, {"the aquifer's specific yield", a.Yield}, {"the aquifer's thickness", a.Thickness}} {
		if !(f.value > 0) {
			return fmt.Errorf("the rise of the groundwater is not told, for %s is not known; "+
				"set it from a well's log or a pumping test", f.name)
		}
	}
	if rise > highest*a.Thickness {
		return fmt.Errorf("the groundwater would rise by %.1f m, more than half of the %.1f m that its water stands deep, "+
			"and the answer of Hantush (1967) does not hold so far; let less soak in there, or look at the aquifer's figures", rise, a.Thickness)
	}
	return nil
}

// highest is the greatest rise that the answer holds for, as a share of hi: Hantush's own
// bound [Hantush1967] (from memory).
const highest = 0.5
