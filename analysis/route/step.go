package route

import "math"

const (
	// cuts is into how many parts a step is cut at most because outflow is quick.
	cuts = 16
	// shortest is below what a step is not cut for that [s].
	shortest = 2.0
)

// step leads the pools through n steps as one, in parts.
func (r *router) step(k, n int) {
	start, end := float64(k)*r.in.Step, float64(k+n)*r.in.Step
	r.rain = 0
	if k < len(r.in.Rain) {
		r.rain = r.in.Rain[k] / 1000 / r.in.Step
	}
	least := max(shortest, r.in.Step/cuts)
	for t, h := start, end-start; t < end; {
		if stop := r.in.Runs * hour; t < stop && stop < t+h { // a drain stops between parts
			h = stop - t
		}
		if end-t <= h*(1+1e-9) {
			h = end - t
		}
		to := t + h
		if end-to < 1e-9*r.in.Step {
			to = end
		}
		weight := 0.5
		r.running = r.runs(to)
		r.look(&r.now, t)
		solved := r.solve(to, h, weight)
		if !solved || r.quickest()*h > 1 || r.isShort(h, weight) {
			if h > least*(1+1e-6) {
				h = max(least, h/2)
				continue
			}
			weight = 1
			r.solve(to, h, weight)
		}
		r.accept(t, h, weight)
		t, h = to, 2*h
	}
}

// quickest is how fast outflow over free crests answers to volume at either end of the part [1/s].
func (r *router) quickest() float64 {
	most := 0.0
	for k := range r.ways {
		w := &r.ways[k]
		for _, s := range []*state{&r.now, &r.next} {
			l := &s.looks[w.from]
			tail := r.tail(w, s)
			if w.back && tail > w.Crest {
				continue // levels that even out cannot swing for long, and would cut every step up
			}
			const d = 1e-5
			rate := (w.flow(l.level+d, tail) - w.flow(l.level, tail)) / d * l.level1
			most = max(most, rate)
		}
	}
	return most
}

// isShort says whether more would have soaked in than there was.
func (r *router) isShort(h, weight float64) bool {
	for i, v := range r.next.v {
		if v < 0 && -v > r.soaks(i, h, weight) {
			return true
		}
	}
	return false
}

// soaks is what soaks in over a part [m³].
func (r *router) soaks(i int, h, weight float64) float64 {
	return h * (weight*r.next.soak[i] + (1-weight)*r.now.soak[i])
}

// accept takes a part of a step as it was found.
func (r *router) accept(t, h, weight float64) {
	for i := range r.pools {
		soaked := r.soaks(i, h, weight)
		if v := r.next.v[i]; v < 0 {
			soaked += v
			r.next.v[i] = 0
			r.next.looks[i] = r.pools[i].at(0)
		}
		r.result.Soaked += soaked
		r.result.In += r.drained[i] + h*(weight*r.own(i, t+h)+(1-weight)*r.own(i, t))
		floor, was, is := r.floor(i), r.now.v[i], r.next.v[i]
		switch {
		case is > floor:
			r.dry[i] = t + h
		case was > floor:
			r.dry[i] = t + h*(was-floor)/(was-is)
		}
	}
	for k := range r.ways {
		r.ways[k].passed.Volume += h * (weight*r.next.flow[k] + (1-weight)*r.now.flow[k])
	}
	r.note(&r.next, t+h)
	r.now, r.next = r.next, r.now
}

// own is what comes to a pool from outside at a time [m³/s].
func (r *router) own(i int, t float64) float64 { return r.inflow(i, t) + r.rain*r.pools[i].rain }

// inflow is that of a time, in line between figures [m³/s].
func (r *router) inflow(i int, t float64) float64 {
	if r.in.Inflow == nil {
		return 0
	}
	x := t / r.in.Step
	k := int(math.Floor(x + 1e-9))
	part := math.Max(0, x-float64(k))
	figure := func(k int) float64 {
		if k < len(r.in.Inflow[i]) {
			return r.in.Inflow[i][k]
		}
		return 0
	}
	return figure(k)*(1-part) + figure(k+1)*part
}
