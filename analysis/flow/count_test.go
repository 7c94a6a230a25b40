package flow

import (
	"math/rand/v2"
	"slices"
	"testing"

	"golang.org/x/sys/cpu"
	"pgregory.net/rapid"
)

// A part of any ways, whether water can run so or not: its words and those of its
// cells that have no inflow, by both forms of start.
func TestEveryFormOfStartAnswersTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 140).Draw(t, "w"), rapid.IntRange(1, 7).Draw(t, "h")
		stays := rapid.SampledFrom([]int{0, 1, 8, 500}).Draw(t, "stays")
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		k := count{own: margin + w, way: make([]byte, (h+2)*w+2*margin)}
		for i := range k.way {
			if d := random.IntN(8 + stays); d < 8 {
				k.way[i] = 1 << d
			}
		}
		want, got := make([]uint32, w*h), make([]uint32, w*h)
		k.going = resize(k.going, len(want)+8)
		wantGoing := slices.Clone(k.going[:k.startFrom(0, 0, want, w)])
		clear(k.going)
		gotGoing := k.start(got, w)
		if !slices.Equal(got, want) || !slices.Equal(gotGoing, wantGoing) {
			t.Fatalf("words %x of %d columns, without inflow %v; want %x, %v", got, w, gotGoing, want, wantGoing)
		}
		vectors := cpu.X86.HasAVX2 && cpu.X86.HasPOPCNT && len(want) >= 32
		if taken, _ := k.startByVectors(got, w); taken > 0 != vectors {
			t.Fatalf("vectors take %d of %d cells, and are there to use: %v", taken, len(want), vectors)
		}
	})
}
