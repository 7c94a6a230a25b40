package compare

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
	"runnel/analysis/channel"
	"runnel/analysis/earthwork"
	"runnel/assets/demo"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// TestAnAccountBesideAKnownOneIsThatFromNothing holds the account of a scheme that is
// told that of the site as it is to one that works it out.
func TestAnAccountBesideAKnownOneIsThatFromNothing(t *testing.T) {
	s := demo.Site()
	asItIs, err := Measure(t.Context(), &s, plan.AsItIs, Options{})
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(r *rapid.T) {
		drawn, scheme := someone(r, s)
		beside, err := Measure(t.Context(), &drawn, scheme, Options{AsItIs: &asItIs})
		if err != nil {
			r.Fatal(err)
		}
		whole, err := Measure(t.Context(), &drawn, scheme, Options{})
		if err != nil {
			r.Fatal(err)
		}
		for _, a := range []*Account{&beside, &whole} {
			a.Proposed, a.Wet.Depth, a.Network = grid.Ground{}, grid.Ground{}, nil // which are the same by one code
		}
		// Printed they are equal where one is NaN as the other is.
		if got, want := fmt.Sprintf("%v", beside), fmt.Sprintf("%v", whole); got != want {
			r.Fatalf("beside a known account it is\n%.400s\nfrom nothing\n%.400s", got, want)
		}
	})
}

// TestTheProposedGroundIsShapedCellByCell holds the shaping along stretches to that of
// every cell.
func TestTheProposedGroundIsShapedCellByCell(t *testing.T) {
	s := demo.Site()
	rapid.Check(t, func(r *rapid.T) {
		drawn, scheme := someone(r, s)
		network, _ := channel.NewNetwork(&drawn, scheme)
		fast, err := earthwork.Shape(t.Context(), s.Ground, network)
		if err != nil {
			r.Fatal(err)
		}
		changed := 0
		for y := range s.Ground.H {
			for x := range s.Ground.W {
				z := s.Ground.At(x, y)
				want := float32(network.Shape(s.Ground.Centre(x, y), float64(z)))
				if got := fast.At(x, y); math.Float32bits(got) != math.Float32bits(want) {
					r.Fatalf("cell (%d, %d) is shaped to %v, not %v", x, y, got, want)
				}
				if want != z {
					changed++
				}
			}
		}
		if changed == 0 {
			r.Skip("nothing is dug")
		}
	})
}
