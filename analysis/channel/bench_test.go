package channel

import (
	"context"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// dragged is what is measured again for each move of a vertex: a channel of some
// 107 m with an island.
func dragged() *plan.Site {
	s := site(90, 70, 0.25)
	add(s, plan.Channel, winding(12))
	add(s, plan.Island, orb.Polygon{circle(42.5, 35+12*math.Sin(37.5/8), 3, 60)})
	return s
}

func BenchmarkNewNetwork(b *testing.B) {
	s := dragged()
	for b.Loop() {
		NewNetwork(s, 1)
	}
}

func BenchmarkMeasure(b *testing.B) {
	n, _ := NewNetwork(dragged(), 1)
	for name, step := range map[string]Step{"usual": {}, "fine": {0.25, 0.05}} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := n.Measure(context.Background(), step); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
