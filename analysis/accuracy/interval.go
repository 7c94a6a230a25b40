package accuracy

import (
	"math"
	"slices"
)

// interval returns by how much levels differ that follow each other, and from what
// they are counted [m]: the step that comes oftenest, if all but a twentieth of the
// levels, or but one of a few, are whole steps apart. It is 0 where there is none.
func interval(levels []float64) (step, from float64) {
	if len(levels) < 3 {
		return 0, 0
	}
	sorted := slices.Sorted(slices.Values(levels))
	for _, step := range steps(sorted) {
		for _, from := range []float64{0, sorted[len(sorted)/2]} {
			on := 0
			for _, z := range sorted {
				if onStep(z-from, step) {
					on++
				}
			}
			if stray := len(sorted) - on; stray*20 <= len(sorted) || stray == 1 && len(sorted) >= fewWithStray {
				return step, from
			}
		}
	}
	return 0, 0
}

// fewWithStray is how few levels may have one that is on no step: the others still
// tell the step.
const fewWithStray = 6

// onStep reports whether a height is a whole number of steps, or a number and a
// half, as lines between others are.
func onStep(z, step float64) bool {
	t := 2 * z / step
	return math.Abs(t-math.Round(t)) < 0.04
}

// steps returns the differences of levels that follow each other, the commonest
// first and of those the largest, up to four.
func steps(sorted []float64) []float64 {
	count := map[int64]int{}
	for i := 1; i < len(sorted); i++ {
		if d := sorted[i] - sorted[i-1]; d > 1e-3 {
			count[int64(math.Round(d*1e3))]++ // to the millimetre
		}
	}
	var kinds []int64
	for d := range count {
		kinds = append(kinds, d)
	}
	slices.SortFunc(kinds, func(a, b int64) int {
		if count[a] != count[b] {
			return count[b] - count[a]
		}
		return int(b - a)
	})
	var out []float64
	for _, d := range kinds[:min(len(kinds), 4)] {
		out = append(out, exact(sorted, float64(d)/1e3))
	}
	return out
}

// exact returns a step that is known to the millimetre as all levels know it: over
// many steps a rounding adds up.
func exact(sorted []float64, about float64) float64 {
	for i := 1; i < len(sorted); i++ {
		span := sorted[i] - sorted[0]
		if n := math.Round(span / about); n >= 1 && math.Abs(span-n*about) < about/20 {
			about = span / n
		}
	}
	return about
}
