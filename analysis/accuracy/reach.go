package accuracy

import "math"

// mostPairs is how many differences are compared with each other.
const mostPairs = 3000

// reach returns how far apart differences correlate by 1/e [m], from how much they
// vary with the distance; 0 where nearby ones agree no more than others. Distances are
// told apart by a step [m].
//
// How much they vary is told robustly, from the square roots of what two are apart
// [CressieHawkins1980].
func reach(of []difference, step float64) float64 {
	const bins = 40
	if !(step > 0) {
		return 0
	}
	of = thinned(of)
	var roots [bins]float64
	var count [bins]int
	all, pairs := 0.0, 0
	for i, a := range of {
		for _, b := range of[:i] {
			root := math.Sqrt(math.Abs(a.off - b.off))
			all, pairs = all+root, pairs+1
			if bin := int(2 * math.Hypot(a.at[0]-b.at[0], a.at[1]-b.at[1]) / step); bin < bins {
				roots[bin] += root
				count[bin]++
			}
		}
	}
	sill := variation(all, pairs)
	for bin, n := range count {
		if n < 30 || variation(roots[bin], n) < (1-1/math.E)*sill {
			continue
		}
		if first(count[:bin]) {
			return 0
		}
		return (float64(bin) + 0.5) * step / 2
	}
	return 0
}

// first reports whether no bin before has pairs enough.
func first(before []int) bool {
	for _, n := range before {
		if n >= 30 {
			return false
		}
	}
	return true
}

// thinned returns some of many differences, evenly.
func thinned(of []difference) []difference {
	step := len(of)/mostPairs + 1
	if step == 1 {
		return of
	}
	var some []difference
	for i := 0; i < len(of); i += step {
		some = append(some, of[i])
	}
	return some
}

// variation returns half the mean square of differences by the sum of their roots.
func variation(roots float64, n int) float64 {
	if n == 0 {
		return 0
	}
	return square(square(roots/float64(n))) / (0.457 + 0.494/float64(n)) / 2
}
