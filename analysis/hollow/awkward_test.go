package hollow_test

import (
	"context"
	"math"
	"testing"

	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/analysis/synthetic"
)

func TestOnAwkwardGroundsTheHollowsHoldWhatStandsBelowTheFilledSurface(t *testing.T) {
	for name, ground := range synthetic.Awkward() {
		routed, err := flow.Route(context.Background(), ground, flow.Options{})
		if err != nil {
			t.Fatal(err)
		}
		tree := grow(t, ground)
		var got, want float64
		for _, node := range tree.Worth(hollow.Threshold{}) {
			got += tree.Nodes[node].Volume
		}
		for c, z := range ground.V {
			if depth := float64(routed.Filled.V[c]) - float64(z); depth > 0 {
				want += depth * ground.CellArea()
			}
		}
		if math.Abs(got-want) > 1e-9*want {
			t.Errorf("%s: %g m³ in the hollows, %g m³ below the filled surface", name, got, want)
		}
	}
}
