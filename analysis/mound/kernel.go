package mound

import (
	"slices"

	"runnel/analysis/season"
	"runnel/geo/plan"
)

// KernelOf returns how the water table under each field of rectangles answers, in the
// mean, to one cubic metre that soaks in evenly over one of them in the course of one
// day: t days after the end of that day it stands higher by a sum of exponentials of t.
// b is held at hi, so that fields and days add up. Room is left to the caller. The
// aquifer is to be known. A field of no area neither gives nor answers.
//
// How far a sum is off at the most, within a reach of days, is told as a share of the
// answer's peak; of answers so slight that they do not matter, as a share of a hundredth
// of what the fields answer to themselves.
//
// A field answers itself at once and ever less. Another's answer comes late, so some of
// its exponentials are taken away from others: a sum of positive ones cannot rise.
func KernelOf(fields [][]Rect, a plan.Aquifer, reach float64) (m season.Mound, misfit float64) {
	fields = withArea(fields)
	c := newClock(fields, a, reach)
	f := newFit(c.lags, reach)
	m = season.Mound{Days: f.days, Rise: make([][][]float64, len(fields))}
	own := make([]float64, len(fields))
	for i := range fields {
		m.Rise[i] = make([][]float64, len(fields))
		answers := make([][]float64, i+1)
		for j := range answers {
			answers[j] = c.answer(fields[i], fields[j], a.Yield)
		}
		own[i] = answers[i][0]
		for j, answer := range answers {
			rise := f.of(answer)
			m.Rise[i][j], m.Rise[j][i] = rise, slices.Clone(rise)
			if peak := max(f.peak(answer), slight*min(own[i], own[j])); peak > 0 {
				misfit = max(misfit, f.off(rise, answer)/peak)
			}
		}
	}
	return m, misfit
}

// slight is the share of a field's answer to itself below which another's does not matter.
const slight = 0.01

// withArea leaves out rectangles of no area.
func withArea(fields [][]Rect) [][]Rect {
	list := make([][]Rect, len(fields))
	for i, field := range fields {
		list[i] = slices.DeleteFunc(slices.Clone(field), func(r Rect) bool { return !(r.area() > 0) })
	}
	return list
}
