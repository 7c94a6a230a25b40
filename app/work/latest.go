// Package work runs what takes too long for the interface's goroutine.
//
// A Latest answers a stream of requests of which only the newest matters, such
// as the figures of a site that is being dragged about. Start runs one long job
// that a person may watch and stop. Both call back on their own goroutine; the
// interface brings the result over to its own. A job that panics ends in a
// Fault: the program lives on.
package work

import (
	"context"
	"sync"
	"time"
)

// A Latest runs one job at a time and delivers the result of the newest. A job
// that a newer one overtakes is cancelled, and what it returns is dropped.
type Latest[T any] struct {
	// Patience is how long a job may run before a newer one cancels it: what
	// ends sooner is delivered, so that a pointer that never rests still sees
	// figures. Zero cancels at once. It is set before the first request.
	Patience time.Duration

	deliver func(T, error)

	mu      sync.Mutex
	waiting func(context.Context) (T, error)
	running bool
	// started and cancel are of the running job; overtaken is set once its
	// end is settled.
	started   time.Time
	cancel    context.CancelFunc
	overtaken bool
	idle      sync.Cond
}

// NewLatest returns a Latest that hands each result to deliver, one at a time
// and in order. deliver may ask for more; it must not call Stop.
func NewLatest[T any](deliver func(T, error)) *Latest[T] {
	l := &Latest[T]{deliver: deliver}
	l.idle.L = &l.mu
	return l
}

// Request asks for job in place of any asked for before, and returns at once.
// A job that heeds its context is what makes the newest quick.
func (l *Latest[T]) Request(job func(context.Context) (T, error)) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.waiting = job
	if !l.running {
		l.running = true
		go l.run()
		return
	}
	if l.cancel == nil || l.overtaken {
		return
	}
	l.overtaken = true
	if left := l.Patience - time.Since(l.started); left > 0 {
		time.AfterFunc(left, l.cancel)
		return
	}
	l.cancel()
}

// Stop drops what is waiting, cancels what runs and returns when it has ended.
// Nothing is delivered afterwards unless more is asked for.
func (l *Latest[T]) Stop() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.waiting = nil
	if l.cancel != nil {
		l.cancel()
	}
	for l.running {
		l.idle.Wait()
	}
}

func (l *Latest[T]) run() {
	for {
		job, ctx, ok := l.next()
		if !ok {
			return
		}
		value, err := guard(func() (T, error) { return job(ctx) })
		if ctx.Err() == nil {
			l.deliver(value, err)
		}
	}
}

// next takes the waiting job, or marks the worker as gone.
func (l *Latest[T]) next() (func(context.Context) (T, error), context.Context, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.cancel != nil {
		l.cancel()
		l.cancel = nil
	}
	job := l.waiting
	l.waiting = nil
	if job == nil {
		l.running = false
		l.idle.Broadcast()
		return nil, nil, false
	}
	ctx, cancel := context.WithCancel(context.Background())
	l.cancel, l.started, l.overtaken = cancel, time.Now(), false
	return job, ctx, true
}
