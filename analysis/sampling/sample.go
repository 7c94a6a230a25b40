package sampling

import (
	"context"
	"fmt"
	"math/rand/v2"
	"runtime"
	"sync/atomic"

	"golang.org/x/sync/errgroup"
)

// An Input is a figure that a result rests on.
type Input struct {
	Name string
	Of   Distribution
}

// A Plan is what is to be drawn.
type Plan struct {
	Inputs []Input
	// Outputs is how many figures come of each draw.
	Outputs, Draws int
	Seed           uint64
	// Workers is how many work at once; nought for as many as there are processors.
	Workers int
}

// A Sample holds what was drawn, and what came of it.
type Sample struct {
	Plan Plan
	// Drawn is by input and draw, Out by output and draw.
	Drawn, Out [][]float64

	ranks [][]float64 // of Drawn, by input; nil for a Choice
}

// Run draws the plan's inputs and works out what comes of them. newWorker is called once
// for each worker; what it returns works out one draw's outputs from its inputs' values,
// and only ever one at a time. Outputs are nought until it sets them, and NaN where they are not known.
func Run(ctx context.Context, p Plan, newWorker func() func(values, out []float64)) (*Sample, error) {
	if p.Draws < 1 {
		return nil, fmt.Errorf("there are %d draws to make; ask for one at least", p.Draws)
	}
	for _, in := range p.Inputs {
		if err := in.Of.Check(); err != nil {
			return nil, fmt.Errorf("%s: %w", in.Name, err)
		}
	}
	s := &Sample{Plan: p, Drawn: columns(len(p.Inputs), p.Draws), Out: columns(p.Outputs, p.Draws)}
	if p.Workers < 1 {
		p.Workers = runtime.GOMAXPROCS(0)
	}
	var next atomic.Int64
	group, ctx := errgroup.WithContext(ctx)
	for range p.Workers {
		w := worker{sample: s, f: newWorker()}
		w.values, w.out = make([]float64, len(p.Inputs)), make([]float64, p.Outputs)
		group.Go(func() error {
			for {
				from := int(next.Add(block)) - block
				if from >= p.Draws || ctx.Err() != nil {
					return ctx.Err()
				}
				for i := from; i < min(from+block, p.Draws); i++ {
					w.draw(i)
				}
			}
		})
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	s.rankInputs()
	return s, nil
}

// block is how many draws a worker takes at once.
const block = 16

// A worker works out draws, one at a time.
type worker struct {
	sample      *Sample
	f           func(values, out []float64)
	values, out []float64
	random      rand.PCG
}

func (w *worker) draw(i int) {
	p := &w.sample.Plan
	w.random.Seed(scatter(p.Seed), scatter(uint64(i)))
	for k := range p.Inputs {
		w.values[k] = p.Inputs[k].Of.Quantile(unit(w.random.Uint64()))
		w.sample.Drawn[k][i] = w.values[k]
	}
	clear(w.out)
	w.f(w.values, w.out)
	for k, v := range w.out {
		w.sample.Out[k][i] = v
	}
}

// scatter spreads numbers that lie side by side over all that there are, as the streams of
// neighbouring seeds are not known to be independent: SplitMix64's mixing [Steele2014].
func scatter(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// unit is a number above 0 and below 1.
func unit(x uint64) float64 { return (float64(x>>12) + 0.5) / (1 << 52) }

func columns(n, rows int) [][]float64 {
	all := make([][]float64, n)
	for i := range all {
		all[i] = make([]float64, rows)
	}
	return all
}
