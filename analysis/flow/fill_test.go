package flow_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/analysis/synthetic"
	"runnel/geo/grid"
)

func TestFill(t *testing.T) {
	tests := []struct {
		name         string
		ground, want grid.Ground
	}{{
		// Worked by hand, and the same by Planchon and Darboux's draining of excess
		// water (2001).
		name: "two pits fill to the lowest gap in their rims",
		ground: grid.Parse(
			"10 10 10 10 10 10 10",
			"10  8  8  9  7  8 10",
			"10  8  3  9  4  7 10",
			"10  8  4  9  5  7 10",
			"10  8  8  9  7  8  6",
			"10 10 10 10 10 10 10"),
		want: grid.Parse(
			"10 10 10 10 10 10 10",
			"10  9  9  9  7  8 10",
			"10  9  9  9  7  7 10",
			"10  9  9  9  7  7 10",
			"10  9  9  9  7  8  6",
			"10 10 10 10 10 10 10"),
	}, {
		name:   "a bowl spills over the one low cell of its rim",
		ground: grid.Parse("5 5 5 5 5", "5 2 2 2 5", "5 2 1 2 4", "5 2 2 2 5", "5 5 5 5 5"),
		want:   grid.Parse("5 5 5 5 5", "5 4 4 4 5", "5 4 4 4 4", "5 4 4 4 5", "5 5 5 5 5"),
	}, {
		name:   "a pit beside no data drains into it",
		ground: grid.Parse("9 9 9 9 9", "9 1 2 2 9", "9 2 . 2 9", "9 2 2 2 9", "9 9 9 9 9"),
		want:   grid.Parse("9 9 9 9 9", "9 1 2 2 9", "9 2 . 2 9", "9 2 2 2 9", "9 9 9 9 9"),
	}, {
		name:   "water slips out between two cells that meet at a corner",
		ground: grid.Parse("9 9 9 9", "9 1 9 9", "9 9 3 9", "9 9 9 2"),
		want:   grid.Parse("9 9 9 9", "9 3 9 9", "9 9 3 9", "9 9 9 2"),
	}, {
		name:   "one row is all edge and fills nowhere",
		ground: grid.Parse("3 1 2 0 5"),
		want:   grid.Parse("3 1 2 0 5"),
	}, {
		name:   "one cell",
		ground: grid.Parse("7"),
		want:   grid.Parse("7"),
	}}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			before := test.ground.Clone()
			got := routed(t, test.ground).Filled
			if !sameHeights(got, test.want) {
				t.Errorf("got\n%swant\n%s", grid.Print(got), grid.Print(test.want))
			}
			if !sameHeights(test.ground, before) {
				t.Error("the ground itself was changed")
			}
		})
	}
}

func TestFillIsReconstructionByErosion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := grounds().Draw(t, "ground")
		got := routed(t, ground).Filled
		if want := reconstruct(ground); !sameHeights(got, want) {
			t.Fatalf("ground\n%sfilled\n%sreconstructed\n%s", grid.Print(ground), grid.Print(got), grid.Print(want))
		}
		if again := routed(t, got).Filled; !sameHeights(again, got) {
			t.Fatalf("filling again changed\n%sinto\n%s", grid.Print(got), grid.Print(again))
		}
		for c, z := range ground.V {
			if got.V[c] < z {
				t.Fatalf("cell %d was lowered from %g to %g", c, z, got.V[c])
			}
		}
	})
}

func TestALargerGroundFillsAsByPriorityFlood(t *testing.T) {
	surveyed := synthetic.Site(700, 500, 11)
	for name, ground := range map[string]grid.Ground{"site": surveyed, "flat": synthetic.Rounded(surveyed)} {
		if !sameHeights(routed(t, ground).Filled, flow.FillByFlood(ground)) {
			t.Errorf("%s: the filled surfaces differ", name)
		}
	}
}

func FuzzFill(f *testing.F) {
	f.Add(uint8(5), []byte("99999912199222929999"))
	f.Fuzz(func(t *testing.T, width uint8, heights []byte) {
		w := int(width%24) + 1
		h := min(len(heights)/w, 24)
		if h == 0 {
			return
		}
		ground := grid.New[float32](grid.Square(w, h, 0, 0, 1))
		ground.V[0] = -1
		for c := 1; c < len(ground.V); c++ {
			ground.V[c] = float32(heights[c])
			if heights[c] == 255 {
				ground.V[c] = grid.NoData
			}
		}
		got := routed(t, ground).Filled
		if want := reconstruct(ground); !sameHeights(got, want) {
			t.Fatalf("ground\n%sfilled\n%sreconstructed\n%s", grid.Print(ground), grid.Print(got), grid.Print(want))
		}
	})
}

func TestGroundsThatCannotBeRouted(t *testing.T) {
	unlike := grid.Parse("1 2", "3 4")
	unlike.V = unlike.V[:3]
	tests := []struct {
		name   string
		ground grid.Ground
		want   string
	}{
		{"no cells", grid.Ground{}, "needs one at least"},
		{"no heights", grid.Parse(". .", ". ."), "no cell of the ground has a height"},
		{"fewer heights than cells", unlike, "holds 3 heights"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := flow.Route(context.Background(), test.ground, flow.Options{})
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("got error %v, want one with %q", err, test.want)
			}
		})
	}
}

func TestACancelledRunStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	ground := grid.Parse("9 9 9", "9 1 9", "9 9 9")
	_, dir := route(t, ground)
	cancel()
	if _, err := flow.Route(ctx, ground, flow.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("route: got error %v", err)
	}
	if _, err := flow.Accumulate(ctx, dir, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("accumulate: got error %v", err)
	}
}
