package work

import (
	"context"
	"sync"
)

// Progress is how far a long job has come.
type Progress struct {
	// Fraction runs from 0 to 1; NaN where the end is not known.
	Fraction float64
	// Text says what is being done, for a person.
	Text string
}

// A Long is a job that takes long enough to be watched.
type Long[T any] struct {
	// Do does the work. It calls report as often as it likes, from any goroutine.
	Do func(ctx context.Context, report func(Progress)) (T, error)
	// Show is told of progress: each new text, and each whole hundredth. It may be nil.
	Show func(Progress)
	// Done is told the result, once, after the last Show. A job that was
	// cancelled ends in an error that wraps context.Canceled, or in its result
	// where it had finished before it noticed.
	Done func(T, error)
}

// Start runs j on a goroutine of its own; cancel asks it to stop and returns at
// once. It is safe to cancel twice and after the end.
func Start[T any](j Long[T]) (cancel context.CancelFunc) {
	ctx, cancel := context.WithCancel(context.Background())
	go func() {
		defer cancel()
		g := gauge{show: j.Show, hundredth: -1}
		value, err := guard(func() (T, error) { return j.Do(ctx, g.report) })
		g.close()
		j.Done(value, err)
	}()
	return cancel
}

// A gauge thins a stream of reports to those that a person could see.
type gauge struct {
	mu        sync.Mutex
	show      func(Progress)
	text      string
	hundredth int
}

func (g *gauge) report(p Progress) {
	g.mu.Lock()
	defer g.mu.Unlock()
	hundredth := -1
	if p.Fraction == p.Fraction {
		p.Fraction = max(0, min(1, p.Fraction))
		hundredth = int(100 * p.Fraction)
	}
	if g.show == nil || p.Text == g.text && hundredth == g.hundredth {
		return
	}
	g.text, g.hundredth = p.Text, hundredth
	g.show(p)
}

// close drops reports that come from goroutines which outlive their job.
func (g *gauge) close() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.show = nil
}
