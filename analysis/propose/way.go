package propose

import (
	"container/heap"
	"context"
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/analysis/channel"
	"runnel/geo/grid"
)

// How many times dearer a metre is for the way where the banks would be too low or the
// cut too deep, and within the setback of a service line.
const (
	throughLow     = 10.0
	throughService = 30.0
)

// way returns the cheapest way from the inlet to the outlet that keeps the setbacks
// [Dijkstra1959], or says what stands in it. It keeps off low and high ground and off
// service lines where it can.
func (w *world) way(ctx context.Context, services []thing) (orb.LineString, error) {
	service := newField(w.bound(), leastCell)
	if err := service.set(ctx, func(p orb.Point) float64 { return slackAbove(services, p, far) }); err != nil {
		return nil, err
	}
	t := w.tangle(&service)
	way := t.shortest(ctx)
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case way == nil:
		return nil, w.blocked(ctx)
	}
	way[0], way[len(way)-1] = w.q.From, w.q.To
	return smooth(way), nil
}

// A tangle is the lattice as a graph: the price of a metre at each node, +Inf where
// nothing can pass.
type tangle struct {
	*field
	price    []float64
	from, to int
}

func (w *world) tangle(service *field) tangle {
	f := &w.free
	t := tangle{field: f, price: make([]float64, len(f.v)), from: f.nearest(w.q.From), to: f.nearest(w.q.To)}
	for i := range t.price {
		t.price[i] = w.price(i, service)
	}
	t.price[t.from], t.price[t.to] = 1, 1
	return t
}

func (w *world) price(i int, service *field) float64 {
	p := w.free.node(i)
	ground, half := grid.Sample(w.site.Ground, p), w.halfAt(p)
	from, to := planar.Distance(p, w.q.From), planar.Distance(p, w.q.To)
	if math.IsNaN(ground) || float64(w.free.v[i]) < half || float64(w.by.v[i]) < w.needed(from, to, half) {
		return math.Inf(1)
	}
	price := 1.0
	if low := w.ends.water + channel.Freeboard; ground < low && !w.ends.byTie(p) || ground-w.ends.bed > w.q.Deepest {
		price = throughLow
	}
	if float64(service.v[i]) < half {
		price *= throughService
	}
	return price
}

// A front is a node with what the way to it costs, a queue the nodes at the front.
type front struct {
	node int
	cost float64
}

type queue []front

func (q queue) Len() int           { return len(q) }
func (q queue) Less(i, k int) bool { return q[i].cost < q[k].cost }
func (q queue) Swap(i, k int)      { q[i], q[k] = q[k], q[i] }
func (q *queue) Push(f any)        { *q = append(*q, f.(front)) }
func (q *queue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}

// shortest returns the cheapest way over the nodes; nil where there is none.
func (t *tangle) shortest(ctx context.Context) orb.LineString {
	cost, before := make([]float64, len(t.price)), make([]int, len(t.price))
	for i := range cost {
		cost[i] = math.Inf(1)
	}
	cost[t.from] = 0
	open := queue{{t.from, 0}}
	for n := 0; len(open) > 0; n++ {
		here := heap.Pop(&open).(front)
		if here.node == t.to || n%1024 == 0 && ctx.Err() != nil {
			break
		}
		if here.cost > cost[here.node] {
			continue
		}
		t.around(here, func(next front) {
			if next.cost < cost[next.node] {
				cost[next.node], before[next.node] = next.cost, here.node
				heap.Push(&open, next)
			}
		})
	}
	if math.IsInf(cost[t.to], 1) {
		return nil
	}
	return t.back(before)
}

// around calls visit with the neighbours of a node and what the way to them costs.
func (t *tangle) around(here front, visit func(front)) {
	for d := range grid.StepX {
		x, y := here.node%t.w+grid.StepX[d], here.node/t.w+grid.StepY[d]
		if x < 0 || y < 0 || x >= t.w || y >= t.h {
			continue
		}
		next := y*t.w + x
		step := math.Hypot(float64(grid.StepX[d]), float64(grid.StepY[d]))
		visit(front{next, here.cost + step*(t.price[here.node]+t.price[next])/2})
	}
}

// back returns the way to the last node, each of whose nodes knows the one before it.
func (t *tangle) back(before []int) orb.LineString {
	way := orb.LineString{t.node(t.to)}
	for i := t.to; i != t.from; {
		i = before[i]
		way = append(way, t.node(i))
	}
	way.Reverse()
	return way
}

// evenings is how often a way is evened out: enough to take the corners of the lattice
// out of it.
const evenings = 60

// smooth evens a way out, its ends kept.
func smooth(way orb.LineString) orb.LineString {
	if len(way) < 2 {
		return way
	}
	for range evenings {
		last := way[0]
		for i := 1; i < len(way)-1; i++ {
			here := way[i]
			way[i] = orb.Point{(last[0] + 2*here[0] + way[i+1][0]) / 4, (last[1] + 2*here[1] + way[i+1][1]) / 4}
			last = here
		}
	}
	return way
}

// blocked says which limit leaves no way between the ends.
func (w *world) blocked(ctx context.Context) error {
	for _, kind := range kindsOf(w.things) {
		relaxed := *w
		relaxed.near, relaxed.hard = without(w.near, kind), without(w.hard, kind)
		if err := relaxed.lay(ctx); err != nil {
			return err
		}
		none := newField(w.bound(), leastCell)
		if err := none.set(ctx, func(orb.Point) float64 { return far }); err != nil {
			return err
		}
		t := relaxed.tangle(&none)
		if t.shortest(ctx) != nil {
			return fmt.Errorf("no line fits between the inlet and the outlet: %s; %s", what(kind, w.limitOf(kind)), remedy(kind))
		}
	}
	return fmt.Errorf("no line fits between the inlet and the outlet: unknown ground, or the limits of several things together, leave no room for a channel %.1f m wide; make the setbacks smaller, the sides steeper, or move an end", 2*w.usualHalf())
}
