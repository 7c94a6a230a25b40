package band

import (
	"context"
	"errors"
	"testing"
)

func TestEveryRowIsGivenOutOnce(t *testing.T) {
	for _, n := range []int{0, 1, rows - 1, rows, rows + 1, 10*rows + 3} {
		seen := make([]int, n)
		if err := Rows(context.Background(), n, func(lo, hi int) {
			for y := lo; y < hi; y++ {
				seen[y]++
			}
		}); err != nil {
			t.Fatal(err)
		}
		for y, times := range seen {
			if times != 1 {
				t.Fatalf("of %d rows, row %d was given out %d times", n, y, times)
			}
		}
	}
}

func TestACancelledRunStopsEarly(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	err := Rows(ctx, 1000, func(lo, hi int) { t.Errorf("rows %d to %d were worked on", lo, hi) })
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("got error %v, want the context's own", err)
	}
}
