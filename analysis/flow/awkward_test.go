package flow_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"runnel/analysis/flow"
	"runnel/analysis/synthetic"
	"runnel/geo/grid"
)

func TestAwkwardGroundsAreRoutedAsThePlainWay(t *testing.T) {
	for name, ground := range synthetic.Awkward() {
		t.Run(name, func(t *testing.T) {
			got, err := flow.Route(context.Background(), ground, flow.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if problem := differs(got, flow.RoutePlainly(ground, nil, false)); problem != "" {
				t.Error(problem)
			}
			if !sameHeights(got.Filled, reconstruct(ground)) {
				t.Error("the filled surface is not the reconstruction by erosion")
			}
		})
	}
}

func TestAnInfiniteHeightIsOneSentence(t *testing.T) {
	plain := synthetic.Site(200, 70, 3)
	holed := plain.Clone()
	holed.Set(100, 29, grid.NoData)
	for _, ground := range []grid.Ground{plain, holed} {
		for _, at := range [][2]int{{0, 0}, {199, 69}, {1, 0}, {100, 30}, {130, 65}} {
			for _, sign := range []int{-1, 1} {
				spoiled := ground.Clone()
				spoiled.Set(at[0], at[1], float32(math.Inf(sign)))
				_, err := flow.Route(context.Background(), spoiled, flow.Options{})
				want := fmt.Sprintf("the height at column %d, row %d is infinite", at[0], at[1])
				if err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
					t.Errorf("got error %v, want one with %q", err, want)
				}
			}
		}
	}
}
