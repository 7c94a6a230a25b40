package pool

import (
	"math"
	"testing"

	"runnel/analysis/hydraulics"
)

func TestFlowOverOutlets(t *testing.T) {
	free := math.Inf(-1)
	for _, c := range []struct {
		what        string
		o           Outlet
		level, tail float64
		want        float64
	}{
		{"weir", Outlet{Kind: Spillway, Crest: 10, Width: 2}, 10.3, free, hydraulics.WeirFlow(2, .3)},
		{"drowned sill", Outlet{Kind: Sill, Crest: 10, Width: 2}, 10.3, 10.25, 2 * .25 * math.Sqrt(2*hydraulics.Gravity*.05)},
		{"pipe", Outlet{Kind: Pipe, Crest: 10, Diameter: .1}, 10.55, free, hydraulics.OrificeFlow(.1, .5)},
		{"below the crest", Outlet{Kind: Brim, Crest: 10, Width: 2}, 9.9, free, 0},
		{"water below higher", Outlet{Kind: Sill, Crest: 10, Width: 2}, 10.1, 10.2, 0},
		{"width not known", Outlet{Kind: Brim, Crest: 10, Width: math.NaN()}, 11, free, 0},
	} {
		if got := c.o.Flow(c.level, c.tail); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %g m³/s, want %g", c.what, got, c.want)
		}
	}
}
