package surface

import (
	"context"
	"math"
)

// loosest is by how much loosen weakens what is not exact, at most.
const loosest = 1 << 20

// loosen lowers the weights of the spots whose source names an error, until the
// surface misses them by that error in the mean: to follow them more closely would
// be to draw the error. Many spots in a cell are known better than one.
func (p *problem) loosen(ctx context.Context, tension float64) {
	tightest := math.Inf(1)
	for _, a := range p.pins {
		if a.off > 0 {
			tightest = min(tightest, a.off)
		}
	}
	if math.IsInf(tightest, 1) {
		return
	}
	small, by := p.sample(), 1.0
	for ; by < loosest && ctx.Err() == nil; by *= 4 {
		q := *small
		q.pins = weakened(q.pins, by*4, tightest)
		if q.strays(ctx, tension) {
			break
		}
	}
	p.pins = weakened(p.pins, by, tightest)
}

func weakened(pins []pin, by, tightest float64) []pin {
	out := make([]pin, len(pins))
	for i, a := range pins {
		if a.off > 0 {
			a.w /= by * math.Pow(a.off/tightest, 2)
		}
		out[i] = a
	}
	return out
}

// strays reports whether the surface misses the spots that are not exact by more
// than their errors.
func (p *problem) strays(ctx context.Context, tension float64) bool {
	u, sum, n := p.answer(ctx, tension, 1e-4, func(float64) {}), 0.0, 0.0
	if u == nil {
		return true
	}
	for _, a := range p.pins {
		if a.off > 0 {
			sum += a.many * math.Pow((a.in(u, p.w, p.h)-a.z)/a.off, 2)
			n++
		}
	}
	// Where none of them lies nothing can be told, and they stay as they are.
	return n == 0 || sum > n
}

// sample returns p on coarser cells or, where these would be too coarse for how close
// the measurements are, the middle of p.
func (p *problem) sample() *problem {
	q := p.coarse(trialCells)
	if p.spacing >= apart*q.scale {
		return q
	}
	side := int(math.Sqrt(trialCells))
	c := *p
	c.w, c.h = min(p.w, side), min(p.h, side)
	x, y := float64((p.w-c.w)/2), float64((p.h-c.h)/2)
	c.pins, c.breaks, c.contours, c.known = nil, nil, nil, nil
	for _, a := range p.pins {
		a.x, a.y = a.x-x, a.y-y
		if a.x > -0.5 && a.y > -0.5 && a.x < float64(c.w)-0.5 && a.y < float64(c.h)-0.5 {
			c.pins = append(c.pins, a)
		}
	}
	for _, b := range p.breaks {
		c.breaks = append(c.breaks, moved(b, -x, -y))
	}
	for _, l := range p.contours {
		c.contours = append(c.contours, contour{moved(l.at, -x, -y), l.level})
	}
	return &c
}

func moved(at []spot, x, y float64) []spot {
	out := make([]spot, len(at))
	for i, a := range at {
		out[i] = spot{a[0] + x, a[1] + y}
	}
	return out
}
