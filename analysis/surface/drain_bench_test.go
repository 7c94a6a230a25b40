package surface

import (
	"context"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/synthetic"
	"runnel/geo/grid"
	"runnel/geo/survey"
)

// levelled returns the contours of g as short lines: the crossings of each level with
// the sides of the squares between cell centres, joined across each square.
func levelled(g grid.Ground, interval float64) survey.Survey {
	s := survey.Survey{Sources: []survey.Source{{Form: survey.Contours}}}
	for y := range g.H - 1 {
		for x := range g.W - 1 {
			corner := [4][2]int{{x, y}, {x + 1, y}, {x + 1, y + 1}, {x, y + 1}}
			low, high := math.Inf(1), math.Inf(-1)
			for _, c := range corner {
				z := float64(g.At(c[0], c[1]))
				low, high = min(low, z), max(high, z)
			}
			for z := math.Ceil(low/interval) * interval; z < high; z += interval {
				var cut orb.LineString
				for i, c := range corner {
					d := corner[(i+1)%4]
					a, b := float64(g.At(c[0], c[1])), float64(g.At(d[0], d[1]))
					if (a < z) != (b < z) {
						t, p, q := (z-a)/(b-a), g.Centre(c[0], c[1]), g.Centre(d[0], d[1])
						cut = append(cut, orb.Point{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])})
					}
				}
				if len(cut) == 2 {
					s.Lines = append(s.Lines, survey.Line{At: cut, Z: []float64{z}, Number: len(s.Lines) + 1})
				}
			}
		}
	}
	return s
}

// BenchmarkDrain drains a survey's noise, many more hollows than a surface from
// contours has.
func BenchmarkDrain(b *testing.B) {
	rough := synthetic.Site(1000, 1000, 1)
	s := levelled(rough, 0.5)
	b.ResetTimer()
	for range b.N {
		b.StopTimer()
		g := rough.Clone()
		b.StartTimer()
		sunk, stayed, err := drain(context.Background(), g, s)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(sunk), "sunk")
		b.ReportMetric(float64(stayed), "stayed")
	}
}
