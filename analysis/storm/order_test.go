package storm_test

import (
	"iter"
	"math"
	"slices"

	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/analysis/storm"
	"runnel/geo/grid"
)

// rainedOn returns a twin after a storm, of ground that takes in soak [m]. Where a
// pond that spills runs over an inlet on its way to another that is not full yet, it
// counts which comes first; the storm says nothing then, and is skipped.
func rainedOn(t *rapid.T, f *flow.Flow, links []storm.Link, runoff, soak []float64) *twin {
	t.Helper()
	w, late := newTwin(f, links), newTwin(f, links)
	copy(w.soak, soak)
	copy(late.soak, soak)
	w.rain(runoff, slices.All[[]float64])
	late.rain(runoff, slices.Backward[[]float64])
	for k, v := range w.linked {
		if math.Abs(v-late.linked[k]) > 1e-9 {
			t.Skip("the order counts")
		}
	}
	return w
}

// rain lets the runoff of each cell run: what comes over a link's inlet first, then
// what comes to each pit, in an order.
func (w *twin) rain(runoff []float64, order func([]float64) iter.Seq2[int, float64]) {
	over, at := make([]float64, len(w.links)), make([]float64, len(runoff))
	for c, v := range runoff {
		if grid.IsNoData(w.g.V[c]) {
			continue
		}
		if end, link := w.down(int32(c)); link >= 0 {
			over[link] += v
		} else {
			at[end] += v
		}
	}
	for k, v := range over {
		w.run(w.links[k].From, v)
	}
	for c, v := range order(at) {
		w.run(int32(c), v)
	}
}

// reaches returns the cells that a flood at c would run over or stand on.
func reaches(f *flow.Flow, c int32) map[int32]bool {
	at := map[int32]bool{}
	for k := range int32(f.Ground.Len()) {
		w := newTwin(f, []storm.Link{{From: k, To: -1, Capacity: 1, Level: math.Inf(-1)}})
		w.run(c, 1e6)
		at[k] = w.linked[0] > 0
	}
	return at
}

// unlooped leads those links off the site whose water could come back to them, so
// that the order in which water comes does not count.
func unlooped(f *flow.Flow, links []storm.Link) []storm.Link {
	reach := make([]map[int32]bool, len(links))
	for k, l := range links {
		if l.To >= 0 {
			reach[k] = reaches(f, l.To)
		}
	}
	for k := range links {
		seen := make([]bool, len(links))
		for stack := []int{k}; len(stack) > 0 && links[k].To >= 0; {
			at := reach[stack[len(stack)-1]]
			stack = stack[:len(stack)-1]
			for j, l := range links {
				if !at[l.From] || seen[j] || l.To < 0 {
					continue
				}
				seen[j] = true
				stack = append(stack, j)
			}
			if seen[k] {
				links[k].To = -1
			}
		}
	}
	return links
}
