package hydraulics

import (
	"context"
	"math"
)

// sweeps is how often all free branches are gone through before one gives up, and
// apart how far the heads at the ends of one may still differ then [m].
const (
	sweeps = 60
	apart  = 1e-7
)

// solve finds the flows of the free branches, each in turn between brackets with the
// others as they are, as [Cross1936] balances loops, and then all together, until none
// changes. It reports whether it got there.
func (w *network) solve(ctx context.Context) (bool, error) {
	total := 0.0
	for _, q := range w.inflow {
		total += q
	}
	for range sweeps {
		changed := 0.0
		for _, i := range w.free {
			if err := ctx.Err(); err != nil || w.climbed() > mostClimbed {
				return false, err
			}
			before := w.flow[i]
			w.balance(i, total)
			changed = max(changed, math.Abs(w.flow[i]-before))
		}
		w.settle()
		w.grow()
		if changed <= 1e-12*total {
			break
		}
		w.hasten(total)
	}
	return w.balanced(), nil
}

// shut reports whether a free branch rightly carries nothing: the water at neither
// end stands high enough to pass, or both stand alike.
func (w *network) shut(i int) bool {
	if forth := w.residual(i, 0); w.branches[i].oneWay || forth < -apart {
		return forth >= -apart
	}
	b := &w.branches[i]
	return b.out == nil && w.at(b.to)-b.head(0, w.at(b.from)) <= apart
}

// mostClimbed is how many stations are climbed in all before one gives up: a few
// seconds' work.
const mostClimbed = 5_000_000

func (w *network) climbed() int {
	all := 0
	for i := range w.branches {
		all += w.branches[i].climbed
	}
	return all
}

// balance finds the flow of one free branch.
func (w *network) balance(i int, total float64) {
	low, high, start := -total, total, w.flow[i]
	if w.branches[i].oneWay {
		low = 0
	}
	f := func(flow float64) float64 { return w.residual(i, flow) }
	best := start
	switch at := f(start); {
	case at > 0 && f(low) < 0:
		best = root(f, low, start)
	case at > 0:
		best = low
	case at < 0 && f(high) > 0:
		best = root(f, start, high)
	case at < 0:
		best = high
	}
	if math.Abs(best) < nothing*total && w.shut(i) {
		best = 0
	}
	w.flow[i] = best
	w.settle()
}

// nothing is the share of all flow below which a branch is tried without any.
const nothing = 1e-6

// balanced reports whether the heads at both ends of every free branch agree.
func (w *network) balanced() bool {
	for _, i := range w.free {
		flow := w.flow[i]
		if r := w.residual(i, flow); !(math.Abs(r) <= apart) && !(flow == 0 && w.shut(i)) {
			return false
		}
	}
	return true
}

// hasten goes on for all free branches that carry something together, by Newton's
// method with differences for derivatives, while that brings the heads closer: loops
// that share branches close in on each other slowly one by one.
func (w *network) hasten(total float64) {
	var of []int
	for _, i := range w.free {
		if w.flow[i] != 0 {
			of = append(of, i)
		}
	}
	if len(of) < 2 {
		return
	}
	for range 8 {
		now := w.residuals(of)
		step := w.newton(of, now, total)
		if step == nil || !w.moved(of, step, now) {
			return
		}
	}
}

// residuals lists the residuals of some free branches with the flows as they are.
func (w *network) residuals(of []int) []float64 {
	all := make([]float64, len(of))
	for k, i := range of {
		all[k] = w.residual(i, w.flow[i])
	}
	return all
}

// newton returns the changes of flow that would take the residuals away if they went
// on as they go, nil where nothing is known of that.
func (w *network) newton(of []int, now []float64, total float64) []float64 {
	rows := make([][]float64, len(of))
	for k := range rows {
		rows[k] = append(make([]float64, len(of)), -now[k])
	}
	for k, i := range of {
		at, change := w.flow[i], 1e-6*total
		w.flow[i] = at + change
		for j, r := range w.residuals(of) {
			rows[j][k] = (r - now[j]) / change
		}
		w.flow[i] = at
	}
	return eliminate(rows)
}

// moved changes flows by a step, or a part of it, where the greatest residual shrinks.
func (w *network) moved(of []int, step, before []float64) bool {
	from := make([]float64, len(of))
	for k, i := range of {
		from[k] = w.flow[i]
	}
	for share := 1.0; share > 0.05; share /= 2 {
		for k, i := range of {
			w.flow[i] = from[k] + share*step[k]
			if w.branches[i].oneWay {
				w.flow[i] = max(0, w.flow[i])
			}
		}
		if greatest(w.residuals(of)) < greatest(before)*0.9 {
			return true
		}
	}
	for k, i := range of {
		w.flow[i] = from[k]
	}
	w.settle()
	return false
}

func greatest(all []float64) float64 {
	high := 0.0
	for _, v := range all {
		high = max(high, math.Abs(v))
	}
	return high
}

// eliminate solves linear equations, rows with their right sides last, by Gauss's
// elimination; nil where they have no one answer.
func eliminate(rows [][]float64) []float64 {
	n := len(rows)
	for k := range n {
		best := k
		for i := k; i < n; i++ {
			if math.Abs(rows[i][k]) > math.Abs(rows[best][k]) {
				best = i
			}
		}
		rows[k], rows[best] = rows[best], rows[k]
		if !(math.Abs(rows[k][k]) > 0) {
			return nil
		}
		for i := k + 1; i < n; i++ {
			share := rows[i][k] / rows[k][k]
			for j := k; j <= n; j++ {
				rows[i][j] -= share * rows[k][j]
			}
		}
	}
	x := make([]float64, n)
	for k := n - 1; k >= 0; k-- {
		x[k] = rows[k][n]
		for j := k + 1; j < n; j++ {
			x[k] -= rows[k][j] * x[j]
		}
		x[k] /= rows[k][k]
		if math.IsNaN(x[k]) || math.IsInf(x[k], 0) {
			return nil
		}
	}
	return x
}
