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

// shaped is the dragged channel with rounded and surveyed sections along it and its
// banks raised.
func shaped() *plan.Site {
	s := dragged()
	f := &s.Plan.Features[0]
	*f = f.With("bank_top", plan.Value{Number: 10.2}).With("shape", plan.Value{Text: "rounded"})
	for _, i := range []int{20, 60, 110} {
		add(s, plan.Section, f.Line()[i], "bed_width", 0.4+0.01*float64(i))
	}
	words(s, "surveyed", "-1.2 0.6; -0.5 0.05; 0 0; 0.4 0; 1.3 0.5")
	return s
}

func BenchmarkShapedChannel(b *testing.B) {
	s := shaped()
	for b.Loop() {
		n, _ := NewNetwork(s, 1)
		if _, err := n.Measure(context.Background(), Step{}); err != nil {
			b.Fatal(err)
		}
	}
}
