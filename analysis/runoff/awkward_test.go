package runoff

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/synthetic"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// What lies on no data or off the ground is told; the rest is a surface that
// water can be routed over.
func TestAwkwardGroundsHaveASurface(t *testing.T) {
	for name, ground := range synthetic.Awkward() {
		t.Run(name, func(t *testing.T) {
			b := &bench{t: t}
			b.Ground, b.Setting = ground, plan.UsualSetting()
			b.draw(plan.Kerb, line(25, 30, 45, 30, 45, 50, 25, 50, 25, 30), nil)
			b.draw(plan.Culvert, line(35, 33, 35, 27), nil)
			b.draw(plan.Roof, box(5, 5, 20, 15), nil)
			b.draw(plan.Downpipe, orb.Point{12, 4.5}, nil)
			b.draw(plan.Inlet, orb.Point{35.5, 40.5}, nil)
			s := b.any()
			for c, z := range ground.V {
				if grid.IsNoData(z) != grid.IsNoData(s.Ground.V[c]) {
					t.Fatalf("cell %d of height %g is at %g in the surface", c, z, s.Ground.V[c])
				}
				if w := s.Weight[c]; !grid.IsNoData(z) && (!(w >= 0) || math.IsInf(w, 0)) {
					t.Fatalf("cell %d sheds %g m a metre", c, w)
				}
			}
			route(t, s)
		})
	}
}
