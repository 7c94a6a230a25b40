package sortable

import (
	"cmp"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestKeysSortAsHeightsDoAndTellThem(t *testing.T) {
	negativeZero := float32(math.Copysign(0, -1))
	heights := rapid.OneOf(rapid.Float32(), rapid.Float32Range(-2, 2),
		rapid.SampledFrom([]float32{0, negativeZero, 1e-45, -1e-45, 1e30, -1e30, float32(math.Inf(1)), float32(math.Inf(-1))}))
	rapid.Check(t, func(t *rapid.T) {
		a, b := heights.Draw(t, "a"), heights.Draw(t, "b")
		if cmp.Compare(Key(a), Key(b)) != cmp.Compare(a, b) {
			t.Fatalf("the keys of %g and %g are %d and %d", a, b, Key(a), Key(b))
		}
		if got := Height(Key(a)); got != a {
			t.Fatalf("the key of %g stands for %g", a, got)
		}
	})
}
