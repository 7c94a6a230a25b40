package route

import (
	"context"
	"math"

	"runnel/analysis/pool"
)

const hour = 3600.0 // [s]

// A hold is what a drain does to a pool in a step.
type hold uint8

const (
	free hold = iota // it brings nothing
	held             // it brings what holds the pool at its level
	full             // it brings all that it can
)

// A router leads a storm through pools. The slices are by pool, but for ways and their flows.
type router struct {
	in    *Input
	pools []basin
	ways  []way
	// now and next are the two ends of a part of a step.
	now, next state
	holds     []hold
	// drained is what drains bring in a step [m³].
	drained []float64
	newton  newton
	// rain is that of the step [m/s]; running is set while the drain runs.
	rain    float64
	running bool
	// last is when the last inflow ends [s], dry when each pool was last seen with water.
	last   float64
	dry    []float64
	result Result
}

// A state is all pools at one time: their volumes [m³]; the net flow into each, what soaks in and what comes
// to it but from a drain; and what passes each way [m³/s].
type state struct {
	v, net, soak, came, flow []float64
	looks                    []look
}

func newState(pools, ways int) state {
	f := func(n int) []float64 { return make([]float64, n) }
	return state{f(pools), f(pools), f(pools), f(pools), f(ways), make([]look, pools)}
}

// Run leads a storm through pools.
func Run(ctx context.Context, in Input) (Result, error) {
	if err := in.check(); err != nil {
		return Result{}, err
	}
	return newRouter(&in).run(ctx)
}

func newRouter(in *Input) *router {
	r := &router{in: in, ways: waysOf(in.Pools)}
	n := len(in.Pools)
	r.now, r.next = newState(n, len(r.ways)), newState(n, len(r.ways))
	r.holds, r.drained, r.dry = make([]hold, n), make([]float64, n), make([]float64, n)
	r.newton = newNewton(n)
	r.result.Step = in.Step
	for i := range in.Pools {
		p := &in.Pools[i]
		b := basin{Pool: p, rain: p.Top().Surface, hold: math.NaN(), film: p.StageAt(p.Stages[0].Level + 0.001).Volume}
		if k := in.Conductivity[i]; k > 0 {
			b.soak = k * in.Clogged / 1000 / hour
		}
		if !math.IsNaN(p.Running) {
			b.hold = p.StageAt(p.Running).Volume
		}
		r.pools = append(r.pools, b)
		if level := in.Start[i]; level > p.Stages[0].Level {
			r.now.v[i] = p.StageAt(level).Volume + max(0, level-p.Top().Level)*p.Top().Surface
		}
		r.result.First += r.now.v[i]
		r.result.Pools = append(r.result.Pools, Pool{Title: p.Title, Lines: p.Lines, Peak: math.Inf(-1)})
	}
	r.last = r.lastInflow()
	return r
}

// lastInflow is when nothing comes any more [s].
func (r *router) lastInflow() float64 {
	var last float64
	for _, figures := range r.in.Inflow {
		for k, v := range figures {
			if v > 0 {
				last = max(last, float64(k+1)*r.in.Step)
			}
		}
	}
	for k, v := range r.in.Rain {
		if v > 0 {
			last = max(last, float64(k+1)*r.in.Step)
		}
	}
	if !r.runs(r.in.Longest * hour) {
		last = max(last, r.in.Runs*hour)
	}
	return last
}

// runs says whether the drain runs just before a time [s].
func (r *router) runs(t float64) bool { return t <= r.in.Runs*hour }

func (r *router) run(ctx context.Context) (Result, error) {
	steps := int(math.Ceil(r.in.Longest * hour / r.in.Step))
	r.look(&r.now, 0)
	r.note(&r.now, 0)
	r.keep(1)
	for k, n := 0, 1; k < steps; k += n {
		if ctx.Err() != nil {
			return Result{}, ctx.Err()
		}
		if float64(k)*r.in.Step > r.last && r.atRest() {
			break
		}
		n = min(r.stride(k), steps-k)
		r.step(k, n)
		r.keep(n)
	}
	r.finish()
	return r.result, nil
}

const (
	// calm is how long after the last inflow water goes down slowly [s].
	calm = hour
	// longStride is the longest that is taken as one step then [s].
	longStride = hour / 4
)

// stride is how many steps are taken as one. Once the storm is over for a while water goes
// down by what soaks in, slowly; where it still runs over a crest the stride is cut up again.
func (r *router) stride(k int) int {
	if float64(k)*r.in.Step < r.last+calm {
		return 1
	}
	return max(1, int(longStride/r.in.Step))
}

// atRest says whether nothing stands any more, or no higher than the drain holds it.
func (r *router) atRest() bool {
	for i, v := range r.now.v {
		if v > r.floor(i) {
			return false
		}
	}
	return true
}

// floor is up to where a pool counts as empty in the end [m³].
func (r *router) floor(i int) float64 {
	b := &r.pools[i]
	if !math.IsNaN(b.hold) && r.runs(r.in.Longest*hour) {
		return b.Pool.StageAt(b.Running + 0.01).Volume
	}
	return b.film
}

// note follows the peaks, from one state to the next, at a time [s].
func (r *router) note(s *state, t float64) {
	for i := range r.pools {
		p := &r.result.Pools[i]
		if level := s.looks[i].level; level > p.Peak {
			p.Peak, p.PeakAt = level, t/hour
		}
		p.In = max(p.In, s.came[i])
	}
	for k := range r.ways {
		r.ways[k].passed.Peak = max(r.ways[k].passed.Peak, s.flow[k])
	}
}

// keep puts down so many steps that were taken as one, those between in line.
func (r *router) keep(n int) {
	for i := range r.pools {
		p := &r.result.Pools[i]
		p.Level = inLine(p.Level, r.now.looks[i].level, n)
		p.Inflow = inLine(p.Inflow, r.now.came[i], n)
		p.Outflow = inLine(p.Outflow, r.outflow(i), n)
	}
}

// outflow is what leaves a pool, over a sill from either side [m³/s].
func (r *router) outflow(i int) float64 {
	var sum float64
	for k := range r.ways {
		switch w, q := &r.ways[k], r.now.flow[k]; {
		case q > 0 && w.from == i:
			sum += q
		case q < 0 && w.To == i:
			sum -= q
		}
	}
	return sum
}

// inLine adds n figures, of which the last is v and those before lie in line with the one
// that is there.
func inLine(list []float64, v float64, n int) []float64 {
	was := v
	if len(list) > 0 {
		was = list[len(list)-1]
	}
	for k := 1; k <= n; k++ {
		list = append(list, was+(v-was)*float64(k)/float64(n))
	}
	return list
}

func (r *router) finish() {
	for i := range r.pools {
		b, p := &r.pools[i], &r.result.Pools[i]
		r.result.Last += r.now.v[i]
		p.Depth = p.Peak - b.Stages[0].Level
		p.Freeboard = math.NaN()
		for k := range r.ways {
			w := &r.ways[k]
			if w.from != i {
				continue
			}
			p.Outlets = append(p.Outlets, w.passed)
			if w.To < 0 {
				r.result.Left += w.passed.Volume
			}
			if free := w.Crest - p.Peak; w.Kind == pool.Brim && !(free > p.Freeboard) {
				p.Freeboard, p.Over = free, free < -1e-6
			}
		}
		p.Empty = max(0, r.dry[i]-r.last) / hour
		if r.now.v[i] > r.floor(i) {
			p.Empty = math.Inf(1)
		}
		if math.IsNaN(r.in.Conductivity[i]) {
			p.Empty = math.NaN()
		}
	}
}
