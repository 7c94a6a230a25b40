package runoff

import (
	"fmt"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/synthetic"
	"runnel/geo/plan"
)

// BenchmarkOf makes the surface of a site with one thing of each kind drawn on it.
func BenchmarkOf(b *testing.B) {
	for _, side := range []int{1000, 2000} {
		b.Run(fmt.Sprintf("%dM", side*side/1_000_000), func(b *testing.B) {
			s := shaped(b, 1, 1, level)
			s.Ground = synthetic.Site(side, side, 7)
			s.draw(plan.Roof, box(300, 300, 312, 309), nil)
			s.draw(plan.Downpipe, orb.Point{312.4, 301}, nil)
			s.draw(plan.Paving, box(200, 200, 206, 500), nil)
			s.draw(plan.Kerb, line(206.5, 200, 206.5, 500), nil)
			s.draw(plan.Wall, line(350, 250, 420, 300), nil)
			s.draw(plan.Drain, line(220, 500, 230, 350, 210, 180), nil)
			s.draw(plan.Culvert, line(206, 340, 214, 340), nil)
			s.draw(plan.Inlet, orb.Point{205, 210}, nil)
			s.draw(plan.Cover, box(400, 400, 420, 430), nil)
			for b.Loop() {
				if _, err := Of(b.Context(), &s.Site, s.Ground); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
