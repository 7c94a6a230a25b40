package surface

import (
	"context"
	"math"
)

// fine is how true the answer is to the minimum, as a share of the relief.
const fine = 2e-7

// solve returns the heights of the cells above the datum, and nil with the context
// ended.
func (p *problem) solve(ctx context.Context, tension float64, tell func(float64)) []float64 {
	return p.answer(ctx, tension, fine, tell)
}

// answer is solve, true to a share of the relief.
func (p *problem) answer(ctx context.Context, tension, share float64, tell func(float64)) []float64 {
	d := p.ladder(ctx, tension)
	if ctx.Err() != nil {
		return nil
	}
	u := d.climb(share*p.relief(), tell)
	if ctx.Err() != nil {
		return nil
	}
	return u
}

// relief returns the height between the lowest and the highest pin [m].
func (p *problem) relief() float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range p.pins {
		lo, hi = min(lo, q.z), max(hi, q.z)
	}
	return max(hi-lo, 1e-3)
}
