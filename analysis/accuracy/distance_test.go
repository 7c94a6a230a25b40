package accuracy

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"runnel/geo/grid"
)

// The slow twin measures from each cell to every one that is set.
func TestDistancesAreThoseOfAPlainSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := grid.Frame{W: rapid.IntRange(1, 30).Draw(t, "w"), H: rapid.IntRange(1, 30).Draw(t, "h"),
			DX: rapid.Float64Range(0.2, 5).Draw(t, "dx"), DY: rapid.Float64Range(0.2, 5).Draw(t, "dy")}
		set := make([]bool, f.Len())
		for range rapid.IntRange(0, 12).Draw(t, "set") {
			set[rapid.IntRange(0, f.Len()-1).Draw(t, "cell")] = true
		}
		got, err := distances(context.Background(), f, set)
		if err != nil {
			t.Fatal(err)
		}
		for i, d := range got.V {
			want := math.Inf(1)
			for j, on := range set {
				if on {
					want = min(want, math.Hypot(float64(i%f.W-j%f.W)*f.DX, float64(i/f.W-j/f.W)*f.DY))
				}
			}
			if math.IsInf(want, 1) != math.IsInf(float64(d), 1) || math.Abs(float64(d)-want) > 1e-5*want {
				t.Fatalf("cell %d lies %g m away, want %g m", i, d, want)
			}
		}
	})
}

func BenchmarkDistances(b *testing.B) {
	f := grid.Square(1000, 1000, 0, 1000, 1)
	set := make([]bool, f.Len())
	for i := 0; i < len(set); i += 997 {
		set[i] = true
	}
	for b.Loop() {
		if _, err := distances(context.Background(), f, set); err != nil {
			b.Fatal(err)
		}
	}
}
