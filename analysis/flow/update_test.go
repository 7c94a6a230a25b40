package flow_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/analysis/synthetic"
	"runnel/geo/grid"
)

// After any row of edits the answer is that of a Route of the ground as it is.
func TestUpdateIsRoute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := grounds().Draw(t, "ground")
		inlets := inletsOf(t, ground)
		router := flow.NewRouter(rapid.IntRange(1, 3).Draw(t, "rows"), rapid.IntRange(1, 2).Draw(t, "workers"))
		if _, err := router.Route(context.Background(), ground, flow.Options{Inlets: inlets}); err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 4).Draw(t, "edits") {
			ground = ground.Clone()
			lo := rapid.IntRange(0, ground.H-1).Draw(t, "lo")
			hi := rapid.IntRange(lo+1, min(lo+3, ground.H)).Draw(t, "hi")
			for y := lo; y < hi; y++ {
				for x := range ground.Row(y) {
					switch rapid.IntRange(0, 5).Draw(t, "edit") {
					case 0:
						ground.Set(x, y, float32(rapid.IntRange(0, 8).Draw(t, "z"))/4)
					case 1:
						ground.Set(x, y, grid.NoData)
					}
				}
			}
			if _, _, known := grid.Extent(ground); known == 0 {
				return
			}
			got, err := router.Update(context.Background(), ground, lo, hi)
			if err != nil {
				t.Fatal(err)
			}
			want, err := flow.Route(context.Background(), ground, flow.Options{Inlets: inlets})
			if err != nil {
				t.Fatal(err)
			}
			if problem := differs(got, want); problem != "" {
				t.Fatalf("%s\nground\n%s", problem, grid.Print(ground))
			}
		}
	})
}

// On a larger ground most strips, and most of the counting, are left alone.
func TestUpdateOfALargerGroundIsRoute(t *testing.T) {
	surveyed := synthetic.Site(300, 700, 5)
	for name, ground := range map[string]grid.Ground{"site": surveyed, "flat": synthetic.Rounded(surveyed)} {
		var router flow.Router
		if _, err := router.Route(context.Background(), ground, flow.Options{}); err != nil {
			t.Fatal(err)
		}
		random := rand.New(rand.NewPCG(3, 4))
		for range 12 {
			x, y := random.IntN(ground.W-3), random.IntN(ground.H-30)
			for row := y; row < y+30; row++ {
				for k := range 3 {
					ground.V[row*ground.W+x+k] -= 0.3
				}
			}
			got, err := router.Update(context.Background(), ground, y, y+30)
			if err != nil {
				t.Fatal(err)
			}
			if problem := differs(got, routed(t, ground)); problem != "" {
				t.Fatalf("%s: %s", name, problem)
			}
		}
	}
}
