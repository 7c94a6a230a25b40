package season

import (
	"fmt"
	"math"
	"slices"

	"runnel/analysis/pool"
)

// ways returns the outlets of each pool by which it passes water on, the lowest first: all
// but mouths, where water stands as in the drain, and of two pools that lie open to each other over one
// sill only that of the upper.
func ways(pools []pool.Pool) [][]pool.Outlet {
	all := make([][]pool.Outlet, len(pools))
	for i := range pools {
		for _, o := range pools[i].Outlets {
			if o.Kind != pool.Mouth {
				all[i] = append(all[i], o)
			}
		}
		slices.SortStableFunc(all[i], func(a, b pool.Outlet) int {
			if a.Crest < b.Crest {
				return -1
			}
			if a.Crest > b.Crest {
				return 1
			}
			return 0
		})
	}
	for i := range all {
		for j := range all {
			if i < j && leads(all[i], j) && leads(all[j], i) {
				lower, upper := j, i
				if above(&pools[j], &pools[i]) {
					lower, upper = i, j
				}
				all[lower] = slices.DeleteFunc(all[lower], func(o pool.Outlet) bool { return o.To == upper })
			}
		}
	}
	return all
}

func leads(ways []pool.Outlet, to int) bool {
	return slices.ContainsFunc(ways, func(o pool.Outlet) bool { return o.To == to })
}

// above says which of two pools passes water to the other: the one that a drain fills, or
// fills higher, or else the one with the higher floor.
func above(p, q *pool.Pool) bool {
	a, b := filled(p), filled(q)
	if a != b {
		return a > b
	}
	return p.Floor > q.Floor
}

func filled(p *pool.Pool) float64 {
	if math.IsNaN(p.Running) {
		return math.Inf(-1)
	}
	return p.Running
}

// order sorts pools so that each comes before those that it passes water to.
func order(pools []pool.Pool, ways [][]pool.Outlet) ([]int, error) {
	const on, done = 1, 2
	state := make([]int, len(pools))
	var up []int
	var visit func(i int) error
	visit = func(i int) error {
		if state[i] == on {
			return fmt.Errorf("the water of %s would come back to it over other pools; lower an outlet by which it leaves", pools[i].Title)
		}
		if state[i] == done {
			return nil
		}
		state[i] = on
		for _, o := range ways[i] {
			if o.To >= 0 && o.To != i {
				if err := visit(o.To); err != nil {
					return err
				}
			}
		}
		state[i] = done
		up = append(up, i)
		return nil
	}
	for i := range pools {
		if err := visit(i); err != nil {
			return nil, err
		}
	}
	slices.Reverse(up)
	return up, nil
}
