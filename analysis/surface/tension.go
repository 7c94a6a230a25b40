package surface

import (
	"context"
	"math"
)

// tensions are those that are tried, and usual the place of the one that is taken
// where nothing can be told.
var tensions = []float64{0, 0.1, 0.2, 0.35, 0.5, 0.7, 0.9}

const usual = 4

const (
	// trialCells is about how many cells a trial has at most.
	trialCells = 40_000
	// gain is by how much each further step from the usual tension must lower the
	// square of the miss, as a share: less than this was none on lidar grounds. What is
	// left out leaves twice the interval behind, which blurs what suits the whole.
	gain = 0.025
	// apart is how many cells must lie between measurements in a trial. Where they
	// are closer the tension matters little and coarse cells cannot tell.
	apart = 1.5
	// patience is how many steps in turn may be worse before no more are tried.
	patience = 2
)

// chooseTension returns the tension that suits the survey, found on cells coarse enough
// that all of it is quicker than the solution, or on a part of the ground. Where the
// smoothest surface runs past no contour that bounds it, it is that. Else it is the one
// that comes nearest to measurements that are left out; and where contours are too
// dense for that, the least with which the surface runs past them as little as it can.
func (p *problem) chooseTension(ctx context.Context) float64 {
	q := p.sample()
	bounded := len(q.contours) > 0 && q.interval > 0
	if bounded && q.overshoot(ctx, tensions[0]) <= slight {
		return tensions[0]
	}
	if q.scale > 1 || q.w == p.w && q.h == p.h {
		if trials := q.trials(); len(trials) > 0 {
			return heldOut(ctx, trials)
		}
	}
	if bounded {
		return q.leastOvershoot(ctx)
	}
	return tensions[usual]
}

// slight is by how much a surface may run past its contours that is as good as not at
// all: in the mean over all cells, in intervals.
const slight = 1e-4

// overshoot returns how far, in the mean over the cells and in intervals, the surface of
// a tension runs past the bounds that contours set when nothing holds it back.
func (p *problem) overshoot(ctx context.Context, tension float64) float64 {
	d := p.ladder(ctx, tension)
	if ctx.Err() != nil || p.known == nil {
		return 0
	}
	for _, l := range d.levels {
		l.bounds = nil
	}
	u, sum := d.climb(1e-5*p.relief(), func(float64) {}), 0.0
	if ctx.Err() != nil {
		return 0
	}
	for i, b := range p.known {
		past := max(float64(b.lo)-u[i], u[i]-float64(b.hi), 0)
		sum += min(past/p.interval, 1)
	}
	return sum / float64(len(u))
}

// leastOvershoot returns the least tension that overshoots as little as any.
func (p *problem) leastOvershoot(ctx context.Context) float64 {
	off, least := make([]float64, len(tensions)), math.Inf(1)
	for i, t := range tensions {
		off[i] = p.overshoot(ctx, t)
		least = min(least, off[i])
	}
	for i, o := range off {
		if o <= least+slight {
			return tensions[i]
		}
	}
	return tensions[usual]
}

// heldOut returns the tension with which the surface comes nearest to what trials leave
// out: every other level of the contours and an eighth of the spots, then others. It
// goes from the usual one to both sides as long as that helps.
func heldOut(ctx context.Context, trials []trial) float64 {
	cost := func(i int) float64 {
		sum := 0.0
		for _, t := range trials {
			sum += t.miss(ctx, tensions[i])
		}
		return math.Log(sum) + gain*math.Abs(float64(i-usual))
	}
	start := cost(usual)
	best, least := usual, start
	for _, step := range [2]int{-1, 1} {
		worse, last := 0, start
		for i := usual + step; i >= 0 && i < len(tensions) && worse < patience && ctx.Err() == nil; i += step {
			c := cost(i)
			if worse++; c < last {
				worse = 0
			}
			if last = c; c < least {
				best, least = i, c
			}
		}
	}
	return tensions[best]
}

// coarse returns p on cells twice, four times, … as large, n of them at most.
func (p *problem) coarse(n int) *problem {
	q := *p
	for q.w*q.h > n && min(q.w, q.h) >= 2*least {
		f, c := &level{w: q.w, h: q.h}, &level{w: (q.w + 1) / 2, h: (q.h + 1) / 2}
		q.pins = coarser(q.pins, f, c)
		q.w, q.h, q.scale = c.w, c.h, q.scale*2
	}
	if q.scale == 1 {
		return &q
	}
	q.breaks, q.contours, q.known = nil, nil, nil
	for _, b := range p.breaks {
		q.breaks = append(q.breaks, scaledAll(b, q.scale))
	}
	for _, c := range p.contours {
		q.contours = append(q.contours, contour{scaledAll(c.at, q.scale), c.level})
	}
	return &q
}

func scaledAll(at []spot, by float64) []spot {
	out := make([]spot, len(at))
	for i, a := range at {
		out[i] = scaled(a, by, by)
	}
	return out
}

// A trial is a problem and the pins that were left out of it.
type trial struct {
	*problem
	out []pin
}

// fewest is how many pins must be left out, and stay, for a trial to tell anything.
const fewest = 10

// trials returns the trials of p that tell anything.
func (p *problem) trials() []trial {
	var ts []trial
	for fold := range 2 {
		if t := p.without(fold); len(t.out) >= fewest && len(t.pins) >= fewest {
			ts = append(ts, t)
		}
	}
	return ts
}

// without returns p without what a fold leaves out. The levels that stay are
// numbered anew, so that each is next to what was the next but one.
func (p *problem) without(fold int) trial {
	q := *p
	q.known, q.pins, q.contours, q.levels = nil, nil, nil, nil
	q.interval = 2 * p.interval
	t := trial{problem: &q}
	for i, a := range p.pins {
		if a.left(i, fold) {
			t.out = append(t.out, a)
			continue
		}
		if a.level > 0 {
			a.level = (a.level-1)/2 + 1
		}
		q.pins = append(q.pins, a)
	}
	for i, z := range p.levels {
		if (i+1)%2 != fold {
			q.levels = append(q.levels, z)
		}
	}
	for _, c := range p.contours {
		if int(c.level+1)%2 != fold {
			q.contours = append(q.contours, contour{c.at, c.level / 2})
		}
	}
	return t
}

// left reports whether a fold leaves out a pin, the i-th.
func (a pin) left(i, fold int) bool {
	switch {
	case a.level > 0:
		return int(a.level)%2 == fold
	case a.level == 0:
		return int(uint32(i)*2654435761>>29) == fold
	}
	return false
}

// miss returns the sum of the squares by which the surface of a tension misses the
// pins that were left out, none counted for more than the interval of the contours:
// what runs away beyond the last of them says little of the rest.
func (t trial) miss(ctx context.Context, tension float64) float64 {
	u, sum, most := t.answer(ctx, tension, 1e-4, func(float64) {}), 0.0, math.Inf(1)
	if u == nil {
		return 0
	}
	if t.interval > 0 {
		most = t.interval / 2 // without every other level the interval is twice the survey's
	}
	for _, a := range t.out {
		sum += math.Pow(min(math.Abs(a.in(u, t.w, t.h)-a.z), most), 2)
	}
	return sum
}
