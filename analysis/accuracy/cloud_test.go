package accuracy

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The slow twin measures the distance to every place.
func TestTheNearestPlacesAreThoseOfAPlainSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.SampledFrom([]*rapid.Generator[float64]{
			rapid.Float64Range(-50, 50), rapid.Map(rapid.IntRange(0, 4), func(i int) float64 { return float64(i) }), rapid.Just(3.0),
		}).Draw(t, "places")
		places := make([]place, rapid.IntRange(0, 300).Draw(t, "n"))
		for i := range places {
			places[i] = place{x: at.Draw(t, "x"), y: rapid.Float64Range(0, 9).Draw(t, "y"), of: int32(i / 2)}
		}
		x, y, most := at.Draw(t, "x"), rapid.Float64Range(0, 9).Draw(t, "y"), rapid.IntRange(1, 30).Draw(t, "most")
		not := int32(rapid.IntRange(-1, 20).Draw(t, "not"))
		var want []float64
		for _, p := range places {
			if p.of != not {
				want = append(want, (p.x-x)*(p.x-x)+(p.y-y)*(p.y-y))
			}
		}
		slices.SortFunc(want, cmp.Compare[float64])
		want = want[:min(len(want), most)]
		h := hunt{cloud: newCloud(places)}
		got := h.near(x, y, not, most)
		if len(got) != len(want) {
			t.Fatalf("%d places, want %d", len(got), len(want))
		}
		for i, g := range got {
			if g.square != want[i] || g.of == not || math.Hypot(g.x-x, g.y-y)-math.Sqrt(want[i]) > 1e-9 {
				t.Fatalf("place %d lies %g away, want %g", i, math.Sqrt(g.square), math.Sqrt(want[i]))
			}
		}
	})
}
