package work

import (
	"context"
	"errors"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"
)

// shown gathers what a Latest delivers.
type shown struct {
	mu     sync.Mutex
	values []int
	errs   []error
}

func (s *shown) deliver(v int, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.values, s.errs = append(s.values, v), append(s.errs, err)
}

// sleeps returns a job of a length that heeds its context.
func sleeps(d time.Duration, value int) func(context.Context) (int, error) {
	return func(ctx context.Context) (int, error) {
		select {
		case <-ctx.Done():
			return -value, ctx.Err()
		case <-time.After(d):
			return value, nil
		}
	}
}

func TestLatestDelivers(t *testing.T) {
	tests := []struct {
		name     string
		patience time.Duration
		jobs     int
		every    time.Duration
		length   time.Duration
		want     []int
	}{
		{"a job alone is delivered", 0, 1, 0, time.Second, []int{1}},
		{"of many at once only the newest is delivered", 0, 5, 0, time.Second, []int{5}},
		{"jobs that do not overlap are all delivered", 0, 3, 2 * time.Second, time.Second, []int{1, 2, 3}},
		{"a running job is dropped for a newer one", 0, 3, 400 * time.Millisecond, time.Second, []int{3}},
		{"patience lets a short job end and skips those between", time.Second, 7, 400 * time.Millisecond, 900 * time.Millisecond, []int{1, 3, 5, 7}},
		{"patience does not save a job that takes longer", 500 * time.Millisecond, 4, 400 * time.Millisecond, 2 * time.Second, []int{4}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				var got shown
				latest := NewLatest(got.deliver)
				latest.Patience = test.patience
				for i := range test.jobs {
					latest.Request(sleeps(test.length, i+1))
					time.Sleep(test.every)
				}
				time.Sleep(time.Minute)
				synctest.Wait()
				latest.Stop()
				if !slices.Equal(got.values, test.want) {
					t.Errorf("delivered %v, want %v", got.values, test.want)
				}
			})
		})
	}
}

func TestLatestRunsOneJobAtATimeEvenIfItsContextIsIgnored(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var running, most atomic.Int32
		var got shown
		latest := NewLatest(got.deliver)
		for i := range 20 {
			latest.Request(func(context.Context) (int, error) {
				most.Store(max(most.Load(), running.Add(1)))
				defer running.Add(-1)
				time.Sleep(time.Second)
				return i, nil
			})
			time.Sleep(300 * time.Millisecond)
		}
		time.Sleep(time.Minute)
		synctest.Wait()
		if most.Load() != 1 {
			t.Errorf("%d jobs ran at once", most.Load())
		}
		if !slices.Equal(got.values, []int{19}) {
			t.Errorf("delivered %v, want the newest alone", got.values)
		}
		latest.Stop()
	})
}

func TestLatestStopsWithNothingDelivered(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var got shown
		latest := NewLatest(got.deliver)
		latest.Request(sleeps(time.Second, 1))
		time.Sleep(100 * time.Millisecond)
		latest.Request(sleeps(time.Second, 2))
		latest.Stop()
		time.Sleep(time.Minute)
		synctest.Wait()
		if len(got.values) != 0 {
			t.Errorf("delivered %v after Stop", got.values)
		}
		latest.Request(sleeps(time.Second, 3))
		time.Sleep(time.Minute)
		synctest.Wait()
		if !slices.Equal(got.values, []int{3}) {
			t.Errorf("delivered %v after a new request, want it", got.values)
		}
		latest.Stop()
	})
}

func TestLatestTurnsAPanicIntoAFault(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var got shown
		latest := NewLatest(got.deliver)
		latest.Request(func(context.Context) (int, error) { panic("index out of range") })
		time.Sleep(time.Second)
		latest.Request(sleeps(time.Second, 2))
		time.Sleep(time.Minute)
		synctest.Wait()
		latest.Stop()
		var fault *Fault
		if len(got.errs) != 2 || !errors.As(got.errs[0], &fault) || got.errs[1] != nil {
			t.Fatalf("delivered errors %v, want a fault and then none", got.errs)
		}
		if !strings.Contains(string(fault.Stack), "latest_test.go") {
			t.Errorf("the stack does not say where:\n%s", fault.Stack)
		}
	})
}

// Whatever the goroutines do, the last request is delivered and order is kept.
func TestLatestUnderContention(t *testing.T) {
	for range 50 {
		var got shown
		end := make(chan struct{})
		const jobs = 200
		latest := NewLatest(func(v int, err error) {
			got.deliver(v, err)
			if v == jobs {
				close(end)
			}
		})
		for i := range jobs {
			latest.Request(func(ctx context.Context) (int, error) { return i + 1, ctx.Err() })
		}
		<-end
		latest.Stop()
		for i := 1; i < len(got.values); i++ {
			if got.values[i] <= got.values[i-1] {
				t.Fatalf("delivered %d after %d", got.values[i], got.values[i-1])
			}
		}
	}
}

func TestGuardLetsErrorsThrough(t *testing.T) {
	full := errors.New("the disk is full; make room")
	if err := Guard(func() error { return full }); err != full {
		t.Errorf("got %v, want %v", err, full)
	}
	if err := Guard(func() error { return nil }); err != nil {
		t.Errorf("got %v, want none", err)
	}
}
