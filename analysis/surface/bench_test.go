package surface

import (
	"context"
	"math"
	"testing"

	"runnel/geo/grid"
	"runnel/geo/survey"

	"github.com/paulmach/orb"
)

// wavy returns contours over 1000 by 1000 m with about so many points: lines from
// west to east that wander.
func wavy(lines, points int) (s survey.Survey) {
	for k := range lines {
		var at orb.LineString
		for i := range points {
			x := 1000 * float64(i) / float64(points-1)
			y := (float64(k)+0.5)*1000/float64(lines) + 200/float64(lines)*math.Sin(x/60+float64(k)/5)
			at = append(at, orb.Point{x, y})
		}
		s.Lines = append(s.Lines, survey.Line{At: at, Z: []float64{float64(k)}})
	}
	return s
}

func benchmarkMake(b *testing.B, s survey.Survey, tension float64) {
	f := grid.Square(1000, 1000, 0, 1000, 1)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Make(context.Background(), s, f, Options{Tension: tension, Drainage: Left}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMake2000Vertices(b *testing.B)       { benchmarkMake(b, wavy(20, 100), 0.5) }
func BenchmarkMake2000VerticesChosen(b *testing.B) { benchmarkMake(b, wavy(20, 100), -1) }
func BenchmarkMakeDense(b *testing.B)              { benchmarkMake(b, wavy(300, 1000), 0.5) }
