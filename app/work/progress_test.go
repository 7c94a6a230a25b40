package work

import (
	"context"
	"errors"
	"math"
	"testing"
	"testing/synctest"
	"time"
)

func TestStartThinsProgress(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var seen []Progress
		var result int
		Start(Long[int]{
			Do: func(_ context.Context, report func(Progress)) (int, error) {
				report(Progress{math.NaN(), "Opening"})
				for i := range 10_001 {
					report(Progress{float64(i) / 10_000, "Reading"})
				}
				report(Progress{7, "Reading"})
				return 42, nil
			},
			Show: func(p Progress) { seen = append(seen, p) },
			Done: func(v int, err error) { result = v },
		})
		synctest.Wait()
		if len(seen) != 102 {
			t.Errorf("shown %d times, want the opening and 0 to 100 hundredths", len(seen))
		}
		for i, p := range seen[1:] {
			if p.Fraction < 0 || p.Fraction > 1 || i > 0 && p.Fraction <= seen[i].Fraction {
				t.Errorf("fraction %g after %g", p.Fraction, seen[i].Fraction)
			}
		}
		if result != 42 {
			t.Errorf("the result is %d, want 42", result)
		}
	})
}

func TestStartCanBeCancelled(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var got error
		cancel := Start(Long[int]{
			Do: func(ctx context.Context, _ func(Progress)) (int, error) {
				<-ctx.Done()
				return 0, ctx.Err()
			},
			Done: func(_ int, err error) { got = err },
		})
		time.Sleep(time.Second)
		cancel()
		cancel()
		synctest.Wait()
		if !errors.Is(got, context.Canceled) {
			t.Errorf("ended in %v, want a cancelled context", got)
		}
	})
}

func TestStartTurnsAPanicIntoAFault(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var got error
		Start(Long[int]{
			Do:   func(context.Context, func(Progress)) (int, error) { panic("nil map") },
			Done: func(_ int, err error) { got = err },
		})
		synctest.Wait()
		if fault := (*Fault)(nil); !errors.As(got, &fault) || fault.Value != "nil map" {
			t.Errorf("ended in %v, want a fault", got)
		}
	})
}

// A goroutine that a job leaves behind may report after Done; nobody sees it.
func TestReportsAfterTheEndAreDropped(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		shown, ended := 0, false
		Start(Long[int]{
			Do: func(_ context.Context, report func(Progress)) (int, error) {
				go func() {
					time.Sleep(time.Second)
					report(Progress{0.5, "Late"})
				}()
				return 0, nil
			},
			Show: func(Progress) { shown++ },
			Done: func(int, error) { ended = true },
		})
		time.Sleep(time.Minute)
		synctest.Wait()
		if shown != 0 || !ended {
			t.Errorf("shown %d times, ended %v; want 0 and true", shown, ended)
		}
	})
}
