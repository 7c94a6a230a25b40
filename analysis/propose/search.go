package propose

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"golang.org/x/sync/errgroup"
	"runnel/geo/plan"
)

// How long and how many chains are at usual effort: for the best course, and for each
// one more that differs from those before.
const (
	chainSteps = 5_000
	firstRound = 8
	laterRound = 4
)

// The price of a fault [m² of contact, as a share of that of the start], at the start
// of a chain and at its end; beyond polishing, a share of the chain, no fault is taken.
const (
	startPrice = 0.05
	endPrice   = 0.5
	polishing  = 0.75
)

// The temperature at the start of a chain and at its end, as a share of the contact of
// the start.
const (
	hot  = 0.006
	cold = 0.00005
)

// score is what a trial is worth with faults at a price [m²].
func (w *world) score(t *trial, price float64) float64 {
	return t.contact - price*w.scale*t.fault()
}

// setScale sets what contact area is of the order that is to be had [m²]: what the
// volume digs of a narrow bed as deep as at the inlet, or half as much again as the best
// start, where there is less room.
func (w *world) setScale(best float64) {
	half := w.usualHalf()
	deep := max(0.05, 2*(half-w.q.Narrowest/2)/(w.q.Left+w.q.Right))
	section := w.q.section(w.q.Narrowest)
	w.scale = min(w.q.Volume/section.Area(deep)*section.WettedPerimeter(deep), 1.5*best)
}

// search runs chains from the best starts, in rounds: each seeks a course that is
// unlike those picked of the rounds before. It returns the courses that keep every
// limit: first those picked, one a round, then the others by their contact.
func (w *world) search(ctx context.Context, progress func(float64)) ([]trial, error) {
	var picked, rest []trial
	steps := max(1, int(chainSteps*w.q.Effort))
	told := teller{tell: progress, all: steps * (firstRound + laterRound*(w.q.Count-1))}
	for i := range w.q.Count {
		r := round{world: w, number: i, steps: steps, told: &told}
		best, err := r.run(ctx)
		if err != nil {
			return nil, err
		}
		rest = append(rest, slices.DeleteFunc(slices.Clone(best), func(t trial) bool { return t.fault() > 0 })...)
		if i == 0 && len(rest) == 0 {
			return nil, w.reason(best)
		}
		slices.SortStableFunc(rest, func(a, b trial) int { return cmp.Compare(b.contact, a.contact) })
		for k := range rest {
			if line := plan.Curve(rest[k].knots); !alike(w.picked, line) {
				picked, w.picked = append(picked, rest[k]), append(w.picked, line)
				rest = slices.Delete(rest, k, k+1)
				break
			}
		}
		if err := w.avoid(ctx); err != nil {
			return nil, err
		}
	}
	return append(picked, rest...), nil
}

// avoid has later rounds keep unlike what is picked.
func (w *world) avoid(ctx context.Context) error {
	for _, line := range w.picked[len(w.others):] {
		f, course := newField(w.bound(), otherCell), thinned(line)
		if err := f.set(ctx, func(p orb.Point) float64 { return min(far, plan.Distance(course, p)) }); err != nil {
			return err
		}
		w.others = append(w.others, f)
	}
	return nil
}

// otherCell is how closely the distance from another course is known [m]: only its mean
// along a line counts.
const otherCell = 1.0

// thinned returns a line by places a metre apart, or nearly.
func thinned(line orb.LineString) orb.LineString {
	length := planar.Length(line)
	n := int(max(1, math.Ceil(length)))
	var places orb.LineString
	for i := 0; i <= n; i++ {
		places = append(places, alongLine(line, length*float64(i)/float64(n)))
	}
	return places
}

// A round is some chains that run side by side.
type round struct {
	*world
	number, steps int
	told          *teller
}

func (r *round) run(ctx context.Context) ([]trial, error) {
	m := tester{world: r.world}
	starts, err := m.starts(ctx)
	if err != nil {
		return nil, err
	}
	if r.number == 0 {
		r.setScale(max(1, starts[0].contact))
	}
	n := firstRound
	if r.number > 0 {
		n = laterRound
	}
	best := make([]trial, n)
	group, inner := errgroup.WithContext(ctx)
	group.SetLimit(workers())
	for i := range n {
		group.Go(func() error {
			seed := rand.NewPCG(r.q.Seed, uint64(r.number*firstRound+i))
			c := chain{tester: tester{world: r.world}, random: rand.New(seed), steps: r.steps, now: starts[i%len(starts)]}
			err := c.run(inner, r.told)
			best[i] = c.best
			return err
		})
	}
	return best, group.Wait()
}

// A teller tells how much of the work is done.
type teller struct {
	sync.Mutex
	tell      func(float64)
	done, all int
}

// tellEvery is how many steps pass before it is told that they are done.
const tellEvery = 250

func (t *teller) add(steps int) {
	if t.tell == nil {
		return
	}
	t.Lock()
	defer t.Unlock()
	t.done += steps
	t.tell(min(1, float64(t.done)/float64(t.all)))
}

// A chain is one run of the search.
type chain struct {
	tester
	random *rand.Rand
	steps  int
	// now is where it stands; best is the best that keeps every limit, or as long as
	// there is none the one that is least at fault.
	now, best trial
}

func (c *chain) run(ctx context.Context, told *teller) error {
	c.best = c.now
	for i := range c.steps {
		if i%32 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if i%tellEvery == tellEvery-1 {
			told.add(tellEvery)
		}
		share := float64(i) / float64(c.steps)
		if share >= polishing && c.now.fault() > 0 {
			c.now = c.best
		}
		price := startPrice + (endPrice-startPrice)*share*share
		heat := c.scale * hot * math.Pow(cold/hot, share)
		least := c.score(&c.now, price) + heat*math.Log(c.random.Float64())
		next, ok := c.tryAbove(c.move(share), func(t *trial) bool { return c.score(t, price) > least })
		if !ok {
			continue
		}
		c.now = next
		if better(&next, &c.best) {
			c.best = next
		}
	}
	told.add(c.steps % tellEvery)
	return ctx.Err()
}

// better reports whether a is a better answer than b.
func better(a, b *trial) bool {
	fa, fb := a.fault(), b.fault()
	if fa > 0 || fb > 0 {
		return fa < fb
	}
	return a.contact > b.contact
}

// Of moves, so many in ten shift knots along the line, and so many in a hundred add a
// knot, and as many take one away.
const (
	shifts = 0.2
	recast = 0.03
	// mostKnots bounds the knots of a course.
	mostKnots = 240
)

// move returns knots a little changed.
func (c *chain) move(share float64) orb.LineString {
	knots := slices.Clone(c.now.knots)
	dice := c.random.Float64()
	switch {
	case dice < recast && len(knots) < mostKnots:
		return c.insert(knots)
	case dice < 2*recast && len(knots) > 4:
		i := 1 + c.random.IntN(len(knots)-2)
		return slices.Delete(knots, i, i+1)
	}
	i, spread := 1+c.random.IntN(len(knots)-2), c.random.IntN(6)
	size := c.turn() * math.Pow(10, -2*c.random.Float64()) * (1 - 0.6*share)
	dx, dy := size*c.random.NormFloat64(), size*c.random.NormFloat64()
	along := c.random.NormFloat64() * 0.5
	for k := max(1, i-spread); k <= min(len(knots)-2, i+spread); k++ {
		part := math.Cos(math.Pi / 2 * float64(k-i) / float64(spread+1))
		part *= part
		if dice > 1-shifts {
			a, b := c.now.knots[k-1], c.now.knots[k+1]
			dx, dy = along*(b[0]-a[0])/2, along*(b[1]-a[1])/2
		}
		knots[k][0] += part * dx
		knots[k][1] += part * dy
	}
	return knots
}

// insert adds a knot in the middle of a span, near the curve.
func (c *chain) insert(knots orb.LineString) orb.LineString {
	i := 1 + c.random.IntN(len(knots)-1)
	a, p, q, b := knots[max(0, i-2)], knots[i-1], knots[i], knots[min(len(knots)-1, i+1)]
	var middle orb.Point
	for k := range middle {
		middle[k] = (9*(p[k]+q[k]) - a[k] - b[k]) / 16
	}
	return slices.Insert(knots, i, middle)
}
