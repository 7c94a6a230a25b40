package certainty_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"runnel/analysis/certainty"
	"runnel/analysis/synthetic"
	"runnel/geo/grid"
)

func TestAwkwardGroundsHaveASureShareWhereTheyHaveAHeight(t *testing.T) {
	for name, ground := range synthetic.Awkward() {
		s := certainty.Survey{Error: 0.05, Reach: 2, Draws: 4, Seed: 1, Least: 5 * ground.CellArea()}
		for i, v := range shares(t, ground, s) {
			if grid.IsNoData(v) != grid.IsNoData(ground.V[i]) || v < 0 || v > 1 {
				t.Errorf("%s: cell %d of height %g has a share of %g", name, i, ground.V[i], v)
				break
			}
		}
	}
}

func TestAnInfiniteHeightIsOneSentence(t *testing.T) {
	ground := synthetic.Site(30, 20, 1)
	ground.Set(7, 5, float32(math.Inf(1)))
	_, err := certainty.Of(context.Background(), ground, certainty.Survey{Error: 0.05, Reach: 2, Draws: 4, Least: 5}, nil)
	if err == nil || !strings.Contains(err.Error(), "column 7, row 5 is infinite") || strings.Contains(err.Error(), "\n") {
		t.Errorf("got error %v", err)
	}
}
